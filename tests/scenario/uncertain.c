/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/scenario/reader.h"
#include "support/close.h"
#include "support/scratch.h"

static const char rest[] =
    "title = \"t\"; duration = \"9 d\"; bucket = { full = \"19 L\"; };\n"
    "crop = { kind = \"none\"; }; water = { };\n"
    "strategies = ( { name = \"w\"; } );\n";

/* Reads a scenario whose fourth line is `group`; its error text is returned. */
static enum status read_with(struct scenario *scenario, struct error *error,
                             const char *group)
{
    struct scratch scratch = scratch_make();
    char text[2048];
    char path[SCRATCH_PATH_SIZE + 16];
    (void)snprintf(text, sizeof text, "%suncertain = { %s };\n", rest, group);
    scratch_write(&scratch, "s.cfg", text, false);
    (void)snprintf(path, sizeof path, "%s/s.cfg", scratch.folder);
    const enum status status = reader_scenario(scenario, path, error);
    scratch_remove(&scratch);
    return status;
}

static void spreads_arrive_in_internal_units(void **state)
{
    (void)state;
    static struct scenario s;
    struct error error = {0};
    assert_int_equal(read_with(&s, &error,
                               "light = \"17 %\"; air_temperature = \"3.6 degF\"; "
                               "visit_time = \"90 min\"; missed_visits = 0.07; pen = "
                               "\"none\"; water = { spread = \"21 %\"; shape = "
                               "\"uniform\"; };"),
                     STATUS_OK);
    assert_close(s.uncertain.spread[UNCERTAIN_LIGHT], 0.17, 1e-12, 0);
    assert_close(s.uncertain.spread[UNCERTAIN_AIR_TEMPERATURE], 2.0, 1e-12, 0);
    assert_close(s.uncertain.spread[UNCERTAIN_VISIT_TIME], 0.0625, 1e-12, 0);
    assert_close(s.uncertain.spread[UNCERTAIN_MISSED], 0.07, 1e-12, 0);
    assert_close(s.uncertain.spread[UNCERTAIN_PEN], 0, 0, 0);
    assert_close(s.uncertain.spread[UNCERTAIN_WATER], 0.21, 1e-12, 0);
    assert_int_equal(s.uncertain.shape[UNCERTAIN_WATER], UNCERTAIN_UNIFORM);
    assert_int_equal(s.uncertain.shape[UNCERTAIN_LIGHT], UNCERTAIN_LOGNORMAL);
    assert_close(s.uncertain.spread[UNCERTAIN_DOSE],
                 uncertain_table[UNCERTAIN_DOSE].spread, 0, 0);
}

static void defaults_can_be_put_aside(void **state)
{
    (void)state;
    static struct scenario s;
    struct error error = {0};
    assert_int_equal(read_with(&s, &error, "defaults = false; dose = \"4 %\";"),
                     STATUS_OK);
    for (int i = 0; i < UNCERTAIN_COUNT; i++) {
        assert_close(s.uncertain.spread[i], i == UNCERTAIN_DOSE ? 0.04 : 0, 1e-12, 0);
    }
}

static void useless_spreads_are_refused_with_their_line(void **state)
{
    (void)state;
    static const struct {
        const char *group, *says;
    } cases[] = {
        {"light = \"0 %\";", "s.cfg:4: light: a spread must be above zero"},
        {"light = \"-5 %\";", "s.cfg:4: light: \"-5 %\" is too little"},
        {"light = \"80 %\";", "s.cfg:4: light: \"80 %\" is too much"},
        {"water = { spread = \"-0.1\"; };", "spread: \"-0.1\" is too little"},
        {"air_temperature = \"3 L\";", "s.cfg:4: air_temperature: "},
        {"ligth = \"9 %\";", "did you mean \"light\""},
        {"pen = { shape = \"lognormal\"; };", "shape: pen is added"},
        {"missed_visits = { shape = \"normal\"; };", "shape: missed_visits has none"},
        {"dose = { spread = \"40 %\"; shape = \"normal\"; };", "would fall below zero"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        static struct scenario s;
        struct error error = {0};
        assert_int_equal(read_with(&s, &error, cases[i].group), STATUS_INPUT);
        if (strstr(error.text, cases[i].says) == NULL) {
            fail_msg("%s gave: %s", cases[i].group, error.text);
        }
    }
}

static void another_text_has_another_fingerprint(void **state)
{
    (void)state;
    static struct scenario a, b, c;
    struct error error = {0};
    assert_int_equal(read_with(&a, &error, "dose = \"4 %\";"), STATUS_OK);
    assert_int_equal(read_with(&b, &error, "dose = \"4.1 %\";"), STATUS_OK);
    assert_int_equal(read_with(&c, &error, "dose = \"4 %\";"), STATUS_OK);
    assert_true(a.fingerprint != b.fingerprint);
    assert_true(a.fingerprint == c.fingerprint);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spreads_arrive_in_internal_units),
        cmocka_unit_test(defaults_can_be_put_aside),
        cmocka_unit_test(useless_spreads_are_refused_with_their_line),
        cmocka_unit_test(another_text_has_another_fingerprint),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
