/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long roots have without air, on the day of a life on which they have least. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "pailcast/scenario/catalog.h"
#include "pailcast/study/outage.h"
#include "support/bench.h"
#include "support/program.h"

/* 20 degC: 9.09 mg/L at saturation (table of Benson & Krause 1984). */
static void hours_are_spare_oxygen_over_what_roots_use(void **state)
{
    (void)state;
    const struct outage small = outage_of(6, 20, 4);
    const struct outage large = outage_of(12, 20, 4);
    assert_close(small.saturation_mg_l, 9.09, 0, 0.02);
    assert_close(small.reserve_h / small.empty_h, (9.09 - outage_floor_mg_l) / 9.09, 3e-3,
                 0);
    assert_close(large.reserve_h, 2 * small.reserve_h, 1e-12, 0);
    assert_close(outage_of(6, 20, 8).reserve_h, small.reserve_h / 2, 1e-12, 0);
    assert_true(outage_of(6, 28, 4).reserve_h < small.reserve_h);
    assert_true(isinf(outage_of(6, 20, 0).reserve_h));
}

static void the_worst_day_has_the_least_water_for_its_roots(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct life life = {0};
    bench_shipped(&scenario, "first-bucket");
    bench_live(&life, &scenario, 0);
    const struct outage_worst worst = outage_worst_of(&life, &scenario);
    for (size_t i = 0; i < life.trajectory.sample_count; i++) {
        const double *at = life.trajectory.samples[i].state;
        assert_true(worst.volume_l / worst.root_mass_g <=
                    at[STATE_VOLUME] / at[STATE_PLANT + PLANT_ROOT_MASS] * (1 + 1e-12));
    }
    life_free(&life);
}

static void a_lost_plant_needs_no_air(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct life life = {0};
    bench_shipped(&scenario, "first-bucket");
    scenario.duration_d = 150;
    scenario.strategies[0].visit_every_d = 900;
    bench_live(&life, &scenario, 0);
    const double lost_d = life.first.plant_lost;
    assert_true(lost_d < 140);
    assert_true(outage_worst_of(&life, &scenario).day_d < lost_d);
    life_free(&life);
}

static void a_plant_without_roots_has_no_worst_day(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct life life = {0};
    bench_shipped(&scenario, "measured-cucumber");
    bench_live(&life, &scenario, 0);
    assert_true(isnan(outage_worst_of(&life, &scenario).day_d));
    life_free(&life);
}

/* The hours stand in the terminal, in the summary and on the page. */
static void run_tells_it_everywhere(void **state)
{
    char command[1024];
    (void)snprintf(command, sizeof command,
                   "run %s/scenarios/first-bucket.cfg --strategy 'Water only' --out o",
                   catalog_folder());
    assert_int_equal(program_run(*state, command), 0);
    char *text = program_read(*state, "o/summary.json");
    cJSON *summary = cJSON_Parse(text);
    const cJSON *row = cJSON_GetArrayItem(cJSON_GetObjectItem(summary, "strategies"), 0);
    const cJSON *outage = cJSON_GetObjectItem(row, "outage");
    char words[64];
    (void)snprintf(words, sizeof words, "about %.1f hours",
                   program_number(outage, "reserve_h"));
    program_says(*state, "o/report.html", words);
    program_says(*state, "stdout", words);
    assert_in_range(program_number(outage, "day"), 60, 90);
    cJSON_Delete(summary);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hours_are_spare_oxygen_over_what_roots_use),
        cmocka_unit_test(the_worst_day_has_the_least_water_for_its_roots),
        cmocka_unit_test(a_lost_plant_needs_no_air),
        cmocka_unit_test(a_plant_without_roots_has_no_worst_day),
        cmocka_unit_test_setup_teardown(run_tells_it_everywhere, program_enter,
                                        program_leave),
    };
    return cmocka_run_group_tests_name("outage", tests, NULL, NULL);
}
