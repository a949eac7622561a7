/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days of the calendar as ISO 8601 writes them. */
#ifndef PAILCAST_SCENARIO_DATE_H
#define PAILCAST_SCENARIO_DATE_H

#include <stdbool.h>

/* Whether somebody meant a date, rightly written or not: digits with a dash behind them,
 * two slashes, two dots, or a slash behind four digits; 1/2 is a fraction. */
bool date_is_meant(const char *text);

/* Whether text is year-month-day of a day that exists, "2026-09-01". */
bool date_is(const char *text);

/* Days from 00:00 of start, which date_is, to text: a date, or a date and a clock time
 * behind a blank or T, "2026-09-14", "2026-09-14 18:30", "2026-09-14T18:30:05". Negative
 * before it. False where text is none of these. */
bool date_days(double *days, const char *start, const char *text);

struct date {
    char weekday[4]; /* "Tue" */
    char iso[16];    /* "2026-11-03" */
};

/* The day so many days after start, which date_is, within the years 0 to 10009. */
struct date date_after(const char *start, long days);

#endif
