/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Non-negative least squares after Lawson & Hanson 1974, Solving Least Squares Problems,
 * algorithm NNLS: columns enter the passive set by the largest gradient, and leave it
 * when their coefficient would turn negative. Each inner problem is solved by singular
 * values (GSL), so salts that bring the same ions do no harm. */
#include <math.h>
#include <string.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit.h>

#include "pailcast/study/mix.h"

/* Amounts below this weigh like this, mmol/L: a litre cannot be weighed closer. */
static const double solve_least_mmol_l = 0.05;

/* An alkalinity missed by 1 meq/L weighs like an ion missed altogether (chosen), L/meq.
 */
static const double solve_alkalinity_weight = 1;

/* A gradient this small, relative to the columns, is none; and one that is steeper by no
 * more than this share is no steeper. */
static const double solve_flat = 1e-12, solve_alike = 1e-9;

enum {
    SOLVE_ROWS_MAX = ION_COUNT + 1, /* alkalinity last */
    SOLVE_ROUNDS_MAX = 3 * MIX_SALTS_MAX
};

/* Rows are what is wanted, columns the salts, mmol or meq for each gram, both weighed. */
struct solve_problem {
    size_t rows, columns;
    double matrix[SOLVE_ROWS_MAX][MIX_SALTS_MAX];
    double wanted[SOLVE_ROWS_MAX];
};

static void solve_row(struct solve_problem *problem, double weight, double missing,
                      const double mmol_g[MIX_SALTS_MAX])
{
    for (size_t k = 0; k < problem->columns; k++) {
        problem->matrix[problem->rows][k] = weight * mmol_g[k];
    }
    problem->wanted[problem->rows++] = weight * missing;
}

static struct solve_problem solve_set(const struct salt *const salts[], size_t count,
                                      const struct mix_wanted *wanted,
                                      const struct liquid *water)
{
    struct solve_problem problem = {.columns = count};
    double mmol_g[MIX_SALTS_MAX] = {0};
    for (int ion = 0; ion < ION_COUNT; ion++) {
        if (isnan(wanted->mmol_l[ion])) {
            continue;
        }
        for (size_t k = 0; k < count; k++) {
            mmol_g[k] = salt_mmol(salts[k], 1) * salts[k]->ions[ion];
        }
        solve_row(&problem, 1 / fmax(wanted->mmol_l[ion], solve_least_mmol_l),
                  wanted->mmol_l[ion] - water->mmol_l[ion], mmol_g);
    }
    if (!isnan(wanted->alkalinity_meq_l)) {
        for (size_t k = 0; k < count; k++) {
            mmol_g[k] = salt_mmol(salts[k], 1) * salts[k]->alkalinity;
        }
        solve_row(&problem, solve_alkalinity_weight,
                  wanted->alkalinity_meq_l - water->alkalinity_meq_l, mmol_g);
    }
    return problem;
}

/* Least squares over the passive columns alone; the others stay 0. */
static enum status solve_passive(double x[MIX_SALTS_MAX],
                                 const struct solve_problem *problem,
                                 const bool passive[MIX_SALTS_MAX], struct error *error)
{
    size_t columns[MIX_SALTS_MAX];
    size_t count = 0;
    for (size_t k = 0; k < problem->columns; k++) {
        x[k] = 0;
        if (passive[k]) {
            columns[count++] = k;
        }
    }
    /* The library wants at least as many rows as columns: rows of zeros change nothing.
     */
    const size_t rows = problem->rows > count ? problem->rows : count;
    if (count == 0) {
        return STATUS_OK;
    }
    gsl_matrix *matrix = gsl_matrix_calloc(rows, count);
    gsl_vector *wanted = gsl_vector_calloc(rows);
    gsl_vector *found = gsl_vector_calloc(count);
    gsl_matrix *spread = gsl_matrix_calloc(count, count);
    gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(rows, count);
    enum status status = STATUS_OK;
    if (matrix == NULL || wanted == NULL || found == NULL || spread == NULL ||
        work == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the salts' equations");
    } else {
        double squares;
        for (size_t i = 0; i < problem->rows; i++) {
            gsl_vector_set(wanted, i, problem->wanted[i]);
            for (size_t k = 0; k < count; k++) {
                gsl_matrix_set(matrix, i, k, problem->matrix[i][columns[k]]);
            }
        }
        if (gsl_multifit_linear(matrix, wanted, found, spread, &squares, work) !=
            GSL_SUCCESS) {
            status =
                status_error(error, STATUS_SOLVER, "the salts' equations have no answer");
        }
        for (size_t k = 0; k < count && status == STATUS_OK; k++) {
            x[columns[k]] = gsl_vector_get(found, k);
        }
    }
    gsl_multifit_linear_free(work);
    gsl_matrix_free(spread);
    gsl_vector_free(found);
    gsl_vector_free(wanted);
    gsl_matrix_free(matrix);
    return status;
}

/* The column outside the passive set whose gradient is steepest; columns where none is.
 */
static size_t solve_steepest(const struct solve_problem *problem,
                             const double x[MIX_SALTS_MAX],
                             const bool passive[MIX_SALTS_MAX])
{
    double rest[SOLVE_ROWS_MAX];
    size_t best = problem->columns;
    double steepest = solve_flat;
    for (size_t i = 0; i < problem->rows; i++) {
        rest[i] = problem->wanted[i];
        for (size_t k = 0; k < problem->columns; k++) {
            rest[i] -= problem->matrix[i][k] * x[k];
        }
    }
    for (size_t k = 0; k < problem->columns; k++) {
        double gradient = 0, length = 0;
        for (size_t i = 0; i < problem->rows; i++) {
            gradient += problem->matrix[i][k] * rest[i];
            length += problem->matrix[i][k] * problem->matrix[i][k];
        }
        gradient = length > 0 ? gradient / sqrt(length) : 0;
        if (!passive[k] && gradient > steepest * (1 + solve_alike)) {
            steepest = gradient;
            best = k;
        }
    }
    return best;
}

/* Goes from x toward z as far as all stay non-negative; columns that reach 0 leave. */
static void solve_retreat(double x[MIX_SALTS_MAX], const double z[MIX_SALTS_MAX],
                          bool passive[MIX_SALTS_MAX], size_t columns)
{
    double step = 1;
    for (size_t k = 0; k < columns; k++) {
        if (passive[k] && z[k] <= 0) {
            step = fmin(step, x[k] / (x[k] - z[k]));
        }
    }
    for (size_t k = 0; k < columns; k++) {
        x[k] += step * (z[k] - x[k]);
        if (passive[k] && z[k] <= 0 && x[k] <= solve_flat) {
            passive[k] = false;
            x[k] = 0;
        }
    }
}

static enum status solve_nnls(double x[MIX_SALTS_MAX],
                              const struct solve_problem *problem, struct error *error)
{
    bool passive[MIX_SALTS_MAX] = {false};
    memset(x, 0, sizeof(double) * MIX_SALTS_MAX);
    for (int round = 0; round < SOLVE_ROUNDS_MAX; round++) {
        const size_t entering = solve_steepest(problem, x, passive);
        if (entering == problem->columns) {
            break;
        }
        passive[entering] = true;
        bool feasible = false;
        while (!feasible) {
            double z[MIX_SALTS_MAX] = {0};
            enum status status = solve_passive(z, problem, passive, error);
            if (status != STATUS_OK) {
                return status;
            }
            feasible = true;
            for (size_t k = 0; k < problem->columns; k++) {
                feasible = feasible && (!passive[k] || z[k] > 0);
            }
            if (feasible) {
                memcpy(x, z, sizeof z);
            } else {
                solve_retreat(x, z, passive, problem->columns);
            }
        }
    }
    return STATUS_OK;
}

struct mix_wanted mix_wanted_nothing(void)
{
    struct mix_wanted wanted = {.alkalinity_meq_l = NAN};
    for (int ion = 0; ion < ION_COUNT; ion++) {
        wanted.mmol_l[ion] = NAN;
    }
    return wanted;
}

enum status mix_solve(struct mix_solution *solution, const struct salt *const salts[],
                      size_t count, const struct mix_wanted *wanted,
                      const struct liquid *water, struct error *error)
{
    const struct solve_problem problem = solve_set(salts, count, wanted, water);
    *solution = (struct mix_solution){.liquid = *water};
    if (problem.rows == 0) {
        return status_error(error, STATUS_INPUT, "no ion is wanted");
    }
    enum status status = solve_nnls(solution->g_l, &problem, error);
    for (size_t k = 0; k < count && status == STATUS_OK; k++) {
        salt_dissolve(&solution->liquid, salts[k], solution->g_l[k]);
    }
    for (int ion = 0; ion < ION_COUNT; ion++) {
        if (!isnan(wanted->mmol_l[ion])) {
            solution->missed_mmol_l[ion] =
                solution->liquid.mmol_l[ion] - wanted->mmol_l[ion];
        }
    }
    if (!isnan(wanted->alkalinity_meq_l)) {
        solution->missed_meq_l =
            solution->liquid.alkalinity_meq_l - wanted->alkalinity_meq_l;
    }
    return status;
}
