/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include <gsl/gsl_sf_lambert.h>

#include "pailcast/run/solver.h"

/* Batch depletion by Michaelis-Menten kinetics, dS/dt = -V S/(K + S), and its closed form
 * S = K W(S0/K exp((S0 - V t)/K)) (Schnell & Mendoza 1997, J. theor. Biol. 187:207). */
struct batch {
    double capacity, half, first;
    double level; /* a root where S falls through it */
};

static const struct batch roots_in_a_jar = {1.73, 0.21, 4.87, 0.62};

static void batch_rates(double rate[], const double state[], void *context)
{
    const struct batch *batch = context;
    rate[0] = -batch->capacity * state[0] / (batch->half + state[0]);
    rate[1] = -rate[0];
}

static void batch_roots(double value[], const double state[], void *context)
{
    const struct batch *batch = context;
    value[0] = batch->level - state[0];
}

static double batch_exact(const struct batch *batch, double time_d)
{
    const double argument = batch->first / batch->half *
                            exp((batch->first - batch->capacity * time_d) / batch->half);
    return batch->half * gsl_sf_lambert_W0(argument);
}

static const double atol[2] = {1e-12, 1e-12};

static struct solver *batch_solver(const struct batch *batch, enum scenario_method method,
                                   double rtol, bool with_root)
{
    struct solver *solver = NULL;
    struct error error = {0};
    const struct solver_problem problem = {.count = 2,
                                           .rates = batch_rates,
                                           .root_count = with_root,
                                           .roots = batch_roots,
                                           .context = (void *)(uintptr_t)batch,
                                           .rtol = rtol,
                                           .atol = atol,
                                           .method = method};
    assert_int_equal(solver_create(&solver, &problem, 0, &error), STATUS_OK);
    solver_state(solver)[0] = batch->first;
    assert_int_equal(solver_restart(solver, 0, &error), STATUS_OK);
    return solver;
}

static void depletion_follows_its_closed_form_with_every_method(void **state)
{
    (void)state;
    for (int method = METHOD_ADAMS; method <= METHOD_ONE_STEP; method++) {
        struct solver *solver =
            batch_solver(&roots_in_a_jar, (enum scenario_method)method, 1e-9, false);
        double reached = 0;
        for (double until = 0.31; until < 3.2; until += 0.31) {
            assert_int_equal(solver_advance(solver, until, 3.3, &reached),
                             SOLVER_REACHED);
            assert_close(reached, until, 1e-12, 0);
            assert_close(solver_state(solver)[0], batch_exact(&roots_in_a_jar, until),
                         1e-6, 1e-9);
            assert_close(solver_state(solver)[0] + solver_state(solver)[1],
                         roots_in_a_jar.first, 1e-13, 0);
        }
        solver_free(solver);
    }
}

static void a_tighter_tolerance_has_a_smaller_error(void **state)
{
    (void)state;
    for (int method = METHOD_ADAMS; method <= METHOD_ONE_STEP; method++) {
        double miss[3];
        const double rtol[3] = {1e-4, 1e-7, 1e-10};
        for (int i = 0; i < 3; i++) {
            struct solver *solver = batch_solver(
                &roots_in_a_jar, (enum scenario_method)method, rtol[i], false);
            double reached;
            assert_int_equal(solver_advance(solver, 2.6, 2.6, &reached), SOLVER_REACHED);
            miss[i] = fabs(solver_state(solver)[0] - batch_exact(&roots_in_a_jar, 2.6));
            solver_free(solver);
        }
        assert_true(miss[1] < 0.1 * miss[0]);
        assert_true(miss[2] < 0.1 * miss[1]);
    }
}

static void a_crossing_is_found_on_its_day(void **state)
{
    (void)state;
    const struct batch *b = &roots_in_a_jar;
    const double exact =
        (b->first - b->level + b->half * log(b->first / b->level)) / b->capacity;
    for (int method = METHOD_ADAMS; method <= METHOD_ONE_STEP; method++) {
        struct solver *solver = batch_solver(b, (enum scenario_method)method, 1e-9, true);
        double reached;
        int rose[1] = {0};
        assert_int_equal(solver_advance(solver, 5, 5, &reached), SOLVER_ROOT);
        assert_close(reached, exact, 1e-6, 0);
        solver_roots(solver, rose);
        assert_int_equal(rose[0], 1);
        solver_free(solver);
    }
}

static void pour_is_lost_unless_solver_restarts(void **state)
{
    (void)state;
    struct error error = {0};
    for (int restarts = 0; restarts < 2; restarts++) {
        struct solver *solver = batch_solver(&roots_in_a_jar, METHOD_ADAMS, 1e-9, false);
        double reached;
        assert_int_equal(solver_advance(solver, 1.1, 1.1, &reached), SOLVER_REACHED);
        solver_state(solver)[0] += 2.385;
        if (restarts) {
            assert_int_equal(solver_restart(solver, 1.1, &error), STATUS_OK);
        }
        assert_int_equal(solver_advance(solver, 1.4, 1.4, &reached), SOLVER_REACHED);
        const double unpoured = batch_exact(&roots_in_a_jar, 1.4);
        const struct batch poured = {roots_in_a_jar.capacity, roots_in_a_jar.half,
                                     batch_exact(&roots_in_a_jar, 1.1) + 2.385, 0};
        assert_close(solver_state(solver)[0],
                     restarts ? batch_exact(&poured, 0.3) : unpoured, 1e-6, 0);
        solver_free(solver);
    }
}

/* Slopes by capacity, half and first level. */
enum {
    BATCH_SLOPES = 3
};

static void batch_slope_rates(double slope_rate[], size_t unknown, const double state[],
                              const double rate[], const double slope[], void *context)
{
    const struct batch *batch = context;
    const double below = batch->half + state[0];
    slope_rate[0] = rate[0] * batch->half / (state[0] * below) * slope[0];
    slope_rate[0] += unknown == 0 ? rate[0] / batch->capacity : 0;
    slope_rate[0] -= unknown == 1 ? rate[0] / below : 0;
    slope_rate[1] = -slope_rate[0];
}

/* From K ln S + S = K ln S0 + S0 - V t: slopes at `after` from those at `before`, time_d
 * earlier. */
static void batch_exact_slopes(double slope[BATCH_SLOPES], const struct batch *batch,
                               double before, double after, double time_d)
{
    const double by_itself[BATCH_SLOPES] = {-time_d, log(before / after), 0};
    for (int k = 0; k < BATCH_SLOPES; k++) {
        slope[k] = ((1 + batch->half / before) * slope[k] + by_itself[k]) /
                   (1 + batch->half / after);
    }
}

static void slopes_follow_their_closed_form_over_a_pour(void **state)
{
    (void)state;
    struct solver *solver = NULL;
    const struct batch *batch = &roots_in_a_jar;
    const struct solver_problem problem = {.count = 2,
                                           .rates = batch_rates,
                                           .slope_count = BATCH_SLOPES,
                                           .slope_rates = batch_slope_rates,
                                           .context = (void *)(uintptr_t)batch,
                                           .rtol = 1e-9,
                                           .atol = atol,
                                           .method = METHOD_ADAMS};
    assert_int_equal(solver_create(&solver, &problem, 0, NULL), STATUS_OK);
    solver_state(solver)[0] = batch->first;
    solver_slope(solver, 2)[0] = 1;
    assert_int_equal(solver_restart(solver, 0, NULL), STATUS_OK);
    double exact[BATCH_SLOPES] = {0, 0, 1};
    double before = batch->first;
    double reached_d = 0;
    for (int i = 1; i <= 6; i++) {
        const double until_d = 0.43 * i;
        assert_int_equal(solver_advance(solver, until_d, until_d, &reached_d),
                         SOLVER_REACHED);
        const double after = solver_state(solver)[0];
        batch_exact_slopes(exact, batch, before, after, 0.43);
        for (size_t k = 0; k < BATCH_SLOPES; k++) {
            assert_close(solver_slope(solver, k)[0], exact[k], 1e-6, 0);
        }
        solver_state(solver)[0] += i == 4 ? 2.385 : 0;
        before = solver_state(solver)[0];
        assert_int_equal(solver_restart(solver, until_d, NULL), STATUS_OK);
    }
    solver_free(solver);
}

static void broken_rates(double rate[], const double state[], void *context)
{
    (void)context;
    rate[0] = 0.3;
    rate[1] = state[0] > 0.9 ? NAN : 1;
}

static void a_failure_is_an_answer_not_a_crash(void **state)
{
    (void)state;
    struct solver *solver = NULL;
    struct error error = {0};
    const struct solver_problem problem = {
        .count = 2, .rates = broken_rates, .rtol = 1e-6, .atol = atol};
    assert_int_equal(solver_create(&solver, &problem, 0, &error), STATUS_OK);
    assert_int_equal(solver_restart(solver, 0, &error), STATUS_OK);
    double reached;
    const char *what = NULL;
    assert_int_equal(solver_advance(solver, 9, 9, &reached), SOLVER_FAILED);
    assert_true(reached > 2.5 && reached < 3.1);
    assert_true(solver_culprit(solver, &what) < 2);
    assert_non_null(what);
    solver_free(solver);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(depletion_follows_its_closed_form_with_every_method),
        cmocka_unit_test(a_tighter_tolerance_has_a_smaller_error),
        cmocka_unit_test(a_crossing_is_found_on_its_day),
        cmocka_unit_test(pour_is_lost_unless_solver_restarts),
        cmocka_unit_test(slopes_follow_their_closed_form_over_a_pour),
        cmocka_unit_test(a_failure_is_an_answer_not_a_crash),
    };
    return cmocka_run_group_tests_name("solver", tests, NULL, NULL);
}
