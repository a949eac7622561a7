/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking ahead: lives with unknowns drawn from what was learned, tended as the logbook
 * says and from its last entry on by the strategy. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sort.h>

#include "fit_parts.h"
#include "pailcast/study/keep.h"

enum {
    FORECAST_COLUMNS = 3 + ION_COUNT /* EC, volume, pH, ions */
};

/* How long an absence is looked into, d. */
static const double forecast_absence_d = 60;

/* The share of lives that must keep their roots in water. */
static const double forecast_sure = 0.05;

struct forecast {
    struct fit *fit;
    struct hands_entry *entries;
    double *values; /* [moment][column][life] */
    double dry_d[FIT_LIVES];
    double from_d;
};

/* As the grower will read it: with the pen's offset and the scatter of pen and ruler. */
static void forecast_note(struct forecast *forecast, const struct fit_draw *draw,
                          size_t moment, const struct sample *sample)
{
    const struct scenario *world = draw->world;
    double *at =
        forecast->values + moment * FORECAST_COLUMNS * FIT_LIVES + (size_t)draw->number;
    const double level_cm =
        sample->level_cm + gsl_ran_gaussian(draw->rng, keep_noise_usual.level_cm);
    at[0] = sample->ec_ms_cm + world->learned.pen_offset_ms_cm +
            gsl_ran_gaussian(draw->rng, keep_noise_usual.ec_ms_cm);
    at[FIT_LIVES] = shape_volume_l(&world->bucket, fmax(level_cm, 0));
    at[2 * (size_t)FIT_LIVES] =
        sample->ph + gsl_ran_gaussian(draw->rng, keep_noise_usual.ph);
    const struct liquid liquid = state_liquid(sample->state);
    for (size_t i = 0; i < ION_COUNT; i++) {
        at[(3 + i) * FIT_LIVES] = liquid.mmol_l[i];
    }
}

static void forecast_keep(struct fit *fit, const struct life *life, double from_d)
{
    for (size_t i = 0; i < life->trajectory.visit_count; i++) {
        const struct visit_record *visit = &life->trajectory.visits[i];
        if (visit->day_d > from_d + 1e-9) {
            fit->next_visit = *visit;
            fit->next_visit.strategy = fit->strategy;
            fit->next_visit_d = visit->day_d;
            break;
        }
    }
    fit->likely = *life;
}

static enum status forecast_live(struct forecast *forecast, const struct fit_draw *draw,
                                 struct error *error)
{
    struct fit *fit = forecast->fit;
    const struct strategy strategy = fit_draw_hands(fit->strategy, draw->world);
    const struct hands_log log = {forecast->entries, fit->logbook->count, &strategy};
    const struct hands hands = hands_log(&log);
    draw->world->duration_d = fit->moments[fit->moment_count - 1].day_d;
    draw->world->sample_every_d = 1.0 / FIT_MOMENTS_A_DAY;
    struct life life;
    enum status status = life_run_by(&life, draw->world, &strategy, &hands, error);
    size_t moment = 0;
    for (size_t i = 0; i < life.trajectory.sample_count && status == STATUS_OK; i++) {
        const struct sample *sample = &life.trajectory.samples[i];
        while (moment < fit->moment_count &&
               sample->day_d >= fit->moments[moment].day_d - 1e-9) {
            forecast_note(forecast, draw, moment++, sample);
        }
    }
    if (draw->number == 0) {
        forecast_keep(fit, &life, forecast->from_d);
    } else {
        life_free(&life);
    }
    return status;
}

/* The same life with nobody coming any more. */
static enum status forecast_leave(struct forecast *forecast, const struct fit_draw *draw,
                                  struct error *error)
{
    const struct fit *fit = forecast->fit;
    const struct hands_log log = {forecast->entries, fit->logbook->count, NULL};
    const struct hands hands = hands_log(&log);
    draw->world->duration_d = forecast->from_d + forecast_absence_d;
    draw->world->sample_every_d = 2 * draw->world->duration_d;
    struct life life;
    enum status status = life_run_by(&life, draw->world, fit->strategy, &hands, error);
    const double dry_d = life.first.roots_dry;
    forecast->dry_d[draw->number] =
        isnan(dry_d) ? INFINITY : fmax(dry_d, forecast->from_d);
    life_free(&life);
    return status;
}

static enum status forecast_one(void *context, const struct fit_draw *draw,
                                struct error *error)
{
    const enum status status = forecast_live(context, draw, error);
    return status == STATUS_OK ? forecast_leave(context, draw, error) : status;
}

static void forecast_sum(struct forecast *forecast)
{
    struct fit *fit = forecast->fit;
    for (size_t k = 0; k < fit->moment_count; k++) {
        double *at = &forecast->values[k * FORECAST_COLUMNS * FIT_LIVES];
        fit->moments[k].ec_ms_cm = fit_draw_band(at);
        fit->moments[k].volume_l = fit_draw_band(at + FIT_LIVES);
        fit->moments[k].ph = fit_draw_band(at + 2 * (size_t)FIT_LIVES);
        for (size_t i = 0; i < ION_COUNT; i++) {
            fit->moments[k].ion_mmol_l[i] = fit_draw_band(at + (3 + i) * FIT_LIVES);
        }
    }
    gsl_sort(forecast->dry_d, 1, FIT_LIVES);
    fit->safe_until_d = forecast->dry_d[(size_t)(forecast_sure * FIT_LIVES)];
}

static enum status forecast_all(struct forecast *forecast, struct error *error)
{
    const struct fit_draw_task task = {forecast_one, forecast, 2};
    fit_entries(forecast->entries, forecast->fit->logbook);
    const enum status status = fit_draw_all(forecast->fit, &task, error);
    if (status == STATUS_OK) {
        forecast_sum(forecast);
    }
    return status;
}

enum status fit_forecast(struct fit *fit, struct error *error)
{
    struct forecast forecast = {.fit = fit};
    const size_t rows = fit->logbook->count;
    fit->moment_count = FIT_MOMENTS_A_DAY * (size_t)fmax(ceil(fit->plan->ahead_d), 1);
    fit->moments = calloc(fit->moment_count, sizeof *fit->moments);
    fit->next_visit_d = NAN;
    forecast.from_d = fit->logbook->rows[rows - 1].day_d;
    forecast.entries = calloc(rows, sizeof *forecast.entries);
    forecast.values =
        calloc(fit->moment_count * FORECAST_COLUMNS * FIT_LIVES, sizeof(double));
    enum status status = STATUS_OK;
    if (fit->moments == NULL || forecast.entries == NULL || forecast.values == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the forecast");
    } else {
        for (size_t k = 0; k < fit->moment_count; k++) {
            fit->moments[k].day_d = forecast.from_d + (double)(k + 1) / FIT_MOMENTS_A_DAY;
        }
        status = forecast_all(&forecast, error);
    }
    free(forecast.entries);
    free(forecast.values);
    return status;
}
