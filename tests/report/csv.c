/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"
#include "support/story.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/report/csv.h"

/* The header other programs rely on; new columns may only follow `event`. */
static const char promised[] =
    "day,volume_L,level_cm,ec_mS_cm,ph,no3_mmol_L,nh4_mmol_L,p_mmol_L,k_mmol_L,"
    "ca_mmol_L,mg_mmol_L,so4_mmol_L,na_mmol_L,cl_mmol_L,alkalinity_meq_L,salt_g,"
    "dry_mass_g,leaf_area_m2,drunk_L,evaporated_L,water_poured_L,stock_poured_L,"
    "drained_L,stage,event,";

enum {
    COLUMNS = 27,
    COLUMN_STAGE = 23,
    COLUMN_EVENT = 24,
    LINES_MAX = 2048
};

struct sheet {
    struct story *story;
    char *text;
    size_t line_count;
    char *lines[LINES_MAX];
};

static void sheet_open(struct sheet *sheet, struct story *story, size_t row)
{
    struct scratch_text written = {0};
    *sheet = (struct sheet){.story = story};
    scratch_open(&written);
    csv_write(written.out, &story->compare, row);
    sheet->text = scratch_close(&written);
    char *rest = sheet->text;
    for (char *line = strtok_r(sheet->text, "\n", &rest); line != NULL;
         line = strtok_r(NULL, "\n", &rest)) {
        sheet->lines[sheet->line_count++] = line;
    }
}

static void sheet_close(struct sheet *sheet)
{
    free(sheet->text);
    story_free(sheet->story);
}

/* Field `wanted` of a line, quotes taken off, into to[128]. */
static void sheet_field(char to[128], const char *line, int wanted)
{
    size_t used = 0;
    int field = 0;
    bool quoted = false;
    for (; *line != '\0'; line++) {
        if (*line == '"') {
            quoted = !quoted;
        } else if (*line == ',' && !quoted) {
            field++;
        } else if (field == wanted && used < 127) {
            to[used++] = *line;
        }
    }
    to[used] = '\0';
    assert_int_equal(field, COLUMNS - 1);
}

static double sheet_number(const char *line, int wanted)
{
    char text[128];
    char *end = NULL;
    sheet_field(text, line, wanted);
    double value = strtod(text, &end);
    assert_true(end != text && *end == '\0');
    return value;
}

static void header_is_the_promised_one(void **state)
{
    (void)state;
    struct sheet sheet;
    sheet_open(&sheet, story_tell(), 0);
    assert_int_equal(strncmp(sheet.lines[0], promised, strlen(promised)), 0);
    assert_string_equal(sheet.lines[0] + strlen(promised),
                        "useful_ec_mS_cm,ballast_ec_mS_cm");
    sheet_close(&sheet);
}

static void every_sample_is_a_row_and_keeps_its_digits(void **state)
{
    (void)state;
    struct sheet sheet;
    sheet_open(&sheet, story_tell(), STORY_RENEWED);
    const struct trajectory *path =
        &sheet.story->compare.rows[STORY_RENEWED].life.trajectory;
    assert_int_equal(sheet.line_count, path->sample_count + 1);
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *sample = &path->samples[i];
        const char *line = sheet.lines[i + 1];
        const double volume_l = sample->state[STATE_VOLUME];
        /* twelve digits are written */
        assert_close(sheet_number(line, 0), sample->day_d, 1e-11, 0);
        assert_close(sheet_number(line, 1), volume_l, 1e-11, 0);
        assert_close(sheet_number(line, 3), sample->ec_ms_cm, 1e-11, 0);
        assert_close(sheet_number(line, 12), sample->state[STATE_ION + ION_NA] / volume_l,
                     1e-11, 0);
        assert_close(sheet_number(line, 14), sample->state[STATE_ALKALINITY] / volume_l,
                     1e-11, 0);
        assert_close(sheet_number(line, 22), sample->drained_l, 1e-11, 0);
    }
    sheet_close(&sheet);
}

static void salt_is_the_mass_of_all_ions(void **state)
{
    (void)state;
    struct sheet sheet;
    sheet_open(&sheet, story_tell(), 0);
    double grams = 0;
    /* g/mol from IUPAC 2021 abridged atomic weights, added up by hand */
    static const double molar[ION_COUNT] = {62.004, 18.039, 96.986, 39.098, 40.078,
                                            24.305, 96.056, 22.990, 35.45};
    const char *line = sheet.lines[201];
    for (int i = 0; i < ION_COUNT; i++) {
        grams += sheet_number(line, 5 + i) * molar[i] * sheet_number(line, 1) / 1000;
    }
    assert_close(sheet_number(line, 15), grams, 1e-4, 0);
    sheet_close(&sheet);
}

static void events_are_words_with_the_ion_they_are_about(void **state)
{
    (void)state;
    struct sheet sheet;
    char first[128];
    char last[128];
    sheet_open(&sheet, story_tell(), 0);
    sheet_field(first, sheet.lines[1], COLUMN_EVENT);
    sheet_field(last, sheet.lines[sheet.line_count - 1], COLUMN_EVENT);
    assert_string_equal(first, "start");
    assert_string_equal(last, "end");
    size_t potassium = 0;
    size_t sodium = 0;
    size_t plain = 0;
    for (size_t i = 1; i < sheet.line_count; i++) {
        char event[128];
        sheet_field(event, sheet.lines[i], COLUMN_EVENT);
        potassium += strcmp(event, "nutrient ran out: k") == 0;
        sodium += strcmp(event, "ion above limit: na") == 0;
        plain += strcmp(event, "") == 0;
    }
    assert_int_equal(potassium, 1);
    assert_int_equal(sodium, 1);
    assert_true(plain > 250);
    sheet_close(&sheet);
}

static void stage_names_can_neither_break_a_row_nor_run_as_a_formula(void **state)
{
    (void)state;
    struct sheet sheet;
    char stage[128];
    sheet_open(&sheet, story_tell(), 0);
    assert_non_null(strstr(sheet.lines[1], "\"leafy, young\""));
    sheet_field(stage, sheet.lines[1], COLUMN_STAGE);
    assert_string_equal(stage, "leafy, young");
    sheet_field(stage, sheet.lines[sheet.line_count - 1], COLUMN_STAGE);
    assert_string_equal(stage, "'=fruiting");
    sheet_close(&sheet);
}

static void useful_and_ballast_add_up_to_what_the_pen_reads_of_the_ions(void **state)
{
    (void)state;
    struct sheet sheet;
    sheet_open(&sheet, story_tell(), 0);
    const struct scenario *scenario = &sheet.story->scenario;
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    const struct trajectory *path = &sheet.story->compare.rows[0].life.trajectory;
    for (size_t i = 0; i < path->sample_count; i += 37) {
        const struct liquid liquid = state_liquid(path->samples[i].state);
        const double all =
            sheet_number(sheet.lines[i + 1], 25) + sheet_number(sheet.lines[i + 1], 26);
        /* the parts are a split of the same EC: rounding of twelve digits only */
        assert_close(all, pen_read(&pen, &liquid).ec_ms_cm, 1e-9, 0);
    }
    sheet_close(&sheet);
}

static void a_value_that_is_not_finite_is_a_blank_cell(void **state)
{
    (void)state;
    struct sheet sheet;
    char cell[128];
    struct story *story = story_tell();
    story->compare.rows[0].life.trajectory.samples[7].ph = NAN;
    sheet_open(&sheet, story, 0);
    sheet_field(cell, sheet.lines[8], 4);
    assert_string_equal(cell, "");
    sheet_close(&sheet);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(header_is_the_promised_one),
        cmocka_unit_test(every_sample_is_a_row_and_keeps_its_digits),
        cmocka_unit_test(salt_is_the_mass_of_all_ions),
        cmocka_unit_test(events_are_words_with_the_ion_they_are_about),
        cmocka_unit_test(stage_names_can_neither_break_a_row_nor_run_as_a_formula),
        cmocka_unit_test(useful_and_ballast_add_up_to_what_the_pen_reads_of_the_ions),
        cmocka_unit_test(a_value_that_is_not_finite_is_a_blank_cell),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
