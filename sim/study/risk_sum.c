/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/risk_sum.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_sort_float.h>
#include <gsl/gsl_statistics_float.h>

#include "risk_parts.h"

/* Two-sided 95 % of the normal distribution. */
static const double risk_normal_95 = 1.959964;

const enum outcome_code risk_targets[RISK_TARGETS] = {OUTCOME_QUIET, OUTCOME_GROWTH_INDEX,
                                                      OUTCOME_DRUNK, OUTCOME_EC_LAST};

struct risk_spread risk_sum_spread(float value[], size_t count)
{
    gsl_sort_float(value, 1, count);
    return (struct risk_spread){
        gsl_stats_float_quantile_from_sorted_data(value, 1, count, 0.1),
        gsl_stats_float_quantile_from_sorted_data(value, 1, count, 0.5),
        gsl_stats_float_quantile_from_sorted_data(value, 1, count, 0.9)};
}

/* A lives-long column being worked on. */
struct risk_column {
    const struct risk *risk;
    size_t row;
    float *value; /* [lives] */
};

static struct risk_chance risk_sum_chance(const struct risk_column *column,
                                          enum outcome_code code)
{
    const size_t lives = column->risk->plan->lives;
    size_t count = 0;
    for (size_t i = 0; i < lives; i++) {
        const float day_d = risk_values(column->risk, i, column->row)[code];
        if (!isnan(day_d)) {
            column->value[count++] = day_d;
        }
    }
    const double n = (double)lives;
    const double z2 = risk_normal_95 * risk_normal_95;
    const double share = (double)count / n;
    const double middle = (share + z2 / (2 * n)) / (1 + z2 / n);
    const double half =
        risk_normal_95 / (1 + z2 / n) * sqrt(share * (1 - share) / n + z2 / (4 * n * n));
    return (struct risk_chance){
        .share = share,
        .low = count == 0 ? 0 : middle - half,
        .high = count == lives ? 1 : middle + half,
        .median_d = count > 0 ? risk_sum_spread(column->value, count).p50 : NAN};
}

static struct risk_spread risk_sum_amount(const struct risk_column *column,
                                          enum outcome_code code, bool to_first)
{
    const size_t lives = column->risk->plan->lives;
    for (size_t i = 0; i < lives; i++) {
        const float first = risk_values(column->risk, i, 0)[code];
        column->value[i] =
            risk_values(column->risk, i, column->row)[code] - (to_first ? first : 0);
    }
    return risk_sum_spread(column->value, lives);
}

static struct risk_spread risk_sum_band(const struct risk_column *column,
                                        enum outcome_curve curve, size_t point)
{
    const struct risk *risk = column->risk;
    const size_t per_strategy = OUTCOME_CURVES * risk->grid_count;
    const size_t per_life = risk->scenario->strategy_count * per_strategy;
    const float *at = risk->curves + column->row * per_strategy +
                      (size_t)curve * risk->grid_count + point;
    for (size_t i = 0; i < risk->plan->lives; i++) {
        column->value[i] = at[i * per_life];
    }
    return risk_sum_spread(column->value, risk->plan->lives);
}

static double risk_sum_quiet(const struct risk_column *column, double day_d)
{
    size_t quiet = 0;
    for (size_t i = 0; i < column->risk->plan->lives; i++) {
        const float first_d = risk_values(column->risk, i, column->row)[OUTCOME_ACTION];
        quiet += !(first_d <= day_d);
    }
    return (double)quiet / (double)column->risk->plan->lives;
}

/* f of the worlds of Saltelli's scheme for one input into a, b and ab[base]. */
static void risk_sum_scheme(double *const f[3], const struct risk_column *column,
                            size_t input, enum outcome_code code)
{
    const struct risk *risk = column->risk;
    for (size_t r = 0; r < risk->plan->base; r++) {
        const size_t extra = risk->plan->lives + r * (risk->input_count + 1);
        f[0][r] = risk_values(risk, r, column->row)[code];
        f[1][r] = risk_values(risk, extra, column->row)[code];
        f[2][r] = risk_values(risk, extra + 1 + input, column->row)[code];
    }
}

static void risk_sum_matters(struct risk_row *row, const struct risk_column *column,
                             double scratch[])
{
    const size_t base = column->risk->plan->base;
    double *const f[3] = {scratch, scratch + base, scratch + 2 * base};
    for (size_t t = 0; t < RISK_TARGETS; t++) {
        for (size_t i = 0; i < column->risk->input_count; i++) {
            risk_sum_scheme(f, column, i, risk_targets[t]);
            row->matters[t][i] = sobol_of(f[0], f[1], f[2], base);
        }
    }
}

static void risk_sum_row(struct risk_row *row, const struct risk_column *column,
                         double scratch[])
{
    const struct risk *risk = column->risk;
    row->strategy = &risk->scenario->strategies[column->row];
    for (int i = 0; i < OUTCOME_COUNT; i++) {
        if (i < OUTCOME_DAYS) {
            row->chance[i] = risk_sum_chance(column, (enum outcome_code)i);
            row->left[i] =
                risk_sum_chance(column, (enum outcome_code)(OUTCOME_LEFT + i)).share;
            continue;
        }
        row->amount[i] = risk_sum_amount(column, (enum outcome_code)i, false);
        row->difference[i] = risk_sum_amount(column, (enum outcome_code)i, true);
    }
    for (size_t p = 0; p < risk->grid_count; p++) {
        for (int c = 0; c < OUTCOME_CURVES; c++) {
            row->band[c][p] = risk_sum_band(column, (enum outcome_curve)c, p);
        }
        row->quiet[p] = risk_sum_quiet(column, (double)p * risk->grid_step_d);
    }
    risk_sum_matters(row, column, scratch);
}

enum status risk_sum_up(struct risk_sum **sum, const struct risk *risk,
                        struct error *error)
{
    const size_t lives = risk->plan->lives;
    struct risk_sum *made = calloc(1, sizeof *made);
    float *value = malloc(lives * sizeof *value);
    double *scratch = malloc((3 * risk->plan->base + 1) * sizeof *scratch);
    enum status status = STATUS_OK;
    if (made == NULL || value == NULL || scratch == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory to sum %zu lives", lives);
        free(made);
    } else {
        made->risk = risk;
        made->row_count = risk->scenario->strategy_count;
        for (size_t k = 0; k < made->row_count; k++) {
            const struct risk_column column = {risk, k, value};
            risk_sum_row(&made->rows[k], &column, scratch);
            risk_next(made, k, value);
        }
        risk_verdict(made);
        *sum = made;
    }
    free(value);
    free(scratch);
    return status;
}
