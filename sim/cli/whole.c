/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "whole.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "pailcast/base/text.h"

enum {
    WHOLE_DIGITS_MAX = 18 /* fit into 64 bits */
};

bool whole_parse(uint64_t *value, const char *text, uint64_t least, uint64_t most)
{
    const size_t digits = strspn(text, "0123456789");
    if (digits == 0 || digits > WHOLE_DIGITS_MAX || text[digits] != '\0') {
        return false;
    }
    const uint64_t found = strtoull(text, NULL, 10);
    if (found < least || found > most) {
        return false;
    }
    *value = found;
    return true;
}

bool whole_take(uint64_t *value, const char *command, const char *option,
                const char *text, uint64_t least, uint64_t most)
{
    if (whole_parse(value, text, least, most)) {
        return true;
    }
    char shown[48];
    text_copy(shown, sizeof shown, text);
    (void)fprintf(stderr,
                  "pailcast %s: %s: \"%s\" must be a whole number from %" PRIu64
                  " to %" PRIu64 "\n",
                  command, option, shown, least, most);
    return false;
}

uint64_t whole_cores(void)
{
    const long cores = sysconf(_SC_NPROCESSORS_ONLN);
    return cores > 1 ? (uint64_t)cores : 1;
}
