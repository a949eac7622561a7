/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Laboratory analyses from CSV: what is read, and what is told of what cannot be. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/scenario/analyses.h"
#include "support/program.h"

/* Reads text as a file and expects a status; release the rows. */
static struct analyses read_as(const char *folder, const char *text, enum status expected,
                               struct error *error)
{
    char path[512];
    struct analyses analyses = {0};
    *error = (struct error){0};
    program_write(folder, "a.csv", text);
    (void)snprintf(path, sizeof path, "%s/a.csv", folder);
    const enum status status = analyses_read(&analyses, path, error);
    if (status != expected) {
        print_error("status %d for:\n%s\n%s\n", (int)status, text, error->text);
        fail();
    }
    return analyses;
}

static void tells(const struct error *error, const char *words)
{
    if (strstr(error->text, words) == NULL) {
        print_error("does not tell \"%s\" but:\n%s\n", words, error->text);
        fail();
    }
}

static const char whole_header[] = "label,no3_mmol_L,nh4_mmol_L,p_mmol_L,k_mmol_L,"
                                   "ca_mmol_L,mg_mmol_L,so4_mmol_L,na_mmol_L,cl_mmol_L,"
                                   "alkalinity_meq_L,ph,measured_ec_mS_cm\n";

static void a_whole_analysis_arrives_cell_by_cell(void **state)
{
    const char *folder = *state;
    char text[1024];
    struct error error;
    (void)snprintf(
        text, sizeof text, "%s%s", whole_header,
        "\"tank, north\",12.4,0.7,1.3,8.1,2.6,1.2,0.9,0.45,0.38,-0.25,5.8,1.97\n"
        "blank cells,,,,3.25,,,,,3.25,,,\n");
    struct analyses analyses = read_as(folder, text, STATUS_OK, &error);
    static const double expected[ION_COUNT] = {12.4, 0.7, 1.3,  8.1, 2.6,
                                               1.2,  0.9, 0.45, 0.38};
    assert_int_equal(error.count, 0);
    assert_int_equal(analyses.count, 2);
    assert_string_equal(analyses.rows[0].label, "tank, north");
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(analyses.rows[0].liquid.mmol_l[i], expected[i], 0, 0);
    }
    assert_close(analyses.rows[0].liquid.alkalinity_meq_l, -0.25, 0, 0);
    assert_close(analyses.rows[0].ph, 5.8, 0, 0);
    assert_close(analyses.rows[0].measured_ec_ms_cm, 1.97, 0, 0);
    assert_close(analyses.rows[1].liquid.mmol_l[ION_K], 3.25, 0, 0);
    assert_true(isnan(analyses.rows[1].ph) && isnan(analyses.rows[1].measured_ec_ms_cm));
    analyses_free(&analyses);
}

static void columns_come_in_any_order_from_any_editor(void **state)
{
    const char *folder = *state;
    struct error error;
    struct analyses analyses =
        read_as(folder,
                "\xef\xbb\xbf"
                "cl_mmol_L,label,k_mmol_L\r\n\r\n2.45,one,7.1\r\n1.85,two,0.35",
                STATUS_OK, &error);
    assert_int_equal(analyses.count, 2);
    assert_int_equal(analyses.rows[0].line, 3);
    assert_int_equal(analyses.rows[1].line, 4);
    assert_string_equal(analyses.rows[1].label, "two");
    assert_close(analyses.rows[1].liquid.mmol_l[ION_CL], 1.85, 0, 0);
    assert_close(analyses.rows[1].liquid.mmol_l[ION_K], 0.35, 0, 0);
    analyses_free(&analyses);
}

/* What a notebook has beside the numbers may stand there, and is not taken for a label or
 * a number. */
static void days_dates_and_notes_are_left_unread(void **state)
{
    const char *folder = *state;
    struct error error;
    struct analyses analyses = read_as(
        folder,
        "date,label,day,k_mmol_L,note\n2026-11-28,well,first,7.1,\"by post, late\"\n"
        "28 Nov,,,0.35,no name\n",
        STATUS_OK, &error);
    assert_int_equal(analyses.usable_count, 2);
    assert_string_equal(analyses.rows[0].label, "well");
    assert_string_equal(analyses.rows[1].label, "line 3");
    assert_close(analyses.rows[0].liquid.mmol_l[ION_K], 7.1, 0, 0);
    assert_close(analyses.rows[1].liquid.mmol_l[ION_K], 0.35, 0, 0);
    assert_int_equal(error.count, 1); /* of the ions that are not there */
    analyses_free(&analyses);
}

static void lines_are_counted_through_quoted_breaks_and_blank_lines(void **state)
{
    const char *folder = *state;
    struct error error;
    struct analyses analyses = read_as(
        folder, "label,k_mmol_L\n\n\"two\nlines\",1.5\n\nbad,x\n", STATUS_OK, &error);
    assert_int_equal(analyses.count, 2);
    assert_int_equal(analyses.rows[0].line, 3);
    assert_int_equal(analyses.rows[1].line, 6);
    tells(&error, "a.csv:6: k_mmol_L: \"x\" is not a number; the row is left out");
    assert_string_equal(analyses.rows[0].label, "two?lines");
    analyses_free(&analyses);
}

static void columns_left_out_count_as_nothing_and_are_told(void **state)
{
    const char *folder = *state;
    struct error error;
    struct analyses analyses =
        read_as(folder, "label,k_mmol_L\nfirst,4.4\n", STATUS_OK, &error);
    tells(&error, "a.csv:1: without columns no3_mmol_L, nh4_mmol_L");
    tells(&error, "alkalinity_meq_L: counted as 0");
    assert_null(strstr(error.text, "without columns label"));
    assert_close(analyses.rows[0].liquid.mmol_l[ION_CL], 0, 0, 0);
    analyses_free(&analyses);
}

static void a_spoilt_row_is_kept_aside_and_the_others_are_read(void **state)
{
    const char *folder = *state;
    static const char *const spoilt[] = {"four", "-1", "nan",   "inf", "0x1A",
                                         "1e9",  "3,", "1,0,7", "5 mg"};
    for (size_t i = 0; i < sizeof spoilt / sizeof *spoilt; i++) {
        char text[256];
        struct error error;
        (void)snprintf(text, sizeof text,
                       "label,k_mmol_L,cl_mmol_L\na,2.5,2.5\nb,%s,1,7\nc,3.5,3.5\n",
                       spoilt[i]);
        struct analyses analyses = read_as(folder, text, STATUS_OK, &error);
        assert_int_equal(analyses.count, 3);
        assert_int_equal(analyses.usable_count, 2);
        assert_true(analyses.rows[0].usable && analyses.rows[2].usable);
        assert_false(analyses.rows[1].usable);
        assert_string_equal(analyses.rows[1].label, "b");
        assert_close(analyses.rows[2].liquid.mmol_l[ION_K], 3.5, 0, 0);
        tells(&error, "a.csv:3: ");
        analyses_free(&analyses);
    }
}

static void files_of_which_nothing_can_be_used_are_refused(void **state)
{
    const char *folder = *state;
    static const struct {
        const char *text, *told;
    } bad[] = {
        {"", "holds no analysis"},
        {"label,k_mmol_L\n", "holds no analysis"},
        {"label,k_mmol_L\none,four\ntwo,-3\n", "a.csv:3: k_mmol_L: -3 is out of range"},
        {"label,potassium\none,3\n", "a.csv:1: column \"potassium\" is not known"},
        {"label,k_mmol_L,na_mmolL\none,3,4\n", "did you mean \"na_mmol_L\""},
        {"label,ph\none,3\n", "no column holds an ion"},
        {"label;k_mmol_L\none;3\n", "write commas between the columns, not semicolons"},
        {"label,k_mmol_L,k_mmol_L\none,3,4\n", "column k_mmol_L stands here twice"},
        {"label,k_mmol_L\nblank,\n", "a.csv:2: \"blank\" holds no ion"},
        {"label,k_mmol_L\n\"open,3\n", "ends inside a quoted cell"},
        {"label,k_mmol_L\nop\"en,3\n", "a quote stands astray"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct error error;
        struct analyses analyses = read_as(folder, bad[i].text, STATUS_INPUT, &error);
        tells(&error, bad[i].told);
        analyses_free(&analyses);
    }
    struct analyses analyses = {0};
    struct error error = {0};
    assert_int_equal(analyses_read(&analyses, "/nowhere/a.csv", &error), STATUS_INPUT);
    assert_int_equal(analyses_read(&analyses, "/", &error), STATUS_INPUT);
    analyses_free(&analyses);
}

static void remarks_without_end_are_counted_not_shown(void **state)
{
    const char *folder = *state;
    static char text[40000] = "label,k_mmol_L\ngood,1.5\n";
    size_t used = strlen(text);
    for (int i = 0; i < 1000; i++) {
        used += (size_t)snprintf(text + used, sizeof text - used, "row %d,oops\n", i);
    }
    struct error error;
    struct analyses analyses = read_as(folder, text, STATUS_OK, &error);
    size_t shown = 0;
    for (const char *c = error.text; *c != '\0'; c++) {
        shown += *c == '\n';
    }
    assert_int_equal(analyses.count, 1001);
    assert_int_equal(analyses.usable_count, 1);
    assert_int_equal(error.count, 1001); /* with the missing columns */
    assert_true(shown < 25);
    analyses_free(&analyses);
}

/* A row of which no ion was measured is not pure water, and a pen's number is in mS/cm.
 */
static void rows_without_an_ion_or_in_other_units_are_left_out(void **state)
{
    const char *folder = *state;
    struct error error;
    struct analyses analyses =
        read_as(folder,
                "label,k_mmol_L,measured_ec_mS_cm\nwell,,0.41\nrain,0,0.02\n,,\n"
                "tank,3.1,1430\n",
                STATUS_OK, &error);
    assert_int_equal(analyses.count, 3);
    assert_false(analyses.rows[0].usable);
    assert_true(analyses.rows[1].usable);
    assert_false(analyses.rows[2].usable);
    tells(&error, "a.csv:2: \"well\" holds no ion and is left out; write 0");
    tells(&error, "a.csv:5: measured_ec_mS_cm: 1430 is no EC in mS/cm. Is it uS/cm?");
    analyses_free(&analyses);
}

/* Bytes at random: the reader ends, with a status and in bounds. */
static void noise_ends_in_a_sentence(void **state)
{
    const char *folder = *state;
    static const char signs[] = "\",\n\r.-0123456789ekcl_mo\xffL \t";
    uint64_t seed = 88172645463325252ULL;
    for (int trial = 0; trial < 300; trial++) {
        char text[600] = "k_mmol_L,cl_mmol_L\n";
        size_t used = trial % 2 == 0 ? strlen(text) : 0;
        while (used < sizeof text - 1) {
            seed ^= seed << 13;
            seed ^= seed >> 7;
            seed ^= seed << 17;
            text[used++] = signs[seed % (sizeof signs - 1)];
        }
        text[used] = '\0';
        char path[512];
        struct analyses analyses = {0};
        struct error error = {0};
        program_write(folder, "a.csv", text);
        (void)snprintf(path, sizeof path, "%s/a.csv", folder);
        const enum status status = analyses_read(&analyses, path, &error);
        assert_true(status == STATUS_OK || status == STATUS_INPUT);
        assert_true(status == STATUS_OK || error.count > 0);
        analyses_free(&analyses);
    }
}

int main(void)
{
#define IN_FOLDER(test)                                                                  \
    cmocka_unit_test_setup_teardown(test, program_enter, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(a_whole_analysis_arrives_cell_by_cell),
        IN_FOLDER(columns_come_in_any_order_from_any_editor),
        IN_FOLDER(days_dates_and_notes_are_left_unread),
        IN_FOLDER(lines_are_counted_through_quoted_breaks_and_blank_lines),
        IN_FOLDER(columns_left_out_count_as_nothing_and_are_told),
        IN_FOLDER(a_spoilt_row_is_kept_aside_and_the_others_are_read),
        IN_FOLDER(files_of_which_nothing_can_be_used_are_refused),
        IN_FOLDER(remarks_without_end_are_counted_not_shown),
        IN_FOLDER(rows_without_an_ion_or_in_other_units_are_left_out),
        IN_FOLDER(noise_ends_in_a_sentence),
    };
    return cmocka_run_group_tests_name("analyses", tests, NULL, NULL);
}
