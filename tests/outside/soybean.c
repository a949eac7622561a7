/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A logistic curve a/(1 + exp((m - t)/s)) fitted with least_solve, without priors, to
 * lines "t y" on standard input. argv: where to start a, m and s. Prints a, m and s, then
 * their standard errors. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "pailcast/study/least.h"

enum {
    UNKNOWNS = 3,
    POINTS_MAX = 64
};

struct curve {
    size_t count;
    double t[POINTS_MAX], y[POINTS_MAX];
};

static bool evaluate(double residual[], const double x[], void *context)
{
    const struct curve *curve = context;
    for (size_t i = 0; i < curve->count; i++) {
        residual[i] = x[0] / (1 + exp((x[1] - curve->t[i]) / x[2])) - curve->y[i];
    }
    return true;
}

static bool slopes(double slope[], const double x[], void *context)
{
    const struct curve *curve = context;
    for (size_t i = 0; i < curve->count; i++) {
        double *row = slope + i * UNKNOWNS;
        const double share = 1 / (1 + exp((x[1] - curve->t[i]) / x[2]));
        const double steep = x[0] * share * (1 - share) / x[2];
        row[0] = share;
        row[1] = -steep;
        row[2] = steep * (x[1] - curve->t[i]) / x[2];
    }
    return true;
}

int main(int argc, char **argv)
{
    struct curve curve = {0};
    struct least_answer answer = {.x = {0}};
    while (curve.count < POINTS_MAX &&
           scanf("%lf %lf", &curve.t[curve.count], &curve.y[curve.count]) == 2) {
        curve.count++;
    }
    for (int k = 0; k < UNKNOWNS && k + 1 < argc; k++) {
        answer.x[k] = strtod(argv[k + 1], NULL);
    }
    const struct least_problem problem = {.unknowns = UNKNOWNS,
                                          .residuals = curve.count,
                                          .evaluate = evaluate,
                                          .slopes = slopes,
                                          .context = &curve};
    if (least_solve(&answer, &problem, NULL) != STATUS_OK || !answer.converged) {
        return 1;
    }
    const double variance = answer.sum / (double)(curve.count - UNKNOWNS);
    for (int k = 0; k < UNKNOWNS; k++) {
        printf("%.12g ", answer.x[k]);
    }
    for (int k = 0; k < UNKNOWNS; k++) {
        printf("%.12g ", sqrt(variance * answer.covariance[k][k]));
    }
    printf("\n");
    least_free(&answer);
    return 0;
}
