/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Buckets as they may be after all that was learned. */
#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

#include "crew.h"
#include "fit_parts.h"
#include "pailcast/base/hash.h"

struct fit_draw_crew {
    struct fit *fit;
    const struct fit_draw_task *task;
    double root[FIT_UNKNOWNS][FIT_UNKNOWNS]; /* Cholesky factor of the covariance */
};

static void fit_draw_spread(struct fit_draw_crew *own)
{
    for (int i = 0; i < FIT_UNKNOWNS; i++) {
        for (int j = 0; j <= i; j++) {
            double sum = own->fit->answer.covariance[i][j];
            for (int k = 0; k < j; k++) {
                sum -= own->root[i][k] * own->root[j][k];
            }
            own->root[i][j] = i == j ? sqrt(fmax(sum, 1e-12)) : sum / own->root[j][j];
        }
    }
}

double fit_last_day(const struct fit *fit)
{
    return fit->logbook->rows[fit->logbook->count - 1].day_d;
}

double fit_days_ahead(const struct fit *fit)
{
    return fmax(ceil(fit->plan->ahead_d), 1);
}

static void fit_draw_world(const struct fit_draw *draw, const struct fit_draw_crew *own)
{
    const struct fit *fit = draw->fit;
    double z[FIT_UNKNOWNS];
    double unit[FIT_UNKNOWNS];
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        unit[k] = draw->number == 0 ? 0 : gsl_ran_gaussian(draw->rng, 1);
        z[k] = fit->answer.x[k];
        for (int j = 0; j <= k; j++) {
            z[k] += own->root[k][j] * unit[j];
        }
    }
    fit_world(draw->world, fit->scenario, z);
    draw->world->duration_d = fit_last_day(fit) + fit_days_ahead(fit);
    draw->world->sample_every_d = 1.0 / FIT_MOMENTS_A_DAY;
}

static enum status fit_draw_one(void *context, size_t number, struct error *error)
{
    const struct fit_draw_crew *own = context;
    struct fit_draw draw = {own->fit, number, malloc(sizeof *draw.world),
                            gsl_rng_alloc(gsl_rng_mt19937)};
    enum status status;
    if (draw.world == NULL || draw.rng == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the forecast");
    } else {
        gsl_rng_set(draw.rng, (unsigned long)hash_mix(number));
        fit_draw_world(&draw, own);
        status = own->task->one(own->task->context, &draw, error);
    }
    gsl_rng_free(draw.rng);
    free(draw.world);
    return status;
}

static enum status fit_draw_told(void *context, size_t number, struct error *error)
{
    const struct fit_draw_crew *own = context;
    (void)number;
    (void)error;
    fit_tell(own->fit, own->task->lives);
    return STATUS_OK;
}

enum status fit_draw_all(struct fit *fit, const struct fit_draw_task *task,
                         struct error *error)
{
    struct fit_draw_crew own = {.fit = fit, .task = task};
    const struct crew crew = {
        .count = FIT_LIVES, .work = fit_draw_one, .done = fit_draw_told, .context = &own};
    fit_draw_spread(&own);
    return crew_work(&crew, error);
}

/* What a strategy does with the pen of that world. */
static struct strategy fit_draw_hands(const struct strategy *strategy,
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

enum status fit_draw_live(struct life *life, const struct fit_draw *draw,
                          const struct strategy *then, struct error *error)
{
    const struct fit *fit = draw->fit;
    const struct strategy seen =
        fit_draw_hands(then != NULL ? then : fit->strategy, draw->world);
    const struct hands_log log = {&fit->entries[fit->logbook->count - 1], 1,
                                  then != NULL ? &seen : NULL};
    const struct hands hands = hands_log(&log);
    const enum status status =
        life_go_on(life, &fit->stand[draw->number], draw->world, &seen, &hands, error);
    for (size_t i = 0; i < life->trajectory.visit_count; i++) {
        life->trajectory.visits[i].strategy = then;
    }
    return status;
}

enum status fit_draw_whole(struct life *life, const struct fit_draw *draw,
                           const struct strategy *then, struct error *error)
{
    const struct fit *fit = draw->fit;
    const size_t logged = fit->logbook->count;
    const struct strategy seen = fit_draw_hands(then, draw->world);
    const struct hands_log log = {fit->entries, logged, &seen};
    const struct hands hands = hands_log(&log);
    const enum status status =
        life_run_by(life, draw->world, fit->strategy, &hands, error);
    for (size_t i = logged; i < life->trajectory.visit_count; i++) {
        life->trajectory.visits[i].strategy = then;
    }
    return status;
}

struct visit_record fit_draw_next(const struct life *life)
{
    const struct trajectory *path = &life->trajectory;
    return path->visit_count > 0 ? path->visits[0] : (struct visit_record){.day_d = NAN};
}

struct fit_band fit_draw_band(double values[FIT_LIVES])
{
    gsl_sort(values, 1, FIT_LIVES);
    return (struct fit_band){
        gsl_stats_quantile_from_sorted_data(values, 1, FIT_LIVES, 0.05),
        gsl_stats_quantile_from_sorted_data(values, 1, FIT_LIVES, 0.5),
        gsl_stats_quantile_from_sorted_data(values, 1, FIT_LIVES, 0.95)};
}
