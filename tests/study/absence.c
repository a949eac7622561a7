/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bucket that nobody tends any more, against closed forms: straight walls, a plant that
 * drinks so many litres a day and takes nothing else. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include <gsl/gsl_integration.h>

#include "pailcast/base/number.h"
#include "pailcast/scenario/catalog.h"
#include "pailcast/study/absence.h"
#include "study/why_simple.h"
#include "support/bench.h"
#include "support/program.h"

static const double drinks_l_d = 1.37;
static const double depth_cm = 23.1;

/* Full with plain water every other day, last on day 8; ends on day 9. */
static struct strategy *tended(void)
{
    struct strategy *strategy = simple(9, 27, &salts);
    stage()->drinks_l_d = drinks_l_d;
    scenario.crop.root_start_cm = depth_cm;
    strategy->visit_every_d = 2;
    strategy->visit_at_h = 0;
    return strategy;
}

static struct absence looked(const struct strategy *strategy)
{
    struct error error = {0};
    struct life life = {0};
    struct absence absence;
    bench_live(&life, &scenario, 0);
    assert_int_equal(absence_of(&absence, &life, &scenario, strategy, &error), STATUS_OK);
    life_free(&life);
    return absence;
}

static double slowly(double share, void *unused)
{
    (void)unused;
    return 1 / number_switch(share);
}

/* dV/dt = -T while the roots' tips are 3 cm or more under water, -T S(h/3) with h over
 * them below; lost at S = 1/2, that is h = 1.5 cm, S the switch of docs/model.md. */
static void roots_keep_their_water_as_long_as_the_integral_says(void **state)
{
    (void)state;
    const struct strategy *strategy = tended();
    const struct absence absence = looked(strategy);
    const double tip_cm = shape_root_room_cm(&scenario.bucket) - depth_cm;
    const double litres_cm = shape_volume_l(&scenario.bucket, 1);
    double drying, uncertain;
    size_t calls;
    const gsl_function function = {slowly, NULL};
    assert_int_equal(
        gsl_integration_qng(&function, 0.5, 1, 0, 1e-10, &drying, &uncertain, &calls), 0);
    const double wet_d = (27 - shape_volume_l(&scenario.bucket, tip_cm + 3)) / drinks_l_d;
    assert_close(absence.visit_d, 8, 0, 1e-9);
    assert_close(absence.dry_d, 8 + wet_d + 3 * litres_cm * drying / drinks_l_d, 1e-6, 0);
}

/* What is not taken is concentrated, C V = C0 V0. */
static void a_limit_is_passed_when_so_much_is_drunk(void **state)
{
    (void)state;
    const struct strategy *strategy = tended();
    const struct absence before = looked(strategy);
    assert_true(isinf(before.limit.day_d));
    struct life life = {0};
    bench_live(&life, &scenario, 0);
    const double at_visit = state_liquid(bench_sample(&life, 8)->state).mmol_l[ION_NA];
    life_free(&life);
    scenario.limits.high_mmol_l[ION_NA] = 1.2 * at_visit;
    const struct absence absence = looked(strategy);
    assert_close(absence.limit.day_d, 8 + 27 * (1 - 1 / 1.2) / drinks_l_d, 1e-6, 0);
    assert_string_equal(absence.limit.what, "sodium");
    assert_true(absence.dry_d == before.dry_d);
}

/* Neither what is so at the visit nor what comes to be so before the next. */
static void what_happens_between_visits_does_not_end_it(void **state)
{
    (void)state;
    const struct strategy *strategy = tended();
    struct life life = {0};
    bench_live(&life, &scenario, 0);
    const double at_visit = state_liquid(bench_sample(&life, 8)->state).mmol_l[ION_NA];
    life_free(&life);
    scenario.limits.high_mmol_l[ION_NA] = 0.5 * at_visit;
    struct absence absence = looked(strategy);
    assert_true(isinf(absence.limit.day_d));
    assert_close(absence.anyway.day_d, 8, 0, 1e-9);
    assert_string_equal(absence.anyway.what, "sodium");
    scenario.limits.high_mmol_l[ION_NA] = 27 * at_visit / (27 - 1.9 * drinks_l_d);
    absence = looked(strategy);
    assert_true(isinf(absence.limit.day_d));
    assert_close(absence.anyway.day_d, 9.9, 1e-6, 0);
    scenario.limits.high_mmol_l[ION_NA] = 27 * at_visit / (27 - 2.1 * drinks_l_d);
    absence = looked(strategy);
    assert_close(absence.limit.day_d, 10.1, 1e-6, 0);
    assert_true(isinf(absence.anyway.day_d));
}

static void without_a_visit_or_a_plant_there_is_nothing_to_tell(void **state)
{
    (void)state;
    struct strategy *strategy = tended();
    strategy->visit_every_d = 90;
    assert_true(isnan(looked(strategy).visit_d));
    strategy = tended();
    scenario.crop = crop_defaults(CROP_NONE);
    assert_true(isnan(looked(strategy).visit_d));
}

/* A nutrient drawn down between two visits is no news, a limit is. */
static void food_is_counted_from_the_next_visit_on(void **state)
{
    (void)state;
    struct life_first_days first = {.ec_high = 7, .ec_low = NAN};
    first.ph_high = first.ph_low = NAN;
    for (int i = 0; i < ION_COUNT; i++) {
        first.ion_high[i] = first.nutrient_low[i] = NAN;
    }
    first.nutrient_low[ION_P] = 6;
    assert_string_equal(absence_limit_of(&first, 5, 6.5).what, "EC");
    const struct absence_limit limit = absence_limit_of(&first, 5, 5.5);
    assert_string_equal(limit.what, "phosphate");
    assert_string_equal(limit.does, "run out");
    assert_true(limit.day_d == 6);
    assert_true(isinf(absence_limit_of(&first, 7, 6).day_d));
}

/* The life that went on tended is not touched by looking ahead. */
static void run_tells_it_everywhere(void **state)
{
    char command[1024];
    (void)snprintf(command, sizeof command,
                   "run %s/scenarios/first-bucket.cfg --strategy 'Hold EC 1.2' --out o",
                   catalog_folder());
    assert_int_equal(program_run(*state, command), 0);
    char *text = program_read(*state, "o/summary.json");
    cJSON *summary = cJSON_Parse(text);
    const cJSON *row = cJSON_GetArrayItem(cJSON_GetObjectItem(summary, "strategies"), 0);
    const cJSON *absence = cJSON_GetObjectItem(row, "absence");
    const double from_d = program_number(absence, "from_day");
    char words[64];
    (void)snprintf(words, sizeof words, "The roots keep their water for %.1f days.",
                   program_number(absence, "roots_dry_day") - from_d);
    program_says(*state, "o/report.html", words);
    (void)snprintf(words, sizeof words, "left alone for %.1f days",
                   program_number(absence, "limit_day") - from_d);
    program_says(*state, "o/report.html", words);
    program_says(*state, "stdout", "left alone for");
    cJSON_Delete(summary);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(roots_keep_their_water_as_long_as_the_integral_says),
        cmocka_unit_test(a_limit_is_passed_when_so_much_is_drunk),
        cmocka_unit_test(what_happens_between_visits_does_not_end_it),
        cmocka_unit_test(food_is_counted_from_the_next_visit_on),
        cmocka_unit_test(without_a_visit_or_a_plant_there_is_nothing_to_tell),
        cmocka_unit_test_setup_teardown(run_tells_it_everywhere, program_enter,
                                        program_leave),
    };
    return cmocka_run_group_tests_name("absence", tests, NULL, NULL);
}
