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

/* What studies use (1e-5, one step) against CVODE a hundred times tighter, over two years
 * of lamp switches. */
static void study_lives_are_held_to_cvode(void **state)
{
    (void)state;
    static struct scenario scenario;
    bench_shipped(&scenario, "evergreen-two-years");
    scenario.sample_every_d = 73;
    for (size_t k = 0; k < 2; k++) {
        struct life quick = {0};
        struct life exact = {0};
        scenario.numerics =
            (struct scenario_numerics){.method = METHOD_ONE_STEP, .rtol = 1e-5};
        live(&quick, &scenario, k, true);
        scenario.numerics =
            (struct scenario_numerics){.method = METHOD_ADAMS, .rtol = 1e-8};
        live(&exact, &scenario, k, false);
        for (int i = 1; i <= 10; i++) {
            const struct sample *a = row_on(&quick, 73.0 * i);
            const struct sample *b = row_on(&exact, 73.0 * i);
            assert_close(a->ec_ms_cm, b->ec_ms_cm, 2e-5, 0);
            assert_close(a->state[STATE_DRUNK], b->state[STATE_DRUNK], 2e-5, 0);
            assert_close(a->state[STATE_GROWN], b->state[STATE_GROWN], 2e-5, 0);
            assert_close(a->state[STATE_VOLUME], b->state[STATE_VOLUME], 2e-5, 0);
        }
        assert_close(quick.first.ec_high, exact.first.ec_high, 0, 0.01);
        life_free(&quick);
        life_free(&exact);
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
