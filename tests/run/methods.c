/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The integrators held to one another: whole lives, every component of the state. */
#include "support/close.h"

#include <math.h>

#include "support/bench.h"

/* Every component, of itself or of a hundredth of the most it ever is: what has run out
 * has no digits left to compare. Thirst counts from a tenth of a day. */
static const double alike = 1e-4;
static const double least_share = 1e-2;
static const double least_thirst_d = 0.1;

static void live_by(struct life *life, struct scenario *scenario, size_t strategy,
                    enum scenario_method method)
{
    scenario->numerics = (struct scenario_numerics){.method = method, .rtol = 1e-9};
    bench_live(life, scenario, strategy);
}

static double most(const struct life *life, size_t component)
{
    double most =
        component == STATE_PLANT + PLANT_THIRST ? least_thirst_d / least_share : 1e-9;
    for (size_t i = 0; i < life->trajectory.sample_count; i++) {
        most = fmax(most, fabs(life->trajectory.samples[i].state[component]));
    }
    return most;
}

/* Rows with an event of the solver's own finding are not on the clock. */
static bool on_the_clock(const struct sample *sample)
{
    return sample->event < EVENT_EC_HIGH || sample->event == EVENT_END;
}

static void hold(const struct life *life, const struct life *other)
{
    const struct trajectory *a = &life->trajectory;
    const struct trajectory *b = &other->trajectory;
    double floor[STATE_COUNT];
    size_t compared = 0;
    for (size_t c = 0; c < STATE_COUNT; c++) {
        floor[c] = alike * least_share * most(other, c);
    }
    for (size_t i = 0, k = 0; i < a->sample_count; i++) {
        if (!on_the_clock(&a->samples[i])) {
            continue;
        }
        while (k < b->sample_count && !on_the_clock(&b->samples[k])) {
            k++;
        }
        assert_true(k < b->sample_count);
        assert_close(a->samples[i].day_d, b->samples[k].day_d, 0, 1e-9);
        for (size_t c = 0; c < STATE_COUNT; c++) {
            assert_close(a->samples[i].state[c], b->samples[k].state[c], alike, floor[c]);
        }
        compared++;
        k++;
    }
    assert_true(compared > 300);
}

static void methods_agree(const char *name, size_t strategy)
{
    static struct scenario scenario;
    struct life adams;
    bench_shipped(&scenario, name);
    live_by(&adams, &scenario, strategy, METHOD_ADAMS);
    for (int method = METHOD_BDF; method <= METHOD_ONE_STEP; method++) {
        struct life other;
        live_by(&other, &scenario, strategy, (enum scenario_method)method);
        assert_true(other.effort.rate_calls != adams.effort.rate_calls);
        hold(&other, &adams);
        life_free(&other);
    }
    life_free(&adams);
}

static void an_evergreen_lives_the_same_by_every_method(void **state)
{
    (void)state;
    methods_agree("evergreen-two-years", 1);
}

static void a_tomato_in_hard_water_lives_the_same_by_every_method(void **state)
{
    (void)state;
    methods_agree("renew-or-not", 3);
}

static void a_measured_plant_lives_the_same_by_every_method(void **state)
{
    (void)state;
    methods_agree("measured-cucumber", 0);
}

static void a_first_bucket_lives_the_same_by_every_method(void **state)
{
    (void)state;
    methods_agree("first-bucket", 1);
}

/* A measured plant that drinks its small bucket dry at each visit within minutes. */
static void a_bucket_drunk_up_in_minutes_is_lived_by_every_method(void **state)
{
    (void)state;
    static struct scenario scenario;
    double drunk_l[METHOD_ONE_STEP + 1];
    bench_shipped(&scenario, "measured-cucumber");
    for (size_t i = 0; i < scenario.crop.stage_count; i++) {
        scenario.crop.stages[i].drinks_l_d = 50;
    }
    scenario.learned.plant.drinking = 20;
    scenario.crop.root_start_cm = 300;
    scenario.bucket = (struct shape){.full_l = 0.103,
                                     .height_cm = 7.3,
                                     .top_diameter_cm = 5.9,
                                     .bottom_diameter_cm = 5.1,
                                     .net_pot_depth_cm = 1.8};
    scenario.start_l = scenario.bucket.full_l;
    scenario.duration_d = 7.3;
    for (int method = METHOD_ADAMS; method <= METHOD_ONE_STEP; method++) {
        struct life life;
        scenario.numerics = (struct scenario_numerics){
            .method = (enum scenario_method)method, .rtol = 1e-4};
        bench_live(&life, &scenario, 0);
        const struct sample *last = bench_sample(&life, scenario.duration_d);
        drunk_l[method] = last->state[STATE_DRUNK];
        assert_true(drunk_l[method] > scenario.start_l / 2);
        assert_close(drunk_l[method], drunk_l[METHOD_ADAMS], 1e-3, 0);
        life_free(&life);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_evergreen_lives_the_same_by_every_method),
        cmocka_unit_test(a_tomato_in_hard_water_lives_the_same_by_every_method),
        cmocka_unit_test(a_measured_plant_lives_the_same_by_every_method),
        cmocka_unit_test(a_first_bucket_lives_the_same_by_every_method),
        cmocka_unit_test(a_bucket_drunk_up_in_minutes_is_lived_by_every_method),
    };
    return cmocka_run_group_tests_name("methods", tests, NULL, NULL);
}
