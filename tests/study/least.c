/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/study/least.h"

/* Treated cells of R's data set Puromycin (R package datasets; Treloar 1974, in Bates &
 * Watts 1988, Nonlinear Regression Analysis): concentration ppm, rate counts/min2. */
enum {
    POINTS = 12
};
static const double conc[POINTS] = {0.02, 0.02, 0.06, 0.06, 0.11, 0.11,
                                    0.22, 0.22, 0.56, 0.56, 1.10, 1.10};
static const double rate[POINTS] = {76,  47,  97,  107, 123, 139,
                                    159, 152, 191, 201, 207, 200};

static bool michaelis(double residual[], const double x[], void *context)
{
    (void)context;
    for (int i = 0; i < POINTS; i++) {
        residual[i] = x[0] * conc[i] / (x[1] + conc[i]) - rate[i];
    }
    return true;
}

static bool michaelis_slopes(double slope[], const double x[], void *context)
{
    (void)context;
    for (size_t i = 0; i < POINTS; i++) {
        const double below = x[1] + conc[i];
        slope[2 * i] = conc[i] / below;
        slope[2 * i + 1] = -x[0] * conc[i] / (below * below);
    }
    return true;
}

/* R: nls(rate ~ SSmicmen(conc, Vm, K)) gives 212.684, 0.064121; standard errors 6.947 and
 * 0.008281 (Bates & Watts; from memory) with 10 degrees of freedom. */
static void published_enzyme_kinetics_are_found(void **state)
{
    (void)state;
    const struct least_problem problem = {.unknowns = 2,
                                          .residuals = POINTS,
                                          .evaluate = michaelis,
                                          .slopes = michaelis_slopes};
    struct least_answer answer = {.x = {205, 0.08}};
    assert_int_equal(least_solve(&answer, &problem, NULL), STATUS_OK);
    assert_true(answer.converged);
    assert_close(answer.x[0], 212.684, 1e-5, 0);
    assert_close(answer.x[1], 0.064121, 2e-5, 0);
    const double variance = answer.sum / (POINTS - 2);
    assert_close(sqrt(variance * answer.covariance[0][0]), 6.947, 1e-3, 0);
    assert_close(sqrt(variance * answer.covariance[1][1]), 0.008281, 1e-3, 0);
    least_free(&answer);
}

/* One reading y = 3 x with a prior x ~ N(1, 0.5): the mean weighted by precisions. */
static bool one_reading(double residual[], const double x[], void *context)
{
    (void)context;
    residual[0] = (3 * x[0] - 4.2) / 0.7;
    residual[1] = (x[0] - 1) / 0.5;
    return true;
}

static bool one_reading_slopes(double slope[], const double x[], void *context)
{
    (void)x;
    (void)context;
    slope[0] = 3 / 0.7;
    slope[1] = 1 / 0.5;
    return true;
}

static void a_prior_weighs_as_one_more_reading(void **state)
{
    (void)state;
    const struct least_problem problem = {.unknowns = 1,
                                          .residuals = 2,
                                          .evaluate = one_reading,
                                          .slopes = one_reading_slopes};
    struct least_answer answer = {.x = {0.1}};
    assert_int_equal(least_solve(&answer, &problem, NULL), STATUS_OK);
    const double weight = 9 / 0.49;
    assert_close(answer.x[0], (weight * 1.4 + 4 * 1) / (weight + 4), 1e-9, 0);
    assert_close(answer.covariance[0][0], 1 / (weight + 4), 1e-9, 0);
    least_free(&answer);
}

static bool nothing(double residual[], const double x[], void *context)
{
    (void)context;
    residual[0] = x[0];
    return false;
}

/* A beginning without slopes cannot be left. */
static bool no_slopes(double slope[], const double x[], void *context)
{
    (void)x;
    (void)context;
    slope[0] = 1;
    slope[1] = 1;
    return false;
}

static void a_model_that_cannot_be_evaluated_is_an_error(void **state)
{
    (void)state;
    const struct least_problem problem = {
        .unknowns = 1, .residuals = 1, .evaluate = nothing, .slopes = no_slopes};
    struct least_answer answer = {.x = {1}};
    assert_int_equal(least_solve(&answer, &problem, NULL), STATUS_SOLVER);
    least_free(&answer);
    const struct least_problem flat = {
        .unknowns = 1, .residuals = 2, .evaluate = one_reading, .slopes = no_slopes};
    assert_int_equal(least_solve(&answer, &flat, NULL), STATUS_SOLVER);
    least_free(&answer);
}

/* So steep at 1.15 and so flat elsewhere that the first step goes too far: below 1.1
 * nothing can be evaluated. */
static bool edge(double residual[], const double x[], void *context)
{
    (void)context;
    residual[0] = tanh(10 * (x[0] - 1.15));
    return x[0] >= 1.1;
}

static bool edge_slopes(double slope[], const double x[], void *context)
{
    (void)context;
    const double bend = cosh(10 * (x[0] - 1.15));
    slope[0] = 10 / (bend * bend);
    return true;
}

static void a_step_over_the_edge_is_shortened(void **state)
{
    (void)state;
    const struct least_problem problem = {
        .unknowns = 1, .residuals = 1, .evaluate = edge, .slopes = edge_slopes};
    struct least_answer answer = {.x = {1.5}};
    assert_int_equal(least_solve(&answer, &problem, NULL), STATUS_OK);
    assert_true(answer.converged);
    assert_close(answer.x[0], 1.15, 1e-5, 0);
    least_free(&answer);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_enzyme_kinetics_are_found),
        cmocka_unit_test(a_prior_weighs_as_one_more_reading),
        cmocka_unit_test(a_step_over_the_edge_is_shortened),
        cmocka_unit_test(a_model_that_cannot_be_evaluated_is_an_error),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
