/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/date.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/scenario/quantity.h"

enum {
    DATE_LENGTH = 10,
    DATE_YEAR_LENGTH = 4
};

static bool date_is_leap(long year)
{
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static long date_month_days(long year, long month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[month - 1] + (month == 2 && date_is_leap(year) ? 1 : 0);
}

/* Days since 0000-01-01 of the year-month-day text begins with; false where that is no
 * day of the Gregorian calendar. */
static bool date_number(long *number, const char *text)
{
    for (size_t i = 0; i < DATE_LENGTH; i++) {
        const bool dash = i == 4 || i == 7;
        if (dash ? text[i] != '-' : !isdigit((unsigned char)text[i])) {
            return false;
        }
    }
    const long year = strtol(text, NULL, 10);
    const long month = strtol(text + 5, NULL, 10);
    const long day = strtol(text + 8, NULL, 10);
    if (month < 1 || month > 12 || day < 1 || day > date_month_days(year, month)) {
        return false;
    }
    /* Leap years before this one, the year 0 among them. */
    const long leaps = (year + 3) / 4 - (year + 99) / 100 + (year + 399) / 400;
    *number = 365 * year + leaps + day - 1;
    for (long before = 1; before < month; before++) {
        *number += date_month_days(year, before);
    }
    return true;
}

bool date_is_meant(const char *text)
{
    static const char digits[] = "0123456789";
    const size_t first = strspn(text, digits);
    if (first > 0 && text[first] == '.') {
        const size_t second = strspn(text + first + 1, digits);
        return second > 0 && text[first + 1 + second] == '.';
    }
    const char *rest = text + first;
    const bool slashed =
        *rest == '/' && (first >= DATE_YEAR_LENGTH || strchr(rest + 1, '/') != NULL);
    return first > 0 && (*rest == '-' || slashed);
}

bool date_is(const char *text)
{
    long number;
    return date_number(&number, text) && text[DATE_LENGTH] == '\0';
}

/* Hours of "18:30" or "18:30:05"; false where it is neither. */
static bool date_clock(double *hours, const char *text)
{
    enum {
        MINUTES_LENGTH = 5
    };
    char minutes[MINUTES_LENGTH + 1];
    double second = 0;
    if (strlen(text) == MINUTES_LENGTH + 3) {
        const char *seconds = text + MINUTES_LENGTH + 1;
        if (seconds[-1] != ':' || !isdigit((unsigned char)seconds[0]) ||
            !isdigit((unsigned char)seconds[1]) || seconds[0] > '5') {
            return false;
        }
        second = strtod(seconds, NULL);
    } else if (strlen(text) > MINUTES_LENGTH) {
        return false;
    }
    (void)snprintf(minutes, sizeof minutes, "%s", text);
    if (quantity_parse(hours, minutes, QUANTITY_CLOCK, NULL, NULL) != STATUS_OK) {
        return false;
    }
    *hours += second / 3600;
    return true;
}

bool date_days(double *days, const char *start, const char *text)
{
    long from;
    long to;
    double hours = 0;
    if (!date_number(&from, start) || !date_number(&to, text)) {
        return false;
    }
    const char *clock = text + DATE_LENGTH;
    if (*clock != '\0' &&
        (strchr(" T", *clock) == NULL || !date_clock(&hours, clock + 1))) {
        return false;
    }
    *days = (double)(to - from) + hours / 24;
    return true;
}

struct date date_after(const char *start, long days)
{
    /* 0000-01-01 was a Saturday, as 2000-01-01, five times 400 years later. */
    static const char names[][4] = {"Sat", "Sun", "Mon", "Tue", "Wed", "Thu", "Fri"};
    struct date date;
    long left = 0;
    (void)date_number(&left, start);
    left += days;
    (void)snprintf(date.weekday, sizeof date.weekday, "%s", names[left % 7]);
    static const long cycle = 146097; /* days of 400 years */
    long year = left / cycle * 400;
    long length;
    left %= cycle;
    while (left >= (length = date_is_leap(year) ? 366 : 365)) {
        left -= length;
        year++;
    }
    long month = 1;
    while (left >= (length = date_month_days(year, month))) {
        left -= length;
        month++;
    }
    (void)snprintf(date.iso, sizeof date.iso, "%04d-%02d-%02d", (int)(year % 100000),
                   (int)(month % 100), (int)((left + 1) % 100));
    return date;
}
