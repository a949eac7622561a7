/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How to go on: the days of the forecast under each strategy of the scenario, in the same
 * drawn buckets, so that strategies differ by what they do and not by luck. */
#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_randist.h>

#include "fit_parts.h"
#include "pailcast/study/keep.h"

struct choices {
    struct fit *fit;
    struct scenario *world;
    struct hands_entry *entries;
    struct fit_draw draw;
    double ec[FIT_LIVES], sodium[FIT_LIVES], least_l[FIT_LIVES];
    int out[ION_COUNT], ec_high, ec_low; /* lives */
};

/* What happened after the last entry in one life. */
static void choices_count(struct choices *choices, int number, const struct life *life)
{
    const struct scenario_limits *limits = &choices->world->limits;
    const double from_d =
        choices->fit->logbook->rows[choices->fit->logbook->count - 1].day_d;
    const struct trajectory *path = &life->trajectory;
    bool out[ION_COUNT] = {false};
    bool high = false;
    bool low = false;
    double least_l = INFINITY;
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *sample = &path->samples[i];
        if (sample->day_d <= from_d) {
            continue;
        }
        const struct liquid liquid = state_liquid(sample->state);
        for (int ion = 0; ion < ION_COUNT; ion++) {
            out[ion] = out[ion] || liquid.mmol_l[ion] < limits->low_mmol_l[ion];
        }
        high = high || sample->ec_ms_cm > limits->ec_high_ms_cm;
        low = low || sample->ec_ms_cm < limits->ec_low_ms_cm;
        least_l = fmin(least_l, sample->state[STATE_VOLUME]);
    }
    for (int ion = 0; ion < ION_COUNT; ion++) {
        choices->out[ion] += out[ion];
    }
    choices->ec_high += high;
    choices->ec_low += low;
    choices->least_l[number] = least_l;
    const struct sample *last = &path->samples[path->sample_count - 1];
    choices->sodium[number] = state_liquid(last->state).mmol_l[ION_NA];
    choices->ec[number] = last->ec_ms_cm + choices->world->learned.pen_offset_ms_cm +
                          gsl_ran_gaussian(choices->draw.rng, keep_noise_usual.ec_ms_cm);
}

static void choices_next(const struct choices *choices, struct fit_choice *choice,
                         const struct life *life)
{
    const struct fit *fit = choices->fit;
    const double from_d = fit->logbook->rows[fit->logbook->count - 1].day_d;
    for (size_t i = 0; i < life->trajectory.visit_count; i++) {
        if (life->trajectory.visits[i].day_d > from_d) {
            choice->next_visit = life->trajectory.visits[i];
            choice->next_visit.strategy = choice->strategy;
            return;
        }
    }
    choice->next_visit.day_d = NAN;
}

static enum status choices_live(struct choices *choices, struct fit_choice *choice,
                                int number, struct error *error)
{
    const struct fit *fit = choices->fit;
    struct life life;
    fit_draw_world(&choices->draw, choices->world, number);
    const struct strategy then = fit_draw_hands(choice->strategy, choices->world);
    const struct hands_log log = {choices->entries, fit->logbook->count, &then};
    const struct hands hands = hands_log(&log);
    choices->world->duration_d = fit->moments[fit->moment_count - 1].day_d;
    choices->world->sample_every_d = 1.0 / FIT_MOMENTS_A_DAY;
    enum status status = life_run_by(&life, choices->world, fit->strategy, &hands, error);
    if (status == STATUS_OK) {
        choices_count(choices, number, &life);
    }
    if (status == STATUS_OK && number == 0) {
        choices_next(choices, choice, &life);
    }
    life_free(&life);
    return status;
}

static void choices_sum(struct choices *choices, struct fit_choice *choice)
{
    choice->ec_ms_cm = fit_draw_band(choices->ec);
    choice->sodium_mmol_l = fit_draw_band(choices->sodium);
    choice->least_l = fit_draw_band(choices->least_l).low;
    choice->ec_high_chance = (double)choices->ec_high / FIT_LIVES;
    choice->ec_low_chance = (double)choices->ec_low / FIT_LIVES;
    choice->scarce = ION_COUNT;
    int most = 0;
    for (int ion = 0; ion < ION_COUNT; ion++) {
        if (choices->out[ion] > most) {
            most = choices->out[ion];
            choice->scarce = (enum ion)ion;
        }
    }
    choice->scarce_chance = (double)most / FIT_LIVES;
}

/* One strategy on its own: it shares nothing that is written to with another. */
static enum status choices_one(struct fit *fit, struct hands_entry *entries, size_t index,
                               struct error *error)
{
    struct choices *choices = calloc(1, sizeof *choices);
    struct scenario *world = malloc(sizeof *world);
    struct fit_choice *choice = &fit->choices[index];
    enum status status = STATUS_OK;
    if (choices == NULL || world == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the forecast");
    } else {
        *choices = (struct choices){.fit = fit, .world = world, .entries = entries};
        choice->strategy = &fit->scenario->strategies[index];
        status = fit_draw_open(&choices->draw, fit, error);
    }
    for (int life = 0; life < FIT_LIVES && status == STATUS_OK; life++) {
        status = choices_live(choices, choice, life, error);
    }
    if (status == STATUS_OK) {
        choices_sum(choices, choice);
    }
    if (choices != NULL) {
        fit_draw_close(&choices->draw);
    }
    free(choices);
    free(world);
    return status;
}

static enum status choices_all(struct fit *fit, struct hands_entry *entries, size_t count,
                               struct error *error)
{
    enum status status = STATUS_OK;
#pragma omp parallel for schedule(dynamic) default(shared)
    for (size_t i = 0; i < count; i++) {
        struct error own = {0};
        const enum status mine = choices_one(fit, entries, i, &own);
#pragma omp critical
        if (mine != STATUS_OK && status == STATUS_OK) {
            status = status_error(error, mine, "%s", own.text);
        }
    }
    return status;
}

enum status fit_choices(struct fit *fit, struct error *error)
{
    const size_t count = fit->scenario->strategy_count;
    struct hands_entry *entries = calloc(fit->logbook->count, sizeof *entries);
    fit->choices = calloc(count, sizeof *fit->choices);
    enum status status = STATUS_OK;
    if (entries == NULL || fit->choices == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the forecast");
    } else {
        fit_entries(entries, fit->logbook);
        fit->choice_count = count;
        status = choices_all(fit, entries, count, error);
    }
    free(entries);
    return status;
}
