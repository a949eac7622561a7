/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Buckets as they may be after all that was learned. */
#include <math.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#include "fit_parts.h"

enum status fit_draw_open(struct fit_draw *draw, const struct fit *fit,
                          struct error *error)
{
    *draw = (struct fit_draw){.fit = fit, .rng = gsl_rng_alloc(gsl_rng_mt19937)};
    if (draw->rng == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the forecast");
    }
    for (int i = 0; i < FIT_UNKNOWNS; i++) {
        for (int j = 0; j <= i; j++) {
            double sum = fit->answer.covariance[i][j];
            for (int k = 0; k < j; k++) {
                sum -= draw->root[i][k] * draw->root[j][k];
            }
            draw->root[i][j] = i == j ? sqrt(fmax(sum, 1e-12)) : sum / draw->root[j][j];
        }
    }
    return STATUS_OK;
}

void fit_draw_close(struct fit_draw *draw)
{
    if (draw->rng != NULL) {
        gsl_rng_free(draw->rng);
        draw->rng = NULL;
    }
}

void fit_draw_world(struct fit_draw *draw, struct scenario *world, int life)
{
    double z[FIT_UNKNOWNS];
    double unit[FIT_UNKNOWNS];
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        unit[k] = life == 0 ? 0 : gsl_ran_gaussian(draw->rng, 1);
        z[k] = draw->fit->answer.x[k];
        for (int j = 0; j <= k; j++) {
            z[k] += draw->root[k][j] * unit[j];
        }
    }
    fit_world(world, draw->fit->scenario, z);
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
