/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Buckets as they may be after all that was learned. */
#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#include "fit_parts.h"
#include "pailcast/base/hash.h"

struct fit_spread fit_spread_of(const struct fit *fit)
{
    struct fit_spread spread = {.fit = fit};
    for (int i = 0; i < FIT_UNKNOWNS; i++) {
        for (int j = 0; j <= i; j++) {
            double sum = fit->answer.covariance[i][j];
            for (int k = 0; k < j; k++) {
                sum -= spread.root[i][k] * spread.root[j][k];
            }
            spread.root[i][j] = i == j ? sqrt(fmax(sum, 1e-12)) : sum / spread.root[j][j];
        }
    }
    return spread;
}

enum status fit_draw_open(struct fit_draw *draw, const struct fit_spread *spread,
                          int number, struct error *error)
{
    *draw = (struct fit_draw){number, malloc(sizeof *draw->world),
                              gsl_rng_alloc(gsl_rng_mt19937)};
    if (draw->world == NULL || draw->rng == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the forecast");
    }
    gsl_rng_set(draw->rng, (unsigned long)hash_mix((uint64_t)number));
    double z[FIT_UNKNOWNS];
    double unit[FIT_UNKNOWNS];
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        unit[k] = number == 0 ? 0 : gsl_ran_gaussian(draw->rng, 1);
        z[k] = spread->fit->answer.x[k];
        for (int j = 0; j <= k; j++) {
            z[k] += spread->root[k][j] * unit[j];
        }
    }
    fit_world(draw->world, spread->fit->scenario, z);
    return STATUS_OK;
}

void fit_draw_close(struct fit_draw *draw)
{
    if (draw->rng != NULL) {
        gsl_rng_free(draw->rng);
    }
    free(draw->world);
}

static enum status fit_draw_one(const struct fit_draw_task *task,
                                const struct fit_spread *spread, int number,
                                struct error *error)
{
    struct fit_draw draw;
    enum status status = fit_draw_open(&draw, spread, number, error);
    if (status == STATUS_OK) {
        status = task->one(task->context, &draw, error);
    }
    fit_draw_close(&draw);
    return status;
}

enum status fit_draw_all(struct fit *fit, const struct fit_draw_task *task,
                         struct error *error)
{
    const struct fit_spread spread = fit_spread_of(fit);
    enum status status = STATUS_OK;
#pragma omp parallel for schedule(dynamic) default(shared)
    for (int number = 0; number < FIT_LIVES; number++) {
        enum status seen;
#pragma omp atomic read
        seen = status;
        if (seen != STATUS_OK) {
            continue;
        }
        struct error own = {0};
        const enum status mine = fit_draw_one(task, &spread, number, &own);
#pragma omp critical
        {
            fit_tell(fit, task->lives);
            if (mine != STATUS_OK && status == STATUS_OK) {
                (void)status_error(error, mine, "%s", own.text);
#pragma omp atomic write
                status = mine;
            }
        }
    }
    return status;
}

struct strategy fit_draw_hands(const struct strategy *strategy,
                               const struct scenario *world)
{
    struct strategy seen = *strategy;
    const double offset = world->learned.pen_offset_ms_cm;
    seen.fill.aim_ec_ms_cm -= offset;
    seen.renew_above_ec_ms_cm -= offset;
    for (size_t i = 0; i < seen.stage_count; i++) {
        seen.stages[i].fill.aim_ec_ms_cm -= offset;
    }
    return seen;
}

struct fit_band fit_draw_band(double values[FIT_LIVES])
{
    gsl_sort(values, 1, FIT_LIVES);
    return (struct fit_band){
        gsl_stats_quantile_from_sorted_data(values, 1, FIT_LIVES, 0.05),
        gsl_stats_quantile_from_sorted_data(values, 1, FIT_LIVES, 0.5),
        gsl_stats_quantile_from_sorted_data(values, 1, FIT_LIVES, 0.95)};
}
