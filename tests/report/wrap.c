/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <stdio.h>
#include <string.h>

#include "../../sim/report/wrap.h"

enum {
    TEXT_SIZE = 4096
};

static char wrapped[TEXT_SIZE];

static void wrap(const char *text, int indent)
{
    FILE *out = tmpfile();
    assert_non_null(out);
    wrap_line(out, text, indent);
    rewind(out);
    wrapped[fread(wrapped, 1, sizeof wrapped - 1, out)] = '\0';
    (void)fclose(out);
}

/* A number in place of every word, beginning anywhere in the line. */
static void a_number_is_never_parted_from_its_unit(void **state)
{
    (void)state;
    for (int before = 60; before < WRAP_COLUMNS + 5; before++) {
        char text[TEXT_SIZE];
        (void)snprintf(
            text, sizeof text, "%.*s 12.5 mS/cm and 5 %% of it", before,
            "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"
            "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx");
        wrap(text, 4);
        assert_non_null(strstr(wrapped, "12.5 mS/cm"));
        assert_non_null(strstr(wrapped, "5 %"));
        for (const char *line = wrapped; *line != '\0'; line = strchr(line, '\n') + 1) {
            const size_t length = strcspn(line, "\n");
            assert_true(length <= WRAP_COLUMNS || length == (size_t)before + 4);
            assert_true(strspn(line, " ") == 4);
        }
    }
}

static void blanks_at_the_end_and_after_a_number_end_the_text(void **state)
{
    (void)state;
    wrap("until day 7 ", 0);
    assert_string_equal(wrapped, "until day 7\n");
    wrap("", 2);
    assert_string_equal(wrapped, "  \n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_number_is_never_parted_from_its_unit),
        cmocka_unit_test(blanks_at_the_end_and_after_a_number_end_the_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
