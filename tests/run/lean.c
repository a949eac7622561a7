/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lean life of studies against the whole one, and the one-step method against CVODE.
 */
#include <math.h>

#include "pailcast/run/life.h"
#include "support/bench.h"
#include "support/close.h"

static void live(struct life *life, const struct scenario *scenario, size_t strategy,
                 bool lean)
{
    struct error error = {0};
    const struct strategy *plan = &scenario->strategies[strategy];
    const enum status status = lean ? life_run_lean(life, scenario, plan, &error)
                                    : life_run(life, scenario, plan, &error);
    assert_int_equal(status, STATUS_OK);
}

static const struct sample *row_on(const struct life *life, double day_d)
{
    return bench_sample(life, day_d);
}

static void lean_rows_fall_on_every_grid_day(void **state)
{
    (void)state;
    static struct scenario scenario;
    bench_shipped(&scenario, "renew-or-not");
    /* 1/24 d brings lamp switches and visits onto rows. */
    scenario.sample_every_d = 1.0 / 24;
    scenario.duration_d = 9.3;
    struct life life = {0};
    live(&life, &scenario, 1, true);
    assert_int_equal(life.trajectory.sample_count, 1 + 223 + 1);
    for (size_t i = 0; i < 224; i++) {
        assert_close(life.trajectory.samples[i].day_d, (double)i / 24, 1e-12, 1e-9);
    }
    assert_close(life.trajectory.samples[224].day_d, 9.3, 0, 1e-9);
    assert_int_equal(life.trajectory.visit_count, 0);
    life_free(&life);
}

/* The same integration: only where rows are taken may digits move. */
static void lean_and_whole_lives_agree(void **state)
{
    (void)state;
    static struct scenario scenario;
    bench_shipped(&scenario, "renew-or-not");
    for (size_t k = 0; k < scenario.strategy_count; k++) {
        struct life lean = {0};
        struct life whole = {0};
        live(&lean, &scenario, k, true);
        live(&whole, &scenario, k, false);
        const struct sample *a = row_on(&lean, scenario.duration_d);
        const struct sample *b = row_on(&whole, scenario.duration_d);
        assert_close(a->ec_ms_cm, b->ec_ms_cm, 1e-6, 0);
        assert_close(a->state[STATE_DRUNK], b->state[STATE_DRUNK], 1e-6, 0);
        assert_close(lean.ledger.salt_poured_g, whole.ledger.salt_poured_g, 1e-5, 0);
        assert_int_equal(lean.ledger.visits, whole.ledger.visits);
        for (int i = 0; i < ION_COUNT; i++) {
            const double day_d = whole.first.nutrient_low[i];
            assert_true(isnan(day_d) == isnan(lean.first.nutrient_low[i]));
            if (!isnan(day_d)) {
                assert_close(lean.first.nutrient_low[i], day_d, 0, 0.02);
            }
        }
        life_free(&lean);
        life_free(&whole);
    }
}

/* What studies use (one step, 5e-6) against CVODE at 1e-8, over all their days: within
 * 1e-4, and events within an hour. */
static void hold(const struct life *quick, const struct life *exact)
{
    const double share = 1e-4;
    const double hour_d = 1.0 / 24;
    assert_int_equal(quick->trajectory.sample_count, 51);
    for (size_t i = 1; i < quick->trajectory.sample_count; i++) {
        const struct sample *a = &quick->trajectory.samples[i];
        const struct sample *b = row_on(exact, a->day_d);
        assert_close(b->day_d, a->day_d, 0, 1e-9);
        assert_close(a->ec_ms_cm, b->ec_ms_cm, share, 0);
        assert_close(a->state[STATE_DRUNK], b->state[STATE_DRUNK], share, 1e-6);
        assert_close(a->state[STATE_GROWN], b->state[STATE_GROWN], share, 1e-6);
        assert_close(a->state[STATE_VOLUME], b->state[STATE_VOLUME], share, 0);
    }
    const double *days[2][2] = {{&quick->first.ec_high, &exact->first.ec_high},
                                {&quick->first.roots_dry, &exact->first.roots_dry}};
    for (size_t i = 0; i < 2; i++) {
        assert_true(isnan(*days[i][0]) == isnan(*days[i][1]));
        assert_true(isnan(*days[i][1]) || fabs(*days[i][0] - *days[i][1]) < hour_d);
    }
    for (int i = 0; i < ION_COUNT; i++) {
        const double day_d = exact->first.nutrient_low[i];
        assert_true(isnan(day_d) == isnan(quick->first.nutrient_low[i]));
        assert_true(isnan(day_d) || fabs(day_d - quick->first.nutrient_low[i]) < hour_d);
    }
}

static void study_lives_are_held_to_cvode(void **state)
{
    static const char *const shipped[] = {"first-bucket", "renew-or-not",
                                          "pepper-in-gallons", "measured-cucumber",
                                          "evergreen-two-years"};
    (void)state;
    for (size_t s = 0; s < sizeof shipped / sizeof *shipped; s++) {
        static struct scenario scenario;
        bench_shipped(&scenario, shipped[s]);
        scenario.sample_every_d = scenario.duration_d / 50;
        for (size_t k = 0; k < scenario.strategy_count; k++) {
            struct life quick = {0};
            struct life exact = {0};
            scenario.numerics =
                (struct scenario_numerics){.method = METHOD_ONE_STEP, .rtol = 5e-6};
            live(&quick, &scenario, k, true);
            scenario.numerics =
                (struct scenario_numerics){.method = METHOD_ADAMS, .rtol = 1e-8};
            live(&exact, &scenario, k, true);
            hold(&quick, &exact);
            life_free(&quick);
            life_free(&exact);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lean_rows_fall_on_every_grid_day),
        cmocka_unit_test(lean_and_whole_lives_agree),
        cmocka_unit_test(study_lives_are_held_to_cvode),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
