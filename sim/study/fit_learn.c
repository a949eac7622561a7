/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What least squares compare with a logbook: lives tended as it says, read on arrival at
 * each entry, and how these readings change with the unknowns. */
#include <math.h>
#include <stdlib.h>

#include "fit_parts.h"
#include "pailcast/run/slopes.h"
#include "pailcast/scenario/display.h"

static const double fit_rtol = 1e-6;

/* How far to step aside for a slope, in prior standard deviations: far above rounding and
 * what the pen leaves unsolved, far below any curvature (chosen). */
static const double fit_step = 1e-6;

/* A bucket that holds less of its filling is dry (chosen, as for thresholds of a run). */
static const double fit_dry_share = 0.01;

/* How many standard deviations less it is thought to drink and evaporate, at most, where
 * the scenario's plant leaves the bucket dry. */
static const int fit_start_steps = 4;

/* Unknowns beyond so many standard deviations are no bucket's. */
static const double fit_far = 8;

enum {
    FIT_CARRIED = FIT_PEN /* unknowns of the life itself come before that of the pen */
};

struct fit_work {
    struct fit *fit;
    struct scenario *world;
    struct hands hands;
    double soft;                   /* residuals beyond count in proportion */
    bool whole;                    /* what is set aside is evaluated like the rest */
    bool stopped;                  /* by life_request_stop */
    const struct logbook_row *dry; /* the last that found an empty bucket; NULL */
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

/* Expected less read, in standard deviations of the reading. */
static double fit_difference(const struct fit_reading *reading, const struct life *life,
                             const struct scenario *world)
{
    const struct visit_record *visit = &life->trajectory.visits[reading->row];
    return (fit_expected(reading, visit, world) - reading->value) / reading->sd;
}

/* The world of those unknowns; false where they are too far away. */
static bool fit_prepare(struct fit_work *work, const double z[])
{
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        if (!(fabs(z[k]) < fit_far)) {
            return false;
        }
    }
    work->world->learned = fit_learned(work->fit->scenario, z);
    return true;
}

/* One more life; whether it came to its end with each visit of the logbook. */
static bool fit_lived(struct fit_work *work, enum status status, size_t visits)
{
    work->stopped = work->stopped || status == STATUS_STOPPED;
    fit_tell(work->fit, 1);
    return status == STATUS_OK && visits == work->fit->logbook->count;
}

/* What least squares take a residual for: its square is Huber's loss, r^2 up to `soft`
 * and soft (2 |r| - soft) beyond. */
static double fit_soften(double residual, double soft)
{
    const double far = fabs(residual);
    return far <= soft ? residual : copysign(sqrt(soft * (2 * far - soft)), residual);
}

/* How that grows with the residual. */
static double fit_soften_slope(double residual, double soft)
{
    return fabs(residual) <= soft ? 1 : soft / fabs(fit_soften(residual, soft));
}

static bool fit_counts(const struct fit_work *work, size_t reading)
{
    return work->whole || !work->fit->list[reading].aside;
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
    bool lived = fit_lived(work, status, life.trajectory.visit_count);
    for (size_t i = 0; i < fit->readings && lived; i++) {
        const struct fit_reading *reading = &fit->list[i];
        const struct visit_record *visit = &life.trajectory.visits[reading->row];
        if (reading->kind != FIT_LEVEL &&
            visit->volume_before_l < fit_dry_share * work->world->bucket.full_l) {
            work->dry = &fit->logbook->rows[reading->row]; /* no pen reads there */
            lived = false;
        }
        const double off = fit_difference(reading, &life, work->world);
        residual[i] = fit_counts(work, i) ? fit_soften(off, work->soft) : 0;
        lived = lived && isfinite(residual[i]);
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
                      const struct slopes *slopes, double weight)
{
    weight /= reading->sd;
    const struct slopes_reading *of = slopes->readings + reading->row * slopes->count;
    for (int k = 0; k < FIT_CARRIED; k++) {
        const double by_kind[] = {
            [FIT_EC] = of[k].ec_ms_cm, [FIT_LEVEL] = of[k].level_cm, [FIT_PH] = of[k].ph};
        slope[k] = weight * by_kind[reading->kind];
    }
    slope[FIT_PEN] = reading->kind == FIT_EC ? weight * fit_prior_sd[FIT_PEN] : 0;
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
        const double off = fit_difference(&fit->list[i], &life, work->world);
        const double weight = fit_counts(work, i) ? fit_soften_slope(off, work->soft) : 0;
        fit_slope(slope + i * FIT_UNKNOWNS, &fit->list[i], &slopes, weight);
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

/* Where to start: at the priors or, where the scenario's plant would empty the bucket, at
 * one that drinks less. */
static enum status fit_start(struct fit_work *work, struct error *error)
{
    struct fit *fit = work->fit;
    double *residual = malloc((fit->readings + FIT_UNKNOWNS) * sizeof *residual);
    if (residual == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the fit");
    }
    double *x = fit->answer.x;
    bool found = fit_evaluate(residual, x, work);
    for (int k = 1; k <= fit_start_steps && !found && !work->stopped; k++) {
        x[FIT_DRINKING] = x[FIT_EVAPORATION] = -k;
        found = fit_evaluate(residual, x, work);
    }
    free(residual);
    return found || work->stopped
               ? STATUS_OK
               : status_error(error, STATUS_SOLVER,
                              "the bucket cannot be lived as its logbook says");
}

/* Whether any reading was evaluated as something else than it is. */
static bool fit_some_pull_less(const struct fit *fit, double soft)
{
    bool some = isfinite(soft);
    for (size_t i = 0; i < fit->readings; i++) {
        some = some || fit->list[i].aside;
    }
    return some;
}

/* Why it could not be learned from. */
static enum status fit_refuse(const struct fit_work *work, const struct error *told,
                              enum status status, struct error *error)
{
    if (work->stopped) {
        return status_error(error, STATUS_STOPPED, "stopped while it was learning");
    }
    if (status == STATUS_SOLVER && work->dry != NULL) {
        return logbook_refuse(
            work->fit->logbook, work->dry, error,
            "tended as noted, the bucket of the scenario is dry by day %s, "
            "yet something was read there; is a pour not noted, or is "
            "it another bucket or crop?",
            display_day_text(work->fit->scenario, work->dry->day_d, 2).text);
    }
    return status_error(error, status, "%s", told->text);
}

static enum status fit_search(struct fit_work *work, struct error *error)
{
    struct fit *fit = work->fit;
    least_free(&fit->answer);
    fit->answer = (struct least_answer){0};
    const enum status status = fit_start(work, error);
    if (status != STATUS_OK) {
        return status;
    }
    const struct least_problem problem = {FIT_UNKNOWNS, fit->readings + FIT_UNKNOWNS,
                                          fit_evaluate, fit_slopes, work};
    return least_solve(&fit->answer, &problem, error);
}

/* Every reading as it is, those set aside too, where the search has ended. */
static enum status fit_look_back(struct fit_work *work, struct error *error)
{
    struct least_answer *answer = &work->fit->answer;
    work->whole = true;
    work->soft = INFINITY;
    return fit_evaluate(answer->residual, answer->x, work) &&
                   fit_slopes(answer->slope, answer->x, work)
               ? STATUS_OK
               : status_error(error, STATUS_SOLVER,
                              "the bucket cannot be lived as its logbook says");
}

enum status fit_learn(struct fit *fit, double soft, struct error *error)
{
    struct scenario *world = scenario_copy(fit->scenario);
    struct error told = {0};
    const struct hands_log log = {fit->entries, fit->logbook->count, NULL};
    struct fit_work work = {
        .fit = fit, .world = world, .hands = hands_log(&log), .soft = soft};
    enum status status;
    if (world == NULL) {
        status = status_error(&told, STATUS_MEMORY, "no memory for the fit");
    } else {
        const struct logbook *logbook = fit->logbook;
        world->duration_d = fmax(logbook->rows[logbook->count - 1].day_d, 1e-3);
        world->sample_every_d = 2 * world->duration_d;
        world->numerics = (struct scenario_numerics){METHOD_ADAMS, fit_rtol};
        status = fit_search(&work, &told);
    }
    if (status == STATUS_OK && !work.stopped && fit_some_pull_less(fit, soft)) {
        status = fit_look_back(&work, &told);
    }
    if (status != STATUS_OK || work.stopped) {
        status = fit_refuse(&work, &told, status, error);
    }
    free(world);
    return status;
}
