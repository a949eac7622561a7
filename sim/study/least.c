/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/least.h"

#include <assert.h>
#include <stdlib.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit_nlinear.h>

/* Steps of the trust region, and relative changes of unknowns, gradient and sum at which
 * it has arrived. */
static const size_t least_steps_max = 60;
static const double least_xtol = 1e-6;
static const double least_gtol = 1e-8;

/* A place that cannot be evaluated: far worse than any that can. */
static const double least_far = 1e8;

struct least_work {
    const struct least_problem *problem;
    bool begun;
};

/* GSL repeats a step whose values fail as it was, to the last of its steps; it takes a
 * shorter one only from a place that is worse. The beginning itself must be a good one.
 */
static int least_values(const gsl_vector *x, void *context, gsl_vector *residual)
{
    const struct least_work *work = context;
    const struct least_problem *problem = work->problem;
    if (problem->evaluate(residual->data, x->data, problem->context)) {
        return GSL_SUCCESS;
    }
    gsl_vector_set_all(residual, least_far);
    return work->begun ? GSL_SUCCESS : GSL_EFAILED;
}

static int least_slopes(const gsl_vector *x, void *context, gsl_matrix *slope)
{
    const struct least_problem *problem = ((const struct least_work *)context)->problem;
    assert(slope->tda == problem->unknowns);
    return problem->slopes(slope->data, x->data, problem->context) ? GSL_SUCCESS
                                                                   : GSL_EFAILED;
}

static void least_keep(struct least_answer *answer, const struct least_problem *problem,
                       gsl_multifit_nlinear_workspace *work)
{
    const gsl_vector *x = gsl_multifit_nlinear_position(work);
    const gsl_vector *residual = gsl_multifit_nlinear_residual(work);
    const gsl_matrix *slope = gsl_multifit_nlinear_jac(work);
    gsl_matrix_view covariance =
        gsl_matrix_view_array_with_tda(&answer->covariance[0][0], problem->unknowns,
                                       problem->unknowns, LEAST_UNKNOWNS_MAX);
    answer->sum = 0;
    for (size_t i = 0; i < problem->residuals; i++) {
        answer->residual[i] = gsl_vector_get(residual, i);
        answer->sum += answer->residual[i] * answer->residual[i];
        for (size_t k = 0; k < problem->unknowns; k++) {
            answer->slope[i * problem->unknowns + k] = gsl_matrix_get(slope, i, k);
        }
    }
    for (size_t k = 0; k < problem->unknowns; k++) {
        answer->x[k] = gsl_vector_get(x, k);
    }
    (void)gsl_multifit_nlinear_covar(slope, 0, &covariance.matrix);
}

enum status least_solve(struct least_answer *answer, const struct least_problem *problem,
                        struct error *error)
{
    gsl_error_handler_t *before = gsl_set_error_handler_off();
    gsl_multifit_nlinear_parameters settings = gsl_multifit_nlinear_default_parameters();
    settings.scale = gsl_multifit_nlinear_scale_levenberg;
    gsl_multifit_nlinear_workspace *work = gsl_multifit_nlinear_alloc(
        gsl_multifit_nlinear_trust, &settings, problem->residuals, problem->unknowns);
    answer->residual = calloc(problem->residuals, sizeof(double));
    answer->slope = calloc(problem->residuals * problem->unknowns, sizeof(double));
    enum status status = STATUS_OK;
    if (work == NULL || answer->residual == NULL || answer->slope == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the fit");
    }
    if (status == STATUS_OK) {
        struct least_work own = {problem, false};
        gsl_multifit_nlinear_fdf fdf = {.f = least_values,
                                        .df = least_slopes,
                                        .n = problem->residuals,
                                        .p = problem->unknowns,
                                        .params = &own};
        gsl_vector_view start = gsl_vector_view_array(answer->x, problem->unknowns);
        int info = 0;
        if (gsl_multifit_nlinear_init(&start.vector, &fdf, work) != GSL_SUCCESS) {
            status = status_error(error, STATUS_SOLVER,
                                  "the model cannot be followed where the fit starts");
        } else {
            own.begun = true;
            answer->converged =
                gsl_multifit_nlinear_driver(least_steps_max, least_xtol, least_gtol, 0,
                                            NULL, NULL, &info, work) == GSL_SUCCESS;
            least_keep(answer, problem, work);
        }
    }
    gsl_multifit_nlinear_free(work);
    (void)gsl_set_error_handler(before);
    return status;
}

void least_free(struct least_answer *answer)
{
    if (answer != NULL) {
        free(answer->residual);
        free(answer->slope);
        answer->residual = answer->slope = NULL;
    }
}
