/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"
#include "support/story.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "../../sim/report/series.h"

static char *written_of(const struct story *story, size_t row, unsigned blocks)
{
    struct scratch_text written = {0};
    scratch_open(&written);
    series_write_strategy(written.out, &story->compare, row, blocks);
    return scratch_close(&written);
}

/* First line within a block; the block must be there. */
static const char *block_of(const char *text, const char *name)
{
    const char *at = strstr(text, name);
    assert_non_null(at);
    return strchr(at, '\n') + 1;
}

static bool block_ends(const char *line)
{
    return strncmp(line, "END_OF_BLOCK", 12) == 0;
}

static void days_of_drinking_add_up_to_the_total(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char *text = written_of(story, 0, PLOT_GROWTH);
    double sum_l = 0;
    double before_l = 0;
    int days = 0;
    for (const char *line = block_of(text, "$daily <<"); !block_ends(line);
         line = strchr(line, '\n') + 1) {
        char *rest = NULL;
        assert_int_equal(strtol(line, &rest, 10), days++);
        sum_l += before_l;
        before_l = strtod(rest, NULL);
    }
    /* 93 whole days of 93.5: compare with the total on day 93, a sample */
    const struct trajectory *path = &story->compare.rows[0].life.trajectory;
    double expected_l = 0;
    for (size_t i = 0; i < path->sample_count; i++) {
        if (path->samples[i].day_d == 93) {
            expected_l = path->samples[i].state[STATE_DRUNK];
        }
    }
    assert_int_equal(days, 94);
    /* five digits are written, 93 terms */
    assert_close(sum_l, expected_l, 1e-4, 0);
    free(text);
    story_free(story);
}

static void samples_stand_in_display_units(void **state)
{
    (void)state;
    struct story *story = story_tell();
    story->scenario.display.volume = DISPLAY_GALLON;
    story->scenario.display.ec = DISPLAY_PPM700;
    char *text = written_of(story, 1, PLOT_SAMPLES);
    const char *line = block_of(text, "$samples <<");
    const struct sample *first = &story->compare.rows[1].life.trajectory.samples[0];
    char *rest = NULL;
    assert_close(strtod(line, &rest), first->day_d, 0, 0);
    /* 3.785411784 L a US gallon (exact); 700 ppm a mS/cm by the scale's definition */
    assert_close(strtod(rest, &rest), first->state[STATE_VOLUME] / 3.785411784, 1e-6, 0);
    (void)strtod(rest, &rest); /* root tips */
    assert_close(strtod(rest, &rest), 700 * first->ec_ms_cm, 1e-6, 0);
    free(text);
    story_free(story);
}

static void only_what_is_asked_for_is_written(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char *text = written_of(story, 0, PLOT_MAKEUP);
    assert_null(strstr(text, "$samples <<"));
    assert_null(strstr(text, "$daily <<"));
    assert_non_null(strstr(text, "$makeup <<"));
    assert_non_null(strstr(text, "$visits <<"));
    free(text);
    story_free(story);
}

/* The uppermost edge is the whole EC, as a pen reads it of the ions. */
static void layers_reach_up_to_the_ec(void **state)
{
    (void)state;
    struct story *story = story_tell();
    char *text = written_of(story, 2, PLOT_MAKEUP);
    const struct scenario *scenario = &story->scenario;
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    const struct liquid liquid =
        state_liquid(story->compare.rows[2].life.trajectory.samples[0].state);
    const char *line = block_of(text, "$makeup <<");
    double floor_ec = NAN;
    double top_ec = 0;
    int layers = 0;
    bool outline_starts = true;
    for (; !block_ends(line); line = strchr(line, '\n') + 1) {
        if (*line == '\n') {
            outline_starts = true;
            continue;
        }
        char *rest = NULL;
        const double day_d = strtod(line, &rest);
        const double ec = strtod(rest, NULL);
        if (outline_starts) {
            assert_close(day_d, 0, 0, 0);
            assert_true(ec >= top_ec);
            top_ec = ec;
            layers++;
            outline_starts = false;
        } else if (day_d == 0) {
            floor_ec = isnan(floor_ec) ? ec : floor_ec;
        }
    }
    assert_int_equal(layers, 8);
    assert_close(floor_ec, 0, 0, 0);
    /* five digits are written */
    assert_close(top_ec, pen_read(&pen, &liquid).ec_ms_cm, 1e-4, 0);
    free(text);
    story_free(story);
}

static void the_stamp_tells_comparisons_apart(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct story *twin = story_tell();
    const uint64_t stamp = series_stamp(&story->compare);
    assert_true(series_stamp(&twin->compare) == stamp);
    twin->compare.rows[2].life.trajectory.samples[211].state[STATE_ION + ION_MG] *=
        1 + 1e-12;
    assert_false(series_stamp(&twin->compare) == stamp);
    story->scenario.limits.ec_high_ms_cm += 0.1;
    assert_false(series_stamp(&story->compare) == stamp);
    story_free(twin);
    story_free(story);
}

static void a_life_without_a_sample_is_no_accident(void **state)
{
    (void)state;
    struct story *story = story_tell();
    story->compare.rows[0].life.trajectory.sample_count = 0;
    story->compare.rows[0].life.trajectory.visit_count = 0;
    story->compare.rows[0].life.end_d = 0;
    char *text = written_of(story, 0, PLOT_SAMPLES | PLOT_MAKEUP | PLOT_GROWTH);
    assert_non_null(strstr(text, "visits = 0\n"));
    free(text);
    story_free(story);
}

/* The marks of the level stand where that height holds water: those of a cylinder 20 cm
 * wide are 314.16 mL for each cm. */
static void the_level_is_marked_in_the_unit_asked_for(void **state)
{
    (void)state;
    static struct scenario scenario;
    scenario.bucket = (struct shape){
        .full_l = 6, .height_cm = 25.5, .top_diameter_cm = 20, .bottom_diameter_cm = 20};
    struct scratch_text written = {0};
    scratch_open(&written);
    series_write_level_tics(written.out, &scenario, false);
    scenario.display.length = DISPLAY_INCH;
    series_write_level_tics(written.out, &scenario, false);
    series_write_level_tics(written.out, &scenario, true);
    char *text = scratch_close(&written);
    char *second = strchr(text, '\n') + 1;
    assert_ptr_equal(
        strstr(text, "level_tics = '\"0\" 0, \"5\" 1.570796, \"10\" 3.141593, "), text);
    assert_non_null(strstr(text, "\"25\" 7.853982'\nlevel_unit = 'cm'\n"));
    second = strchr(second, '\n') + 1;
    assert_ptr_equal(
        strstr(second, "level_tics = '\"0\" 0, \"2\" 1.595929, \"4\" 3.191858, "),
        second);
    assert_non_null(strstr(second, "\"10\" 7.979645'\nlevel_unit = 'inch'\n"));
    assert_non_null(strstr(second, "\"0.5\" 0.3989823, \"1\" "));
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_of_drinking_add_up_to_the_total),
        cmocka_unit_test(samples_stand_in_display_units),
        cmocka_unit_test(only_what_is_asked_for_is_written),
        cmocka_unit_test(layers_reach_up_to_the_ec),
        cmocka_unit_test(the_stamp_tells_comparisons_apart),
        cmocka_unit_test(a_life_without_a_sample_is_no_accident),
        cmocka_unit_test(the_level_is_marked_in_the_unit_asked_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
