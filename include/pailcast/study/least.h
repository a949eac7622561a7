/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nonlinear least squares by GSL's trust region (Levenberg-Marquardt). */
#ifndef PAILCAST_STUDY_LEAST_H
#define PAILCAST_STUDY_LEAST_H

#include <stdbool.h>
#include <stddef.h>

#include "pailcast/base/status.h"

enum {
    LEAST_UNKNOWNS_MAX = 8
};

/* residual[residuals] at x[unknowns], already divided by their standard deviations; a
 * prior is one more residual. False where the model cannot be evaluated: the solver then
 * takes a shorter step. slopes: how each residual changes with each unknown,
 * slope[residual * unknowns + unknown], asked for only where there are residuals. */
struct least_problem {
    size_t unknowns, residuals;
    bool (*evaluate)(double residual[], const double x[], void *context);
    bool (*slopes)(double slope[], const double x[], void *context);
    void *context;
};

struct least_answer {
    double x[LEAST_UNKNOWNS_MAX];
    double covariance[LEAST_UNKNOWNS_MAX][LEAST_UNKNOWNS_MAX]; /* of unit residuals */
    double sum;                                                /* of squared residuals */
    double *residual;                                          /* owned: residuals */
    double *slope; /* owned: residuals x unknowns, by row */
    bool converged;
};

/* Starts from answer->x. Release answer with least_free, whatever comes. STATUS_SOLVER
 * when the model cannot be evaluated at the start. */
enum status least_solve(struct least_answer *answer, const struct least_problem *problem,
                        struct error *error) STATUS_MUST_CHECK;
void least_free(struct least_answer *answer);

#endif
