/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What least squares compare with a logbook: lives tended as it says, read on arrival at
 * each entry, and how these readings change with the unknowns. */
#include <math.h>
#include <stdlib.h>

#include "fit_parts.h"
#include "pailcast/run/slopes.h"

static const double fit_rtol = 1e-6;

/* How far to step aside for a slope, in prior standard deviations: far above rounding and
 * what the pen leaves unsolved, far below any curvature (chosen). */
static const double fit_step = 1e-6;

/* Unknowns beyond so many standard deviations are no bucket's. */
static const double fit_far = 8;

enum {
    FIT_CARRIED = FIT_PEN /* unknowns of the life itself come before that of the pen */
};

struct fit_work {
    struct fit *fit;
    struct scenario *world;
    struct hands hands;
    bool stopped; /* by life_request_stop */
};

static double fit_expected(const struct fit_reading *reading,
                           const struct visit_record *visit, const struct scenario *world)
{
    switch (reading->kind) {
    case FIT_EC:
        return visit->ec_before_ms_cm + world->learned.pen_offset_ms_cm;
    case FIT_LEVEL:
        return shape_level_cm(&world->bucket, visit->volume_before_l);
    default:
        return visit->ph_before;
    }
}

static bool fit_prepare(struct fit_work *work, const double z[])
{
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        if (!(fabs(z[k]) < fit_far)) {
            return false;
        }
    }
    const struct logbook *logbook = work->fit->logbook;
    struct scenario *world = work->world;
    world->learned = fit_learned(work->fit->scenario, z);
    world->duration_d = fmax(logbook->rows[logbook->count - 1].day_d, 1e-3);
    world->sample_every_d = 2 * world->duration_d;
    world->numerics = (struct scenario_numerics){METHOD_ADAMS, fit_rtol};
    return true;
}

/* One more life; whether it came to its end with each visit of the logbook. */
static bool fit_lived(struct fit_work *work, enum status status, size_t visits)
{
    work->stopped = work->stopped || status == STATUS_STOPPED;
    fit_tell(work->fit, 1);
    return status == STATUS_OK && visits == work->fit->logbook->count;
}

static bool fit_evaluate(double residual[], const double z[], void *context)
{
    struct fit_work *work = context;
    const struct fit *fit = work->fit;
    if (!fit_prepare(work, z)) {
        return false;
    }
    struct life life;
    const enum status status =
        life_run_by(&life, work->world, fit->strategy, &work->hands, NULL);
    const bool lived = fit_lived(work, status, life.trajectory.visit_count);
    for (size_t i = 0; i < fit->readings && lived; i++) {
        const struct fit_reading *reading = &fit->list[i];
        const struct visit_record *visit = &life.trajectory.visits[reading->row];
        residual[i] =
            (fit_expected(reading, visit, work->world) - reading->value) / reading->sd;
    }
    for (size_t k = 0; k < FIT_UNKNOWNS; k++) {
        residual[fit->readings + k] = z[k];
    }
    life_free(&life);
    return lived;
}

static struct slopes fit_ask(const struct fit *fit, const double z[])
{
    struct slopes slopes = {.count = FIT_CARRIED, .step = fit_step};
    for (int k = 0; k < FIT_CARRIED; k++) {
        double aside[FIT_UNKNOWNS];
        for (int j = 0; j < FIT_UNKNOWNS; j++) {
            aside[j] = z[j] + (j == k ? fit_step : 0);
        }
        slopes.aside[k] = fit_learned(fit->scenario, aside);
    }
    return slopes;
}

/* Of one reading, by unknown. The pen's offset is added to what EC it reads and is known
 * by its prior alone elsewhere. */
static void fit_slope(double slope[FIT_UNKNOWNS], const struct fit_reading *reading,
                      const struct slopes *slopes)
{
    const struct slopes_reading *of = slopes->readings + reading->row * slopes->count;
    for (int k = 0; k < FIT_CARRIED; k++) {
        const double by_kind[] = {
            [FIT_EC] = of[k].ec_ms_cm, [FIT_LEVEL] = of[k].level_cm, [FIT_PH] = of[k].ph};
        slope[k] = by_kind[reading->kind] / reading->sd;
    }
    slope[FIT_PEN] = reading->kind == FIT_EC ? fit_prior_sd[FIT_PEN] / reading->sd : 0;
}

static bool fit_slopes(double slope[], const double z[], void *context)
{
    struct fit_work *work = context;
    const struct fit *fit = work->fit;
    if (!fit_prepare(work, z)) {
        return false;
    }
    struct slopes slopes = fit_ask(fit, z);
    struct life life;
    const enum status status =
        life_run_slopes(&life, &slopes, work->world, fit->strategy, &work->hands, NULL);
    const bool lived = fit_lived(work, status, slopes.visits);
    for (size_t i = 0; i < fit->readings && lived; i++) {
        fit_slope(slope + i * FIT_UNKNOWNS, &fit->list[i], &slopes);
    }
    double *prior = slope + fit->readings * FIT_UNKNOWNS;
    for (size_t i = 0; i < FIT_UNKNOWNS; i++) {
        for (size_t k = 0; k < FIT_UNKNOWNS; k++) {
            prior[i * FIT_UNKNOWNS + k] = i == k;
        }
    }
    life_free(&life);
    slopes_free(&slopes);
    return lived;
}

enum status fit_learn(struct fit *fit, struct error *error)
{
    struct hands_entry *entries = calloc(fit->logbook->count, sizeof *entries);
    struct scenario *world = malloc(sizeof *world);
    struct error own = {0};
    enum status status;
    if (entries == NULL || world == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the fit");
    } else {
        *world = *fit->scenario;
        fit_entries(entries, fit->logbook);
        const struct hands_log log = {entries, fit->logbook->count, NULL};
        struct fit_work work = {fit, world, hands_log(&log), false};
        const struct least_problem problem = {FIT_UNKNOWNS, fit->readings + FIT_UNKNOWNS,
                                              fit_evaluate, fit_slopes, &work};
        status = least_solve(&fit->answer, &problem, &own);
        fit->search = fit->lives;
        if (work.stopped) {
            status = status_error(error, STATUS_STOPPED, "stopped while it was learning");
        } else if (status != STATUS_OK) {
            status = status_error(error, status, "%s", own.text);
        }
    }
    free(entries);
    free(world);
    return status;
}
