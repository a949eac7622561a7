/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <string.h>

#include "../../sim/scenario/slip.h"

struct slip {
    const char *text;
    const char *wanted; /* the message begins so */
};

static void expect(const struct slip *slip)
{
    char words[SLIP_SIZE];
    slip_words(words, NULL, slip->text, 1);
    if (strncmp(words, slip->wanted, strlen(slip->wanted)) != 0) {
        fail_msg("%s: %s", slip->text, words);
    }
}

static void a_value_without_its_quotes_is_shown_with_them(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {"full = 19 L;", "this stands in quotes: \"19 L\""},
        {"fan = yes;", "write true or false, not yes"},
        {"fill = water;", "this stands in quotes: \"water\""},
        {"start_stock_share = 0.5 b = 3 d", "this stands in quotes: \"3 d\""},
        {"{ on = true; off = FALSE; full = \"a = b\"; start = 5 gal }",
         "this stands in quotes: \"5 gal\""},
        {"name = \"it \\\"reads = so\\\"\"; share = 1.5 %;",
         "this stands in quotes: \"1.5 %\""},
    };
    for (size_t i = 0; i < sizeof slips / sizeof *slips; i++) {
        expect(&slips[i]);
    }
}

static void a_group_right_after_a_group_lacks_a_comma(void **state)
{
    (void)state;
    char words[SLIP_SIZE];
    expect(&(struct slip){"( { fill = \"stock\"; } { fill = \"mix\"; } );",
                          "a comma is missing before this {"});
    slip_words(words, NULL, "s = (\n { a = 1; }\n\n  { b = 2; }\n);\n", 4);
    assert_string_equal(words, "a comma is missing before this {; entries of a list read "
                               "{ ... }, { ... }; near: { b = 2; }");
}

static void a_comma_too_many_is_named_with_what_follows_it(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {"( { a = 1; }, );",
         "a comma stands before this ); leave it out, none follows the last entry"},
        {"b = { full = \"5 gal\";, };",
         "a comma stands before this }; leave it out, none follows the last key"},
        {"k = [1, 2, # three, ]\n];", "a comma stands before this ]"},
        {"( { a = 1; },, { b = 2; } );", "two commas stand here; write one"},
    };
    for (size_t i = 0; i < sizeof slips / sizeof *slips; i++) {
        char words[SLIP_SIZE];
        slip_words(words, NULL, slips[i].text, strchr(slips[i].text, '\n') ? 2 : 1);
        assert_memory_equal(words, slips[i].wanted, strlen(slips[i].wanted));
    }
}

static void a_bracket_of_the_wrong_kind_is_named_with_what_it_meets(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {"bucket = { full = \"5 gal\"; );",
         "this ) does not close \"bucket = {\"; write } in its place, or before it"},
        {"strategies = ( { a = \"(\"; } /* ) */ };",
         "this } does not close \"strategies = (\"; write ) in its place, or before it"},
        {"( { a = 1; b = 2; ) );", "this ) does not close \"{ a = 1\"; write }"},
        {"k = [1, 2};", "this } does not close \"k = [\"; write ] in its place"},
    };
    for (size_t i = 0; i < sizeof slips / sizeof *slips; i++) {
        expect(&slips[i]);
    }
    char words[SLIP_SIZE];
    slip_words(words, NULL, "room = {\n# }\n  fan = true;\n);", 4);
    assert_string_equal(words,
                        "this ) does not close \"room = {\"; write } in its place, "
                        "or before it; near: );");
    slip_words(words, NULL, "room = { );\na = = 3;", 2);
    assert_memory_equal(words, "this is not understood", 22);
}

struct unclosed {
    const char *text;
    int parsed; /* line where the parser gave up */
    int line;   /* of the mistake */
    const char *wanted;
};

static void expect_lines(const struct unclosed *slips, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char words[SLIP_SIZE];
        const int line = slip_words(words, NULL, slips[i].text, slips[i].parsed);
        if (strncmp(words, slips[i].wanted, strlen(slips[i].wanted)) != 0 ||
            line != slips[i].line) {
            fail_msg("%s: line %d: %s", slips[i].text, line, words);
        }
    }
}

static void a_bracket_never_closed_is_named_on_the_line_that_opens_it(void **state)
{
    (void)state;
    static const struct unclosed slips[] = {
        {"# pond\nbucket = { full = \"5 gal\";\nroom = { fan = true; };\n# end }\n", 5, 2,
         "\"bucket = {\" is never closed; write } where it ends; near: bucket = {"},
        {"a = 1;\ns = (\n{ b = 2; }\n", 4, 2,
         "\"s = (\" is never closed; write ) where it ends; near: s = ("},
        {"s = ( { a = 1; }\nlimits = { na = 3; };\n", 2, 1,
         "\"s = (\" is never closed; write )"},
        {"s = ( { a = 1; };\nlimits = { na = 3; };\n", 1, 1,
         "\"s = (\" is never closed; write )"},
        {"k = [1, 2\nb = 3;\n", 2, 1, "\"k = [\" is never closed; write ]"},
        {"k = [1, 2;\n", 1, 1, "\"k = [\" is never closed; write ]"},
        {"s = (\n{ a = 1;\n{ b = 2; } );\n", 3, 2,
         "\"{ a = 1\" is never closed; write } where it ends; near: { a = 1;"},
        {"s = (\n{ a = { c = 1; }\n,\n{ b = 2; } );\n", 4, 2,
         "\"{ a =\" is never closed; write }"},
    };
    expect_lines(slips, sizeof slips / sizeof *slips);
}

static void a_list_written_as_a_group_is_told_to_be_a_list(void **state)
{
    (void)state;
    static const struct unclosed slips[] = {
        {"a = 1;\nstrategies = {\n  { name = \"a\"; }\n);\n", 3, 2,
         "\"strategies = {\" holds a list; write ( in place of its {, and ) where it "
         "ends; near: strategies = {"},
        {"s = [ { a = 1; } ];\n", 1, 1, "\"s = [\" holds a list; write ("},
        {"s = ( a = 1; );\n", 1, 1, "a { is missing behind this (; entries of a list"},
        {"s = ( { a = 1; }; { b = 2; } );\n", 1, 1,
         "a ; stands between entries of a list; write a comma"},
    };
    expect_lines(slips, sizeof slips / sizeof *slips);
}

static void so_many_open_brackets_are_not_counted(void **state)
{
    (void)state;
    char text[128] = "";
    memset(text, '(', 100);
    text[100] = '}';
    expect(&(struct slip){text, "this is not understood"});
}

/* Where nothing more is sure the rule is told, and nothing is guessed. */
static void what_is_not_sure_is_not_guessed(void **state)
{
    (void)state;
    static const char rule[] = "this is not understood; each line reads key = value;";
    static const char *const texts[] = {"limits = na = \"6 mmol/L\"; };",
                                        "stock { };",
                                        "a = = 3;",
                                        "b = };",
                                        "= = =",
                                        "c = \"never closed",
                                        "d = 0.5; } );",
                                        "e = 3e5",
                                        "# full = 19 L",
                                        "b = { a = = 3;",
                                        "b = { a = 1; { c = 2; } };",
                                        "s = ( { { a = 1; } } );",
                                        ""};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        expect(&(struct slip){texts[i], rule});
    }
}

static void a_long_line_is_cut_and_one_beyond_the_end_not_shown(void **state)
{
    (void)state;
    char text[4096], words[SLIP_SIZE];
    memset(text, 'x', sizeof text);
    text[sizeof text - 1] = '\0';
    slip_words(words, NULL, text, 1);
    assert_non_null(strstr(words, "; near: xxx"));
    assert_true(strlen(words) < SLIP_SIZE - 1);
    slip_words(words, NULL, "a = 1;\n", 7);
    assert_null(strstr(words, "near"));
}

static void words_of_the_parser_come_first(void **state)
{
    (void)state;
    char words[SLIP_SIZE];
    slip_words(words, "duplicate setting name", "full = 19 L;", 1);
    assert_non_null(strstr(words, "for the second time"));
    slip_words(words, "mismatched element type in array", "a = [1, 0.5];", 1);
    assert_non_null(strstr(words, "beside 0.5 write 1.0, not 1; near: a = [1, 0.5];"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_value_without_its_quotes_is_shown_with_them),
        cmocka_unit_test(a_group_right_after_a_group_lacks_a_comma),
        cmocka_unit_test(a_comma_too_many_is_named_with_what_follows_it),
        cmocka_unit_test(a_bracket_of_the_wrong_kind_is_named_with_what_it_meets),
        cmocka_unit_test(a_bracket_never_closed_is_named_on_the_line_that_opens_it),
        cmocka_unit_test(a_list_written_as_a_group_is_told_to_be_a_list),
        cmocka_unit_test(so_many_open_brackets_are_not_counted),
        cmocka_unit_test(what_is_not_sure_is_not_guessed),
        cmocka_unit_test(a_long_line_is_cut_and_one_beyond_the_end_not_shown),
        cmocka_unit_test(words_of_the_parser_come_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
