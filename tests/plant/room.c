/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/plant/room.h"

static const struct room lamp_from_six = {
    .given = true, .lamp_hours = 14, .lamp_on_h = 6};
static const struct room lamp_over_midnight = {
    .given = true, .lamp_hours = 16.5, .lamp_on_h = 17.25};

static void lamp_is_on_between_its_hours(void **state)
{
    (void)state;
    assert_false(room_lamp_on(&lamp_from_six, 3 + 5.99 / 24));
    assert_true(room_lamp_on(&lamp_from_six, 3 + 6.0 / 24));
    assert_true(room_lamp_on(&lamp_from_six, 3 + 19.99 / 24));
    assert_false(room_lamp_on(&lamp_from_six, 3 + 20.0 / 24));
}

static void a_night_lamp_runs_over_midnight(void **state)
{
    (void)state;
    assert_true(room_lamp_on(&lamp_over_midnight, 0));
    assert_true(room_lamp_on(&lamp_over_midnight, 9.74 / 24));
    assert_false(room_lamp_on(&lamp_over_midnight, 9.76 / 24));
    assert_true(room_lamp_on(&lamp_over_midnight, 17.25 / 24));
}

static void switches_follow_one_another_and_never_repeat(void **state)
{
    (void)state;
    double day = 0;
    int switches = 0;
    while (day < 730) {
        const double next = room_next_switch(&lamp_over_midnight, day);
        assert_true(next > day);
        assert_int_equal(room_lamp_on(&lamp_over_midnight, next),
                         !room_lamp_on(&lamp_over_midnight, day));
        day = next;
        switches++;
    }
    assert_int_equal(switches, 2 * 730 + 1);
}

static void a_lamp_that_never_changes_has_no_switch(void **state)
{
    (void)state;
    const struct room always = {.given = true, .lamp_hours = 24};
    const struct room never = {.given = true, .lamp_hours = 0};
    assert_true(isinf(room_next_switch(&always, 4.2)));
    assert_true(isinf(room_next_switch(&never, 4.2)));
    assert_true(room_lamp_on(&always, 4.2));
    assert_false(room_lamp_on(&never, 4.2));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lamp_is_on_between_its_hours),
        cmocka_unit_test(a_night_lamp_runs_over_midnight),
        cmocka_unit_test(switches_follow_one_another_and_never_repeat),
        cmocka_unit_test(a_lamp_that_never_changes_has_no_switch),
    };
    return cmocka_run_group_tests_name("room", tests, NULL, NULL);
}
