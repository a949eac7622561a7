/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "pailcast/scenario/date.h"

static double days_between(const char *start, const char *text)
{
    double days = NAN;
    if (!date_days(&days, start, text)) {
        print_error("\"%s\" was refused\n", text);
        fail();
    }
    return days;
}

static void days_that_exist_are_dates(void **state)
{
    (void)state;
    static const char *const dates[] = {"2026-09-01", "2028-02-29", "2000-02-29",
                                        "2026-12-31", "0000-01-01", "9999-12-31"};
    static const char *const none[] = {"",           "2026-09-31",  "2026-02-29",
                                       "1900-02-29", "2026-13-01",  "2026-00-10",
                                       "2026-09-00", "2026-9-1",    "26-09-01",
                                       "2026/09/01", "2026-09-011", "2026-09-01 ",
                                       "2026-09-1x", "2026-09"};
    for (size_t i = 0; i < sizeof dates / sizeof *dates; i++) {
        assert_true(date_is(dates[i]));
    }
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        assert_false(date_is(none[i]));
    }
}

static void a_clock_time_is_a_fraction_of_the_day(void **state)
{
    (void)state;
    assert_close(days_between("2026-09-01", "2026-09-14"), 13, 0, 0);
    assert_close(days_between("2026-09-01", "2026-09-14 18:30"), 13 + 18.5 / 24, 0, 0);
    assert_close(days_between("2026-09-01", "2026-09-14T18:30"), 13 + 18.5 / 24, 0, 0);
    assert_close(days_between("2026-09-01", "2026-09-14 18:30:27"),
                 13 + (18.5 + 27. / 3600) / 24, 0, 0);
    assert_close(days_between("2026-09-01", "2026-09-14 8:30"), 13 + 8.5 / 24, 0, 0);
    assert_close(days_between("2026-09-14", "2026-09-01 06:00"), -12.75, 0, 0);
}

static void what_is_neither_date_nor_time_is_refused(void **state)
{
    (void)state;
    static const char *const none[] = {
        "",
        "14.9.2026",
        "9/14/2026",
        "2026-02-29",
        "2026-09-14 ",
        "2026-09-14 24:00",
        "2026-09-14 18:60",
        "2026-09-14 6 pm",
        "2026-09-14 18:30:60",
        "2026-09-14 18:30:5",
        "2026-09-14 18:30:0x",
        "2026-09-14 18:30 05",
        "2026-09-14 18:30:05.5",
        "2026-09-14t18:30",
        "2026-09-1418:30",
        "2026-09-14T18:30Z",
        "2026-09-14T",
        "13",
    };
    double days = 7.25;
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        if (date_days(&days, "2026-09-01", none[i])) {
            print_error("\"%s\" was taken for a date\n", none[i]);
            fail();
        }
        assert_close(days, 7.25, 0, 0);
    }
}

/* 400 years, a whole round of the calendar. */
static void days_follow_one_another_as_in_the_library_of_c(void **state)
{
    (void)state;
    for (int number = 0; number < 146097; number++) {
        struct tm date = {.tm_year = 101, .tm_mday = 1 + number, .tm_hour = 12};
        char text[64];
        assert_true(mktime(&date) != (time_t)-1);
        (void)snprintf(text, sizeof text, "%04d-%02d-%02d", date.tm_year + 1900,
                       date.tm_mon + 1, date.tm_mday);
        assert_close(days_between("2001-01-01", text), number, 0, 0);
        const struct date day = date_after("2001-01-01", number);
        assert_string_equal(day.iso, text);
        (void)strftime(text, sizeof text, "%a", &date);
        assert_string_equal(day.weekday, text);
    }
}

/* Years have four digits, and where somebody is does not move a day. */
static void early_years_and_zones_move_no_day(void **state)
{
    (void)state;
    assert_string_equal(date_after("0999-12-30", 3).iso, "1000-01-02");
    assert_string_equal(date_after("0001-01-01", 3).iso, "0001-01-04");
    const char *zone = getenv("TZ");
    char before[64];
    (void)snprintf(before, sizeof before, "%s", zone != NULL ? zone : "");
    assert_int_equal(setenv("TZ", "Pacific/Apia", 1), 0); /* left out 2011-12-30 */
    const struct date day = date_after("2011-12-20", 10);
    assert_string_equal(day.iso, "2011-12-30");
    assert_string_equal(day.weekday, "Fri");
    assert_int_equal(zone != NULL ? setenv("TZ", before, 1) : unsetenv("TZ"), 0);
}

static void what_was_meant_for_a_date_is_told_from_numbers(void **state)
{
    (void)state;
    static const char *const meant[] = {"2026-09-14", "2026-02-30", "9/14/2026",
                                        "14.9.2026",  "26-9",       "2026-07-01 18:30"};
    static const char *const not [] = {"",        "12",   "12.5", "12.5 d", "-3",
                                       "1 1/2 d", "60 d", "1e-3", ".5.",    "may",
                                       "1 - 2",   "7.",   "1/2",  "3/2"};
    for (size_t i = 0; i < sizeof meant / sizeof *meant; i++) {
        assert_true(date_is_meant(meant[i]));
    }
    for (size_t i = 0; i < sizeof not / sizeof *not ; i++) {
        assert_false(date_is_meant(not [i]));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_that_exist_are_dates),
        cmocka_unit_test(a_clock_time_is_a_fraction_of_the_day),
        cmocka_unit_test(what_is_neither_date_nor_time_is_refused),
        cmocka_unit_test(what_was_meant_for_a_date_is_told_from_numbers),
        cmocka_unit_test(days_follow_one_another_as_in_the_library_of_c),
        cmocka_unit_test(early_years_and_zones_move_no_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
