/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <csv.h>

#include "pailcast/base/text.h"

enum {
    WRITTEN_SIZE = 512
};

/* What a writer wrote, into text[WRITTEN_SIZE]. */
static void written(char text[], void (*write)(FILE *, const char *), const char *from)
{
    FILE *out = tmpfile();
    assert_non_null(out);
    write(out, from);
    rewind(out);
    size_t length = fread(text, 1, WRITTEN_SIZE - 1, out);
    text[length] = '\0';
    (void)fclose(out);
}

static void assert_copied(const char *from, size_t size, const char *expected)
{
    char to[64];
    memset(to, 'x', sizeof to);
    text_copy(to, size, from);
    assert_string_equal(to, expected);
    assert_int_equal(to[size], 'x');
}

static void a_copy_is_cut_at_a_whole_character(void **state)
{
    (void)state;
    assert_copied("Fässer", 32, "Fässer");
    assert_copied("Fässer", 4, "Fä");
    assert_copied("Fässer", 3, "F");
    assert_copied("4 €", 5, "4 ");
    assert_copied("4 €", 6, "4 €");
    assert_copied("🌱", 4, "");
    assert_copied("🌱", 5, "🌱");
    assert_copied("salt", 1, "");
}

/* RFC 3629, sections 3 and 4: one case for each way of being wrong. */
static void a_copy_holds_no_byte_that_is_not_utf8(void **state)
{
    (void)state;
    assert_copied("a\x80z", 32, "a?z");                /* follows nothing */
    assert_copied("a\xc3z", 32, "a?z");                /* not followed */
    assert_copied("a\xc3", 32, "a?");                  /* cut off */
    assert_copied("a\xc0\xafz", 32, "a??z");           /* overlong "/" */
    assert_copied("a\xe0\x80\xafz", 32, "a???z");      /* overlong "/" */
    assert_copied("a\xf0\x80\x80\xafz", 32, "a????z"); /* overlong "/" */
    assert_copied("a\xed\xa0\x80z", 32, "a???z");      /* half of a pair */
    assert_copied("a\xf4\x90\x80\x80z", 32, "a????z"); /* past U+10FFFF */
    assert_copied("a\xff\xfez", 32, "a??z");           /* never used */
    assert_copied("\xed\x9f\xbf\xee\x80\x80", 32, "\xed\x9f\xbf\xee\x80\x80");
    assert_copied("\xf4\x8f\xbf\xbf", 32, "\xf4\x8f\xbf\xbf"); /* U+10FFFF itself */
}

/* XML 1.0, production 2: all but these two of what UTF-8 can say from U+E000 on. */
static void a_copy_holds_no_character_that_xml_cannot(void **state)
{
    (void)state;
    assert_copied("a\xef\xbf\xbez\xef\xbf\xbfz", 32, "a???z???z");
    assert_copied("\xef\xbf\xbd", 32, "\xef\xbf\xbd");
}

static void a_copy_holds_no_control_character(void **state)
{
    (void)state;
    assert_copied("a\tb\nc\033[2Jd\x7f", 32, "a?b?c?[2Jd?");
    assert_copied("a\xc2\x9bz", 32, "a??z"); /* U+009B */
    assert_copied("a\xc2\xa0z", 32, "a\xc2\xa0z");
}

static void assert_slug(const char *name, const char *expected)
{
    char slug[TEXT_NAME_SIZE];
    text_slug(slug, sizeof slug, name);
    assert_string_equal(slug, expected);
}

static void a_slug_is_lower_case_words_and_single_hyphens(void **state)
{
    (void)state;
    assert_slug("Water only, monthly renewal", "water-only-monthly-renewal");
    assert_slug("  EC 1.9 -- (half) ", "ec-1-9-half");
    assert_slug("Kübel", "k-bel");
}

static void a_slug_cannot_leave_its_folder_or_hide(void **state)
{
    (void)state;
    assert_slug("../../etc/passwd", "etc-passwd");
    assert_slug(".hidden", "hidden");
    assert_slug("-rf", "rf");
    assert_slug("a`b`$(c)\n", "a-b-c");
}

static void a_name_without_a_letter_still_has_a_slug(void **state)
{
    (void)state;
    assert_slug("", "strategy");
    assert_slug("../..", "strategy");
    assert_slug("水", "strategy");
}

static void a_long_slug_is_cut_without_a_hyphen_at_its_end(void **state)
{
    (void)state;
    char slug[TEXT_NAME_SIZE];
    text_slug(slug, sizeof slug,
              "abcdefghi abcdefghi abcdefghi abcdefghi abcdefghi abcdefghi abcdefghi");
    assert_string_equal(slug,
                        "abcdefghi-abcdefghi-abcdefghi-abcdefghi-abcdefghi-abcdefghi");
    text_slug(slug, 11, "abcdefghi abcdefghi");
    assert_string_equal(slug, "abcdefghi");
}

static void markup_in_a_title_stays_text_in_a_page(void **state)
{
    (void)state;
    char html[WRITTEN_SIZE];
    written(html, text_html, "<b onclick='x()'>R&D \"5 °C\"</b>");
    assert_string_equal(html, "&lt;b onclick=&#39;x()&#39;&gt;R&amp;D &quot;5 "
                              "°C&quot;&lt;/b&gt;");
}

/* A back-quote in gnuplot's double quotes starts a shell; gnuplot itself is the judge. */
static void gnuplot_reads_a_hostile_title_as_its_own_characters(void **state)
{
    (void)state;
    static const char *const titles[] = {
        "`touch /tmp/pailcast-was-here`",
        "it's ''quoted'' '",
        "a\\nb\\\\c \\",
        "$(date) %s @x {/Bold y} \"z\"",
        "'; system('date'); print '",
        "Kübel 🌱",
        "",
    };
    for (size_t i = 0; i < sizeof titles / sizeof titles[0]; i++) {
        char name[] = "/tmp/pailcast-XXXXXX";
        int descriptor = mkstemp(name);
        assert_true(descriptor >= 0);
        FILE *script = fdopen(descriptor, "w");
        fprintf(script, "set print '-'\nprint ");
        text_gnuplot(script, titles[i]);
        fprintf(script, "\n");
        assert_int_equal(fclose(script), 0);
        char command[64];
        (void)snprintf(command, sizeof command, "gnuplot %s 2>&1", name);
        FILE *gnuplot = popen(command, "r");
        assert_non_null(gnuplot);
        char line[WRITTEN_SIZE] = "";
        size_t length = fread(line, 1, sizeof line - 1, gnuplot);
        assert_true(length > 0);
        line[length - 1] = '\0';
        assert_int_equal(pclose(gnuplot), 0);
        (void)unlink(name);
        assert_string_equal(line, titles[i]);
    }
}

static void a_line_break_cannot_end_a_gnuplot_string(void **state)
{
    (void)state;
    char quoted[WRITTEN_SIZE];
    written(quoted, text_gnuplot, "a\nsystem('date')\r\tb");
    assert_string_equal(quoted, "'a system('.\"'\".'date'.\"'\".')  b'");
}

static void a_spreadsheet_sees_no_formula(void **state)
{
    (void)state;
    char field[WRITTEN_SIZE];
    written(field, text_csv, "=1+2");
    assert_string_equal(field, "'=1+2");
    written(field, text_csv, "+49");
    assert_string_equal(field, "'+49");
    written(field, text_csv, "-x,y");
    assert_string_equal(field, "\"'-x,y\"");
    written(field, text_csv, "@SUM(a)");
    assert_string_equal(field, "'@SUM(a)");
    written(field, text_csv, "a=b");
    assert_string_equal(field, "a=b");
}

struct fields {
    int count;
    char text[8][64];
};

static void keep_field(void *bytes, size_t length, void *context)
{
    struct fields *fields = (struct fields *)context;
    assert_true(fields->count < 8 && length < 64);
    memcpy(fields->text[fields->count], bytes, length);
    fields->text[fields->count++][length] = '\0';
}

static void fields_come_back_from_a_csv_reader_as_they_were(void **state)
{
    (void)state;
    static const char *const names[] = {"plain", "a, b",  "say \"5 gal\"",
                                        "",      "a\nb ", "Kübel; €"};
    const int count = sizeof names / sizeof names[0];
    char row[WRITTEN_SIZE];
    size_t used = 0;
    for (int i = 0; i < count; i++) {
        char field[WRITTEN_SIZE];
        written(field, text_csv, names[i]);
        used += (size_t)snprintf(row + used, sizeof row - used, "%s%s", i == 0 ? "" : ",",
                                 field);
    }
    struct fields fields = {0};
    struct csv_parser parser;
    assert_int_equal(csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI), 0);
    assert_int_equal(csv_parse(&parser, row, strlen(row), keep_field, NULL, &fields),
                     strlen(row));
    assert_int_equal(csv_fini(&parser, keep_field, NULL, &fields), 0);
    csv_free(&parser);
    assert_int_equal(fields.count, count);
    for (int i = 0; i < count; i++) {
        assert_string_equal(fields.text[i], names[i]);
    }
}

static void a_formula_of_any_width_or_behind_blanks_gets_an_apostrophe(void **state)
{
    (void)state;
    static const char *const formulas[] = {"=1",
                                           "+1",
                                           "-a",
                                           "@A",
                                           " =1",
                                           "   @A",
                                           "\t1",
                                           "\xef\xbc\x9d\x31",
                                           "\xef\xbc\xa0\x41"};
    for (size_t i = 0; i < sizeof formulas / sizeof *formulas; i++) {
        char field[WRITTEN_SIZE];
        written(field, text_csv, formulas[i]);
        assert_true(field[0] == '\'' && strcmp(field + 1, formulas[i]) == 0);
    }
}

static void a_line_grows_until_it_is_full(void **state)
{
    (void)state;
    char text[8] = "old";
    struct text_line line = text_line_in(text, sizeof text);
    assert_string_equal(text, "");
    text_line_add(&line, "%s", "day");
    text_line_add(&line, " %d", 27);
    assert_string_equal(text, "day 27");
    assert_int_equal(line.used, 6);
    for (int i = 0; i < 3; i++) {
        text_line_add(&line, "%s", "385");
        assert_string_equal(text, "day 273");
        assert_int_equal(line.used, 7);
    }
}

static void a_column_is_as_wide_in_letters_of_any_length(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int width;
        const char *shown;
    } columns[] = {{"salt", 6, "salt  "}, {"salt", 4, "salt"},     {"salt", 3, "sa…"},
                   {"Kübel", 5, "Kübel"}, {"Kübel", 7, "Kübel  "}, {"Fässer", 3, "Fä…"}};
    for (size_t i = 0; i < sizeof columns / sizeof *columns; i++) {
        char shown[64];
        FILE *out = fmemopen(shown, sizeof shown, "w");
        assert_non_null(out);
        text_column(out, columns[i].text, columns[i].width);
        (void)fclose(out);
        assert_string_equal(shown, columns[i].shown);
    }
}

static void distance_counts_single_letter_edits(void **state)
{
    (void)state;
    assert_int_equal(text_distance("evaporation", "evaporation"), 0);
    assert_int_equal(text_distance("evaporaton", "evaporation"), 1);
    assert_int_equal(text_distance("hieght", "height"), 2); /* a swap is two */
    assert_int_equal(text_distance("kitten", "sitting"), 3);
    assert_int_equal(text_distance("", "bucket"), 6);
    assert_int_equal(text_distance("bucket", ""), 6);
}

static void distance_is_the_same_both_ways_and_takes_no_detour(void **state)
{
    (void)state;
    static const char *const words[] = {"visit_every", "visit_at", "renew_every",
                                        "stock",       "stocks",   ""};
    const size_t count = sizeof words / sizeof words[0];
    for (size_t i = 0; i < count; i++) {
        for (size_t j = 0; j < count; j++) {
            size_t direct = text_distance(words[i], words[j]);
            assert_int_equal(direct, text_distance(words[j], words[i]));
            for (size_t k = 0; k < count; k++) {
                assert_true(direct <= text_distance(words[i], words[k]) +
                                          text_distance(words[k], words[j]));
            }
        }
    }
}

static void words_past_63_letters_are_cut(void **state)
{
    (void)state;
    char a[200];
    char b[200];
    memset(a, 'k', sizeof a);
    memset(b, 'k', sizeof b);
    a[150] = '\0';
    b[199] = '\0';
    assert_int_equal(text_distance(a, b), 0);
    b[62] = 'x';
    assert_int_equal(text_distance(a, b), 1);
}

static void names_are_compared_as_they_are_meant(void **state)
{
    (void)state;
    static const char *const pairs[][2] = {
        {"Hold  EC\t1.2 ", "hold ec 1.2"},
        {"  ", ""},
        {"‘É’ «ß» ×", "\"é\" \"ß\" ×"},
        {"\xc2\xa0"
         "A\xc2\xa0– b",
         "a - b"},
        {"\xff\xc3", "\xff\xc3"},
    };
    char folded[32];
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        text_fold(folded, sizeof folded, pairs[i][0]);
        assert_string_equal(folded, pairs[i][1]);
    }
    text_fold(folded, 4, "ABCDEF");
    assert_string_equal(folded, "abc");
}

static void one_is_told_in_the_singular(void **state)
{
    (void)state;
    assert_string_equal(text_plural(1, "life", "lives"), "life");
    assert_string_equal(text_plural(24 / 24.0000000000001, "day", "days"), "day");
    assert_string_equal(text_plural(0, "life", "lives"), "lives");
    assert_string_equal(text_plural(1.5, "life", "lives"), "lives");
    assert_string_equal(text_plural(21, "life", "lives"), "lives");
}

static void a_quotation_mark_is_known_within_its_bytes(void **state)
{
    (void)state;
    assert_int_equal(text_quote("”x", 4), 3);
    assert_int_equal(text_quote("'", 1), 1);
    assert_int_equal(text_quote("”", 2), 0);
    assert_int_equal(text_quote("é”", 5), 0);
    assert_int_equal(text_quote("", 0), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_copy_is_cut_at_a_whole_character),
        cmocka_unit_test(a_copy_holds_no_byte_that_is_not_utf8),
        cmocka_unit_test(a_copy_holds_no_control_character),
        cmocka_unit_test(a_copy_holds_no_character_that_xml_cannot),
        cmocka_unit_test(a_slug_is_lower_case_words_and_single_hyphens),
        cmocka_unit_test(a_slug_cannot_leave_its_folder_or_hide),
        cmocka_unit_test(a_name_without_a_letter_still_has_a_slug),
        cmocka_unit_test(a_long_slug_is_cut_without_a_hyphen_at_its_end),
        cmocka_unit_test(markup_in_a_title_stays_text_in_a_page),
        cmocka_unit_test(gnuplot_reads_a_hostile_title_as_its_own_characters),
        cmocka_unit_test(a_line_break_cannot_end_a_gnuplot_string),
        cmocka_unit_test(a_spreadsheet_sees_no_formula),
        cmocka_unit_test(fields_come_back_from_a_csv_reader_as_they_were),
        cmocka_unit_test(a_formula_of_any_width_or_behind_blanks_gets_an_apostrophe),
        cmocka_unit_test(a_line_grows_until_it_is_full),
        cmocka_unit_test(a_column_is_as_wide_in_letters_of_any_length),
        cmocka_unit_test(distance_counts_single_letter_edits),
        cmocka_unit_test(distance_is_the_same_both_ways_and_takes_no_detour),
        cmocka_unit_test(words_past_63_letters_are_cut),
        cmocka_unit_test(names_are_compared_as_they_are_meant),
        cmocka_unit_test(one_is_told_in_the_singular),
        cmocka_unit_test(a_quotation_mark_is_known_within_its_bytes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
