/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measured.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

bool measured_parse(double *value, const char *command, const char *option,
                    const char *text, enum quantity quantity,
                    const struct quantity_aid *aid)
{
    struct error error = {0};
    if (quantity_parse(value, text, quantity, aid, &error) != STATUS_OK) {
        (void)fprintf(stderr, "pailcast %s: %s: %s\n", command, option, error.text);
        return false;
    }
    return true;
}

bool measured_within(double value, const char *command, const char *option,
                     enum quantity quantity, double low, double high)
{
    if (value >= low && value <= high) {
        return true;
    }
    char range[QUANTITY_RANGE_SIZE];
    quantity_range(range, low, high, quantity);
    (void)fprintf(stderr, "pailcast %s: %s: must be %s\n", command, option, range);
    return false;
}

bool measured_take(double *value, const char *command, const char *option,
                   const char *text, enum quantity quantity,
                   const struct quantity_aid *aid, double low, double high)
{
    double parsed = NAN;
    if (!measured_parse(&parsed, command, option, text, quantity, aid) ||
        !measured_within(parsed, command, option, quantity, low, high)) {
        return false;
    }
    *value = parsed;
    return true;
}

bool measured_in_inches(const char *text)
{
    return strstr(text, "in") != NULL || strstr(text, "ft") != NULL ||
           strstr(text, "foot") != NULL || strstr(text, "feet") != NULL;
}

bool measured_in_gallons(const char *text)
{
    static const char *const words[] = {"gal", "qt", "quart", "pt", "pint", "cup", "oz"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        if (strstr(text, words[i]) != NULL) {
            return true;
        }
    }
    return false;
}
