/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking ahead: lives with unknowns drawn from what was learned, tended as the logbook
 * says and from its last entry on by the strategy. */
#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sort.h>

#include "fit_parts.h"
#include "pailcast/base/moment.h"
#include "pailcast/study/absence.h"
#include "pailcast/study/keep.h"

enum {
    FORECAST_EC,
    FORECAST_VOLUME,
    FORECAST_PH,
    FORECAST_IONS,
    FORECAST_COLUMNS = FORECAST_IONS + ION_COUNT
};

/* The share of lives whose roots may have lost the water. */
static const double forecast_risk = 0.05;

struct forecast {
    struct fit *fit;
    double (*values)[FORECAST_COLUMNS][FIT_LIVES]; /* [moment] */
    double dry_d[FIT_LIVES], limit_d[FIT_LIVES];   /* nobody comes: INFINITY if never */
    struct absence_limit limit[FIT_LIVES];
};

/* As the grower will read it: with the pen's offset and the scatter of pen and ruler. */
static void forecast_note(struct forecast *forecast, const struct fit_draw *draw,
                          size_t moment, const struct sample *sample)
{
    const struct scenario *world = draw->world;
    double(*at)[FIT_LIVES] = forecast->values[moment];
    const size_t n = draw->number;
    const double level_cm =
        sample->level_cm + gsl_ran_gaussian(draw->rng, keep_noise_usual.level_cm);
    const double ec_ms_cm = sample->ec_ms_cm + world->learned.pen_offset_ms_cm +
                            gsl_ran_gaussian(draw->rng, keep_noise_usual.ec_ms_cm);
    at[FORECAST_EC][n] = fmax(ec_ms_cm, 0); /* no pen shows less */
    at[FORECAST_VOLUME][n] = shape_volume_l(&world->bucket, fmax(level_cm, 0));
    at[FORECAST_PH][n] = sample->ph + gsl_ran_gaussian(draw->rng, keep_noise_usual.ph);
    const struct liquid liquid = state_liquid(sample->state);
    for (int i = 0; i < ION_COUNT; i++) {
        at[FORECAST_IONS + i][n] = liquid.mmol_l[i];
    }
}

/* The bucket on a day between two rows, straight from the one to the other: an entry may
 * be of any minute, rows are not. */
static struct sample forecast_between(const struct sample *row, const struct sample *next,
                                      double day_d)
{
    const double share = (day_d - row->day_d) / (next->day_d - row->day_d);
    struct sample there = {
        .day_d = day_d,
        .ec_ms_cm = (1 - share) * row->ec_ms_cm + share * next->ec_ms_cm,
        .ph = (1 - share) * row->ph + share * next->ph,
        .level_cm = (1 - share) * row->level_cm + share * next->level_cm};
    for (int i = 0; i < STATE_COUNT; i++) {
        there.state[i] = (1 - share) * row->state[i] + share * next->state[i];
    }
    return there;
}

static enum status forecast_live(struct forecast *forecast, const struct fit_draw *draw,
                                 struct error *error)
{
    struct fit *fit = forecast->fit;
    struct life life;
    const enum status status = fit_draw_live(&life, draw, fit->strategy, error);
    size_t moment = 0;
    for (size_t i = 1; i < life.trajectory.sample_count && status == STATUS_OK; i++) {
        const struct sample *next = &life.trajectory.samples[i];
        while (moment < fit->moment_count &&
               next->day_d >= fit->moments[moment].day_d - moment_slack_d) {
            const struct sample there =
                forecast_between(next - 1, next, fit->moments[moment].day_d);
            forecast_note(forecast, draw, moment++, &there);
        }
    }
    if (draw->number == 0) {
        fit->next_visit = fit_draw_next(&life);
    }
    life_free(&life);
    return status;
}

/* Nobody comes any more. */
static enum status forecast_leave(struct forecast *forecast, const struct fit_draw *draw,
                                  struct error *error)
{
    struct life life;
    draw->world->duration_d = fit_last_day(draw->fit) + ABSENCE_D;
    draw->world->sample_every_d = 2 * draw->world->duration_d;
    const enum status status = fit_draw_live(&life, draw, NULL, error);
    const double last_d = fit_last_day(draw->fit);
    const double next_d = strategy_visit_after(draw->fit->strategy, last_d);
    const struct absence_limit limit = absence_limit_of(
        &life.first, last_d + moment_slack_d, isfinite(next_d) ? next_d : last_d);
    forecast->dry_d[draw->number] = fmin(life.first.roots_dry, INFINITY);
    forecast->limit_d[draw->number] = limit.day_d;
    forecast->limit[draw->number] = limit;
    life_free(&life);
    return status;
}

static enum status forecast_one(void *context, const struct fit_draw *draw,
                                struct error *error)
{
    struct forecast *forecast = context;
    enum status status = forecast_live(forecast, draw, error);
    if (status == STATUS_OK && draw->number == 0) {
        status = fit_draw_whole(&forecast->fit->likely, draw, draw->fit->strategy, error);
    }
    return status == STATUS_OK ? forecast_leave(forecast, draw, error) : status;
}

static void forecast_sum(struct forecast *forecast)
{
    struct fit *fit = forecast->fit;
    for (size_t k = 0; k < fit->moment_count; k++) {
        double(*at)[FIT_LIVES] = forecast->values[k];
        fit->moments[k].ec_ms_cm = fit_draw_band(at[FORECAST_EC]);
        fit->moments[k].volume_l = fit_draw_band(at[FORECAST_VOLUME]);
        fit->moments[k].ph = fit_draw_band(at[FORECAST_PH]);
        for (int i = 0; i < ION_COUNT; i++) {
            fit->moments[k].ion_mmol_l[i] = fit_draw_band(at[FORECAST_IONS + i]);
        }
    }
    size_t order[FIT_LIVES];
    const size_t few = (size_t)(forecast_risk * FIT_LIVES);
    gsl_sort(forecast->dry_d, 1, FIT_LIVES);
    gsl_sort_index(order, forecast->limit_d, 1, FIT_LIVES);
    fit->safe_until_d = forecast->dry_d[few];
    fit->first_limit = forecast->limit[order[few]];
}

enum status fit_forecast(struct fit *fit, struct error *error)
{
    struct forecast forecast = {.fit = fit};
    const struct fit_draw_task task = {forecast_one, &forecast, 2};
    fit->moment_count = FIT_MOMENTS_A_DAY * (size_t)fit_days_ahead(fit);
    fit->moments = calloc(fit->moment_count, sizeof *fit->moments);
    forecast.values = calloc(fit->moment_count, sizeof *forecast.values);
    enum status status = STATUS_OK;
    if (fit->moments == NULL || forecast.values == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the forecast");
    } else {
        for (size_t k = 0; k < fit->moment_count; k++) {
            fit->moments[k].day_d =
                fit_last_day(fit) + (double)(k + 1) / FIT_MOMENTS_A_DAY;
        }
        status = fit_draw_all(fit, &task, error);
        if (status == STATUS_OK) {
            forecast_sum(&forecast);
        }
    }
    free(forecast.values);
    return status;
}
