/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "when.h"

#include <math.h>
#include <stdio.h>

#include "measured.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/date.h"
#include "pailcast/scenario/display.h"

enum {
    WHEN_SHOWN_SIZE = 48
};

struct when when_none(void)
{
    return (struct when){.day_d = NAN};
}

bool when_given(const struct when *when)
{
    return when->date != NULL || !isnan(when->day_d);
}

bool when_take(struct when *when, const char *command, const char *option,
               const char *text)
{
    double days;
    if (!date_is_meant(text)) {
        *when = when_none();
        return measured_parse(&when->day_d, command, option, text, QUANTITY_NUMBER, NULL);
    }
    if (!date_days(&days, text, text)) {
        char shown[WHEN_SHOWN_SIZE];
        text_copy(shown, sizeof shown, text);
        (void)fprintf(stderr,
                      "pailcast %s: %s: \"%s\" is no date; write year-month-day and "
                      "perhaps the time, such as 2026-09-14 or \"2026-09-14 18:30\"\n",
                      command, option, shown);
        return false;
    }
    *when = (struct when){.day_d = NAN, .date = text};
    return true;
}

enum status when_count(struct when *when, const char *command, const char *option,
                       const struct scenario *scenario, struct error *error)
{
    const double end_d = scenario->duration_d;
    if (when->date == NULL) {
        return STATUS_OK;
    }
    if (!date_days(&when->day_d, scenario->start, when->date)) {
        return status_error(error, STATUS_INPUT,
                            "pailcast %s: %s: the scenario has no start to count %s "
                            "from; give it the date of the first filling, such as start "
                            "= \"2026-09-01\", or give a number of days",
                            command, option, when->date);
    }
    if (when->day_d < 0) {
        return status_error(error, STATUS_INPUT,
                            "pailcast %s: %s: %s is before the scenario's start, %s",
                            command, option, when->date, scenario->start);
    }
    if (when->day_d > end_d) {
        return status_error(error, STATUS_INPUT,
                            "pailcast %s: %s: %s is after the scenario's end, day %s",
                            command, option, when->date,
                            display_day_text(scenario, end_d, 2).text);
    }
    return STATUS_OK;
}
