/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <string.h>

#include "pailcast/base/status.h"

static void every_code_has_a_sentence_of_its_own(void **state)
{
    (void)state;
    for (int i = 0; i < STATUS_COUNT; i++) {
        assert_non_null(status_sentence((enum status)i));
        assert_true(strlen(status_sentence((enum status)i)) > 0);
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(status_sentence((enum status)i),
                                    status_sentence((enum status)j));
        }
    }
}

static void only_ok_ends_in_0_and_only_bad_input_in_2(void **state)
{
    (void)state;
    for (int i = 0; i < STATUS_COUNT; i++) {
        int expected = i == STATUS_OK ? 0 : i == STATUS_INPUT ? 2 : 1;
        assert_int_equal(status_exit_code((enum status)i), expected);
    }
}

static void an_error_returns_its_code_and_keeps_its_lines_in_order(void **state)
{
    (void)state;
    struct error error = {0};
    assert_int_equal(status_error(&error, STATUS_INPUT, "pot.cfg:%d: no unit", 37),
                     STATUS_INPUT);
    assert_int_equal(status_error(&error, STATUS_FILE, "cannot read %s", "well.cfg"),
                     STATUS_FILE);
    assert_string_equal(error.text, "pot.cfg:37: no unit\ncannot read well.cfg");
    assert_int_equal(error.count, 2);
}

static void an_error_without_a_place_to_go_still_returns_its_code(void **state)
{
    (void)state;
    assert_int_equal(status_error(NULL, STATUS_SOLVER, "day %g", 2.385), STATUS_SOLVER);
}

static void control_characters_of_a_stranger_do_not_reach_the_terminal(void **state)
{
    (void)state;
    struct error error = {0};
    (void)status_error(&error, STATUS_INPUT, "key \"%s\"", "\033[2Jr\ne\x7fw\rn\x07");
    assert_string_equal(error.text, "key \"?[2Jr?e?w?n?\"");
    assert_int_equal(error.count, 1);
}

/* U+009B begins an escape sequence on its own. */
static void the_controls_above_ascii_do_not_either(void **state)
{
    (void)state;
    struct error error = {0};
    (void)status_error(&error, STATUS_INPUT, "key %s",
                       "a\xc2\x9b"
                       "31mb");
    assert_null(strchr(error.text, '\x9b'));
    assert_non_null(strstr(error.text, "31mb"));
}

static void letters_above_ascii_stay(void **state)
{
    (void)state;
    struct error error = {0};
    (void)status_error(&error, STATUS_INPUT, "°C in Küche €");
    assert_string_equal(error.text, "°C in Küche €");
}

static void lines_past_the_room_are_dropped_whole_but_counted(void **state)
{
    (void)state;
    struct error error = {0};
    for (int i = 0; i < 1000; i++) {
        (void)status_error(&error, STATUS_INPUT, "pot.cfg:%03d: key unknown", i);
    }
    assert_int_equal(error.count, 1000);
    assert_true(strlen(error.text) < sizeof error.text);
    const char *last = strrchr(error.text, '\n') + 1;
    assert_int_equal(strlen(last), strlen("pot.cfg:000: key unknown"));
}

static void a_line_far_too_long_is_cut_and_ends_whole(void **state)
{
    (void)state;
    struct error error = {0};
    char name[3000];
    /* three bytes a character, so that a blind cut would fall inside one */
    for (size_t i = 0; i + 3 < sizeof name; i += 3) {
        memcpy(name + i, "€", 3);
    }
    name[2997] = '\0';
    (void)status_error(&error, STATUS_INPUT, "x %s", name);
    size_t length = strlen(error.text);
    assert_in_range(length, 500, sizeof error.text - 1);
    const char *end = error.text + length;
    assert_true(memcmp(end - 3, "€", 3) == 0 || end[-1] == '?');
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_has_a_sentence_of_its_own),
        cmocka_unit_test(only_ok_ends_in_0_and_only_bad_input_in_2),
        cmocka_unit_test(an_error_returns_its_code_and_keeps_its_lines_in_order),
        cmocka_unit_test(an_error_without_a_place_to_go_still_returns_its_code),
        cmocka_unit_test(control_characters_of_a_stranger_do_not_reach_the_terminal),
        cmocka_unit_test(the_controls_above_ascii_do_not_either),
        cmocka_unit_test(letters_above_ascii_stay),
        cmocka_unit_test(lines_past_the_room_are_dropped_whole_but_counted),
        cmocka_unit_test(a_line_far_too_long_is_cut_and_ends_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
