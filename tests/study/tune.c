/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/tune.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "pailcast/base/number.h"
#include "pailcast/bucket/shape.h"
#include "pailcast/report/tune.h"
#include "pailcast/visit/fill.h"
#include "support/bench.h"
#include "support/close.h"
#include "support/scratch.h"

static struct scenario scenario;

static struct tune_plan plan_of(size_t lives, size_t worlds, int jobs)
{
    return (struct tune_plan){.lives = lives,
                              .worlds = worlds,
                              .seed = 3,
                              .jobs = jobs,
                              .most_trouble = 0.1,
                              .least_growth = 0.9};
}

static void tuned(struct tune *tune, const struct tune_plan *plan)
{
    struct error error = {0};
    memset(tune, 0, sizeof *tune);
    assert_int_equal(tune_run(tune, &scenario, plan, &error), STATUS_OK);
}

static char *json_of(const struct tune *tune)
{
    struct scratch_text text;
    struct error error = {0};
    scratch_open(&text);
    assert_int_equal(tune_json_write(text.out, tune, &error), STATUS_OK);
    return scratch_close(&text);
}

/* Days until roots that reach the floor are half dry: full supply down to 3 cm of water,
 * then falling with number_switch, by the midpoint rule over litres. */
static double lasts(const struct shape *shape, double drinks_l_d)
{
    enum {
        STEPS = 2000
    };
    const double from_l = shape_volume_l(shape, 3);
    const double step_l = (from_l - shape_volume_l(shape, 1.5)) / STEPS;
    double days = (shape->full_l - from_l) / drinks_l_d;
    for (int i = 0; i < STEPS; i++) {
        const double level_cm = shape_level_cm(shape, from_l - (i + 0.5) * step_l);
        days += step_l / (drinks_l_d * number_switch(level_cm / 3));
    }
    return days;
}

/* A table plant drinks 1.3 L a day and nothing is uncertain: how long the bucket lasts is
 * known, and the fewest visits follow. */
static void the_longest_interval_is_the_closed_form(void **state)
{
    (void)state;
    const double drinks_l_d = 1.3;
    scenario_defaults(&scenario);
    scenario.duration_d = 61;
    scenario.bucket = (struct shape){12.4, 37, 30, 26, 9};
    scenario.start_l = 12.4;
    scenario.crop = crop_defaults(CROP_TABLE);
    scenario.crop.stage_count = 1;
    scenario.crop.stages[0].drinks_l_d = drinks_l_d;
    memset(scenario.uncertain.spread, 0, sizeof scenario.uncertain.spread);
    scenario.strategy_count = 1;
    scenario.strategies[0] = strategy_defaults();
    const double lasts_d = lasts(&scenario.bucket, drinks_l_d);
    const struct tune_plan plan = plan_of(240, 2, 1);
    struct tune tune;
    tuned(&tune, &plan);
    double fewest = INFINITY;
    size_t longer = 0;
    for (size_t i = 0; i < tune.count; i++) {
        const struct tune_candidate *candidate = &tune.candidates[i];
        const double every_d = candidate->value[TUNE_VISIT_EVERY];
        assert_true(candidate->keeps == (every_d < lasts_d));
        longer += every_d > lasts_d;
        if (candidate->keeps) {
            fewest = fmin(fewest, candidate->aim[TUNE_VISITS]);
        }
    }
    assert_true(longer > 0);
    const double longest_d = 0.5 * floor(2 * lasts_d);
    assert_close(fewest, floor(61 / longest_d), 0, 0);
    assert_true(tune.possible);
    assert_close(tune.candidates[tune.best].aim[TUNE_VISITS], fewest, 0, 0);
    assert_close(tune.candidates[tune.best].aim[TUNE_DUMPED], 0, 0, 0);
    tune_free(&tune);
}

static void the_present_settings_are_tried_to_the_digit(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategies[0] = scenario.strategies[3];
    scenario.strategy_count = 1;
    scenario.duration_d = 40;
    scenario.strategies[0].visit_every_d = 2.37;
    scenario.strategies[0].fill.aim_ec_ms_cm = 1.234;
    const struct tune_plan plan = plan_of(96, 4, 1);
    struct tune tune;
    tuned(&tune, &plan);
    assert_close(tune.candidates[0].value[TUNE_VISIT_EVERY], 2.37, 0, 0);
    assert_close(tune.candidates[0].value[TUNE_AIM_EC], 1.234, 0, 0);
    assert_int_equal(tune.count, 24);
    assert_int_equal(tune.lives_used, 96 + 2 * 4);
    tune_free(&tune);
}

static void threads_and_repetition_change_no_byte(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.duration_d = 31;
    char *first = NULL;
    for (int jobs = 1; jobs <= 3; jobs++) {
        const struct tune_plan plan = plan_of(144, 4, jobs);
        struct tune tune;
        tuned(&tune, &plan);
        char *json = json_of(&tune);
        if (first == NULL) {
            first = json;
        } else {
            assert_string_equal(json, first);
            free(json);
        }
        tune_free(&tune);
    }
    free(first);
}

static void no_member_of_the_front_beats_another(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategies[0] = scenario.strategies[3];
    const struct tune_plan plan = plan_of(480, 8, 2);
    struct tune tune;
    tuned(&tune, &plan);
    size_t members = 0;
    for (size_t i = 0; i < tune.count; i++) {
        for (size_t k = 0; k < tune.count && tune.candidates[i].on_front; k++) {
            const double *a = tune.candidates[k].aim;
            const double *b = tune.candidates[i].aim;
            bool worse = false;
            bool better = false;
            for (int m = 0; m < TUNE_AIMS; m++) {
                worse |= a[m] > b[m];
                better |= a[m] < b[m];
            }
            assert_false(better && !worse && tune.candidates[k].keeps);
        }
        members += tune.candidates[i].on_front;
    }
    assert_true(members >= 2);
    assert_true(tune.possible && tune.candidates[tune.best].keeps);
    assert_true(tune.candidates[tune.best].on_front);
    tune_free(&tune);
}

/* Twice what any plant can grow cannot be had: said, and by how much. */
static void an_impossible_limit_is_said_with_its_gap(void **state)
{
    (void)state;
    char sentence[TUNE_SENTENCE_SIZE];
    char gap[64];
    bench_shipped(&scenario, "first-bucket");
    scenario.duration_d = 30;
    struct tune_plan plan = plan_of(96, 4, 1);
    plan.least_growth = 2;
    struct tune tune;
    tuned(&tune, &plan);
    assert_false(tune.possible);
    tune_sentence(sentence, &tune);
    assert_non_null(strstr(sentence, "No setting tried keeps the limits"));
    (void)snprintf(gap, sizeof gap, "%.1f points less than the 200 %% asked",
                   200 - 100 * tune.candidates[tune.best].growth);
    assert_non_null(strstr(sentence, gap));
    tune_free(&tune);
}

static void says(const struct tune *tune, const char *words)
{
    char sentence[TUNE_SENTENCE_SIZE];
    tune_sentence(sentence, tune);
    if (strstr(sentence, words) == NULL) {
        fail_msg("\"%s\" is not in: %s", words, sentence);
    }
}

/* Limits that hard water passes on the first day, whatever is done at visits. */
static void
what_stands_most_in_the_way_is_named_and_of_ph_what_is_meant_for_it(void **state)
{
    (void)state;
    struct tune_plan plan = plan_of(96, 4, 1);
    struct tune tune;
    char chief[128];
    bench_shipped(&scenario, "first-bucket");
    scenario.duration_d = 12;
    scenario.limits.ph_high = 5.5;
    tuned(&tune, &plan);
    assert_false(tune.possible);
    assert_close(tune.candidates[tune.best].met[OUTCOME_PH_HIGH], 1, 0, 0);
    says(&tune,
         " Most in the way: pH above its limit, in 100 % of lives. tune searches no "
         "setting that is meant for pH: acid at visits is (adjust in the scenario), "
         "in small doses and with eyes and hands covered.");
    tune_free(&tune);
    scenario.limits.ph_low = 5.4;
    scenario.limits.ph_high = 9;
    scenario.strategies[0].adjust =
        (struct strategy_adjust){salt_by_formula("HNO3"), .above_ph = 6, .to_ph = 5.2};
    tuned(&tune, &plan);
    assert_false(tune.possible);
    (void)snprintf(chief, sizeof chief,
                   "%s, in %.0f %% of lives. tune searches no setting",
                   outcome_table[OUTCOME_PH_LOW].words,
                   100 * tune.candidates[tune.best].met[OUTCOME_PH_LOW]);
    says(&tune, chief);
    says(&tune, "meant for pH: see to to_ph and above_ph of adjust in the scenario.");
    tune_free(&tune);
    scenario.strategies[0].adjust.with = NULL;
    scenario.limits.ph_low = -INFINITY;
    scenario.limits.ec_high_ms_cm = 0.2;
    scenario.limits.ec_low_ms_cm = 5;
    tuned(&tune, &plan);
    says(&tune,
         " Most in the way: EC above its limit, EC below its limit, each in 100 % of "
         "lives.");
    char sentence[TUNE_SENTENCE_SIZE];
    tune_sentence(sentence, &tune);
    assert_null(strstr(sentence, "pH"));
    tune_free(&tune);
}

static char *json_of_run(const struct tune_plan *plan)
{
    struct tune tune;
    tuned(&tune, plan);
    char *json = json_of(&tune);
    tune_free(&tune);
    return json;
}

/* A kill leaves the journal cut anywhere: in its head, in a record, between two. */
static void a_torn_journal_is_gone_on_with(void **state)
{
    (void)state;
    static const double shares[] = {0.99999, 0.7183, 0.3141, 0.0577, 0.001, 0};
    struct scratch scratch = scratch_make();
    char path[SCRATCH_PATH_SIZE + 16];
    (void)snprintf(path, sizeof path, "%s/j", scratch.folder);
    bench_shipped(&scenario, "first-bucket");
    scenario.duration_d = 31;
    struct tune_plan plan = plan_of(96, 4, 2);
    char *whole = json_of_run(&plan);
    plan.journal = path;
    plan.scenario_path = "x.cfg";
    free(json_of_run(&plan));
    plan.resume = true;
    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        struct stat seen;
        assert_int_equal(stat(path, &seen), 0);
        assert_int_equal(truncate(path, (off_t)(shares[i] * (double)seen.st_size)), 0);
        char *again = json_of_run(&plan);
        assert_string_equal(again, whole);
        free(again);
    }
    free(whole);
    scratch_remove(&scratch);
}

/* The last test: after life_request_stop no life can be lived in this program. */
static void what_was_finished_is_not_lived_again(void **state)
{
    (void)state;
    struct scratch scratch = scratch_make();
    char path[SCRATCH_PATH_SIZE + 16];
    (void)snprintf(path, sizeof path, "%s/j", scratch.folder);
    bench_shipped(&scenario, "first-bucket");
    scenario.duration_d = 31;
    struct tune_plan plan = plan_of(96, 4, 1);
    plan.journal = path;
    plan.scenario_path = "x.cfg";
    char *whole = json_of_run(&plan);
    life_request_stop();
    plan.resume = true;
    char *again = json_of_run(&plan);
    assert_string_equal(again, whole);
    plan.resume = false;
    struct tune tune = {0};
    struct error error = {0};
    assert_int_equal(tune_run(&tune, &scenario, &plan, &error), STATUS_STOPPED);
    tune_free(&tune);
    free(whole);
    free(again);
    scratch_remove(&scratch);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_longest_interval_is_the_closed_form),
        cmocka_unit_test(the_present_settings_are_tried_to_the_digit),
        cmocka_unit_test(threads_and_repetition_change_no_byte),
        cmocka_unit_test(no_member_of_the_front_beats_another),
        cmocka_unit_test(an_impossible_limit_is_said_with_its_gap),
        cmocka_unit_test(
            what_stands_most_in_the_way_is_named_and_of_ph_what_is_meant_for_it),
        cmocka_unit_test(a_torn_journal_is_gone_on_with),
        cmocka_unit_test(what_was_finished_is_not_lived_again),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
