/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/why.h"

#include <math.h>
#include <stdlib.h>

#include "pailcast/base/moment.h"
#include "pailcast/study/compare.h"
#include "why_ahead.h"
#include "why_outlook.h"
#include "why_split.h"

const char *const why_part_key[WHY_PART_COUNT] = {[WHY_DRINKING] = "drinking",
                                                  [WHY_EATING] = "eating",
                                                  [WHY_EVAPORATION] = "evaporation",
                                                  [WHY_WATER] = "water",
                                                  [WHY_STOCK] = "stock",
                                                  [WHY_RENEWAL] = "renewal",
                                                  [WHY_OTHER] = "other"};

const char *const why_heading_word[WHY_HEADING_COUNT] = {
    [WHY_STEADY] = "steady",     [WHY_RISES] = "rises",      [WHY_FALLS] = "falls",
    [WHY_RUNS_OUT] = "runs out", [WHY_GONE] = "has run out",
};

/* Samples this far apart: lamp on and lamp off are told apart, and half of it moves no
 * part by more than a thousandth of the largest (a test). */
static const double why_step_d = 1.0 / 24;

/* A walk along a life. */
struct why_walk {
    struct why *why;
    struct pen pen;
    const struct trajectory *path;
    const struct sample *start, *opened; /* of the whole, of the present stretch */
    const struct sample *at;
    size_t visit; /* the next to come */
};

/* The end of a life that lasts until from_d: the state there to the last digit, wherever
 * samples and stops of the longer life fall. */
static enum status why_begin(struct sample *start, struct scenario *lived,
                             const struct strategy *strategy, double from_d,
                             struct error *error)
{
    struct life life;
    lived->duration_d = from_d;
    lived->sample_every_d = fmax(from_d, why_step_d);
    enum status status = life_run(&life, lived, strategy, error);
    if (status == STATUS_OK) {
        *start = life.trajectory.samples[life.trajectory.sample_count - 1];
    }
    life_free(&life);
    return status;
}

static double why_salt_g(const double mmol[ION_COUNT])
{
    struct liquid as_litre = {0};
    for (int i = 0; i < ION_COUNT; i++) {
        as_litre.mmol_l[i] = mmol[i];
    }
    return liquid_salt_g_l(&as_litre);
}

static void why_close(struct why_interval *interval, const struct sample *first,
                      const struct sample *last, const struct why *why)
{
    double sum = 0;
    double moved = 0;
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        sum += interval->tally.part[i];
        moved += fabs(interval->tally.part[i]);
    }
    const double change = last->ec_ms_cm - first->ec_ms_cm;
    interval->from_d = first->day_d;
    interval->to_d = last->day_d;
    interval->ec_from_ms_cm = first->ec_ms_cm;
    interval->ec_to_ms_cm = last->ec_ms_cm;
    interval->closure = change != sum ? fabs(change - sum) / moved : 0;
    interval->salt_in_drunk_g = why_salt_g(interval->tally.in_drunk_mmol);
    interval->salt_eaten_g = why_salt_g(interval->tally.eaten_mmol);
    interval->eaten_share = interval->salt_in_drunk_g > 0
                                ? interval->salt_eaten_g / interval->salt_in_drunk_g
                                : NAN;
    why_outlook(interval, first, last, why->scenario, why->strategy);
}

/* Ends the present stretch here and opens the next. */
static void why_turn(struct why_walk *walk)
{
    struct why *why = walk->why;
    why_close(&why->intervals[why->interval_count - 1], walk->opened, walk->at, why);
    walk->opened = walk->at;
    why->intervals[why->interval_count++] = (struct why_interval){.ec_before_ms_cm = NAN};
}

static void why_step(struct why_walk *walk, const struct sample *next)
{
    struct why *why = walk->why;
    struct why_interval *open = &why->intervals[why->interval_count - 1];
    const bool visited = trajectory_is_visit(next);
    const struct why_tally step =
        visited ? why_split_visit(walk->at->state, &walk->path->visits[walk->visit++],
                                  why->strategy, &walk->pen)
                : why_split_drift(walk->at->state, next->state, &walk->pen);
    why_split_add(&why->intervals[0].tally, &step);
    why_split_add(&open->tally, &step);
    if (visited) {
        open->ec_before_ms_cm = walk->at->ec_ms_cm;
    }
    walk->at = next;
    if (visited) {
        why_turn(walk);
    }
}

/* Returns the ballast; *most receives the ion that carries most of it. */
static double why_ballast(enum ion *most, const struct why_walk *walk,
                          const struct sample *sample)
{
    const struct why *why = walk->why;
    const struct compare_makeup makeup =
        compare_makeup_of(sample, why->scenario, why->strategy, &walk->pen);
    double carried = makeup.carbonate;
    *most = ION_COUNT;
    for (int i = 0; i < ION_COUNT; i++) {
        if (makeup.ballast_by_ion[i] > carried) {
            carried = makeup.ballast_by_ion[i];
            *most = (enum ion)i;
        }
    }
    return compare_makeup_ballast(&makeup, sample->ec_ms_cm);
}

/* The stretch after the last visit counts unless nothing is in it; a stretch that is the
 * only one is the whole. */
static void why_finish(struct why_walk *walk)
{
    struct why *why = walk->why;
    struct why_interval *open = &why->intervals[why->interval_count - 1];
    if (walk->at->day_d > walk->opened->day_d + moment_slack_d) {
        why_close(open, walk->opened, walk->at, why);
    } else {
        why->interval_count--;
    }
    why_close(&why->intervals[0], walk->start, walk->at, why);
    why->ballast_from_ms_cm = why_ballast(&why->ballast_most, walk, walk->start);
    why->ballast_to_ms_cm = why_ballast(&why->ballast_most, walk, walk->at);
    if (why->interval_count == 2) {
        why->intervals[0].ec_before_ms_cm = why->intervals[1].ec_before_ms_cm;
        why->interval_count = 1;
    }
}

static enum status why_walk(struct why *why, const struct trajectory *path,
                            const struct sample *start, struct error *error)
{
    struct why_walk walk = {.why = why,
                            .path = path,
                            .start = start,
                            .opened = start,
                            .at = start,
                            .pen = pen_at(why->scenario->room.water_temperature_c,
                                          why->scenario->room.root_co2_ppm)};
    /* The whole, one for each visit, the rest. */
    why->intervals = calloc(path->visit_count + 2, sizeof *why->intervals);
    if (why->intervals == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the causes of EC");
    }
    why->intervals[0].ec_before_ms_cm = NAN;
    why->intervals[1].ec_before_ms_cm = NAN;
    why->interval_count = 2;
    while (walk.visit < path->visit_count &&
           path->visits[walk.visit].day_d <= start->day_d + moment_slack_d) {
        walk.visit++;
    }
    for (size_t i = 0; i < path->sample_count; i++) {
        if (path->samples[i].day_d > start->day_d + moment_slack_d) {
            why_step(&walk, &path->samples[i]);
        }
    }
    why_finish(&walk);
    return STATUS_OK;
}

/* Lives until to_d and walks from the start, which NULL says is that of the life. */
static enum status why_live(struct why *why, struct scenario *lived,
                            const struct sample *start, double to_d, struct error *error)
{
    struct life life;
    lived->duration_d = to_d;
    lived->sample_every_d = why_step_d;
    enum status status = life_run(&life, lived, why->strategy, error);
    const struct trajectory *path = &life.trajectory;
    if (path->sample_count > 0) {
        const enum status walked =
            why_walk(why, path, start != NULL ? start : &path->samples[0], error);
        status = status == STATUS_OK ? walked : status;
    }
    if (status == STATUS_OK) {
        status = why_ahead(&why->ahead, &life, lived, why->strategy, error);
    }
    life_free(&life);
    return status;
}

enum status why_run(struct why *why, const struct scenario *scenario,
                    const struct strategy *strategy, double from_d, double to_d,
                    struct error *error)
{
    struct sample start = {0};
    enum status status = STATUS_OK;
    *why = (struct why){
        .scenario = scenario, .strategy = strategy, .ahead = {.until_d = NAN}};
    struct scenario *lived = scenario_copy(scenario);
    if (lived == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for a life");
    }
    if (from_d > 0) {
        status = why_begin(&start, lived, strategy, from_d, error);
    }
    if (status == STATUS_OK) {
        status = why_live(why, lived, from_d > 0 ? &start : NULL, to_d, error);
    }
    free(lived);
    return status;
}

void why_free(struct why *why)
{
    if (why != NULL) {
        free(why->intervals);
        *why = (struct why){0};
    }
}
