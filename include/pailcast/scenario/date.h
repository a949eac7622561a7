/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days of the calendar as ISO 8601 writes them. */
#ifndef PAILCAST_SCENARIO_DATE_H
#define PAILCAST_SCENARIO_DATE_H

#include <stdbool.h>

/* Whether text is year-month-day of a day that exists, "2026-09-01". */
bool date_is(const char *text);

/* Days from 00:00 of start, which date_is, to text: a date, or a date and a clock time
 * behind a blank or T, "2026-09-14", "2026-09-14 18:30", "2026-09-14T18:30:05". Negative
 * before it. False where text is none of these. */
bool date_days(double *days, const char *start, const char *text);

#endif
