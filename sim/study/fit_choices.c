/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How to go on: the days of the forecast under each strategy of the scenario, in the same
 * drawn buckets, so that strategies differ by what they do and not by luck. */
#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_randist.h>

#include "fit_parts.h"
#include "pailcast/study/keep.h"

/* What became of each draw under one strategy. */
struct choices_tally {
    double ec[FIT_LIVES], sodium[FIT_LIVES], least_l[FIT_LIVES];
    bool out[ION_COUNT][FIT_LIVES], over[ION_COUNT][FIT_LIVES];
    bool ec_high[FIT_LIVES], ec_low[FIT_LIVES], ph_high[FIT_LIVES], ph_low[FIT_LIVES];
};

struct choices {
    struct fit *fit;
    double from_d;                 /* the first visit of any strategy */
    struct choices_tally *tallies; /* of each strategy */
};

/* Before the first of the strategies comes they are all one, and what goes wrong is no
 * choice; coming later than that is. */
static double choices_from(const struct fit *fit)
{
    const double last_d = fit_last_day(fit);
    double first_d = INFINITY;
    for (size_t i = 0; i < fit->choice_count; i++) {
        first_d = fmin(first_d, strategy_visit_after(fit->choices[i].strategy, last_d));
    }
    return first_d < last_d + fit_days_ahead(fit) ? first_d : last_d;
}

static void choices_note(struct choices_tally *tally, double from_d,
                         const struct fit_draw *draw, const struct life *life)
{
    const struct scenario_limits *limits = &draw->world->limits;
    const struct trajectory *path = &life->trajectory;
    const size_t n = draw->number;
    tally->least_l[n] = INFINITY;
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *sample = &path->samples[i];
        tally->least_l[n] = fmin(tally->least_l[n], sample->state[STATE_VOLUME]);
        if (sample->day_d <= from_d) {
            continue;
        }
        const struct liquid liquid = state_liquid(sample->state);
        for (int ion = 0; ion < ION_COUNT; ion++) {
            tally->out[ion][n] |= liquid.mmol_l[ion] < limits->low_mmol_l[ion];
            tally->over[ion][n] |= liquid.mmol_l[ion] > limits->high_mmol_l[ion];
        }
        tally->ec_high[n] |= sample->ec_ms_cm > limits->ec_high_ms_cm;
        tally->ec_low[n] |= sample->ec_ms_cm < limits->ec_low_ms_cm;
        tally->ph_high[n] |= sample->ph > limits->ph_high;
        tally->ph_low[n] |= sample->ph < limits->ph_low;
    }
    const struct sample *last = &path->samples[path->sample_count - 1];
    tally->sodium[n] = state_liquid(last->state).mmol_l[ION_NA];
    tally->ec[n] = last->ec_ms_cm + draw->world->learned.pen_offset_ms_cm;
}

static enum status choices_live(struct choices *choices, size_t index,
                                const struct fit_draw *draw, struct error *error)
{
    struct fit_choice *choice = &choices->fit->choices[index];
    struct life life;
    const enum status status = fit_draw_live(&life, draw, choice->strategy, error);
    if (status == STATUS_OK) {
        choices_note(&choices->tallies[index], choices->from_d, draw, &life);
        if (draw->number == 0) {
            choice->next_visit = fit_draw_next(&life);
        }
    }
    life_free(&life);
    return status;
}

/* The pen's scatter is the same whatever is done. */
static enum status choices_one(void *context, const struct fit_draw *draw,
                               struct error *error)
{
    struct choices *choices = context;
    const double noise = gsl_ran_gaussian(draw->rng, keep_noise_usual.ec_ms_cm);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < choices->fit->choice_count && status == STATUS_OK; i++) {
        status = choices_live(choices, i, draw, error);
        double *ec_ms_cm = &choices->tallies[i].ec[draw->number];
        *ec_ms_cm = fmax(*ec_ms_cm + noise, 0); /* no pen shows less */
    }
    return status;
}

static double choices_share(const bool happened[FIT_LIVES])
{
    int count = 0;
    for (int n = 0; n < FIT_LIVES; n++) {
        count += happened[n];
    }
    return (double)count / FIT_LIVES;
}

/* The ion that it happens to most often; ION_COUNT: to none. */
static enum ion choices_most(double *chance, bool happened[ION_COUNT][FIT_LIVES])
{
    enum ion most = ION_COUNT;
    *chance = 0;
    for (int ion = 0; ion < ION_COUNT; ion++) {
        const double share = choices_share(happened[ion]);
        if (share > *chance) {
            most = (enum ion)ion;
            *chance = share;
        }
    }
    return most;
}

static void choices_sum(struct fit_choice *choice, struct choices_tally *tally)
{
    choice->ec_ms_cm = fit_draw_band(tally->ec);
    choice->sodium_mmol_l = fit_draw_band(tally->sodium);
    choice->least_l = fit_draw_band(tally->least_l).low;
    choice->ec_high_chance = choices_share(tally->ec_high);
    choice->ec_low_chance = choices_share(tally->ec_low);
    choice->ph_high_chance = choices_share(tally->ph_high);
    choice->ph_low_chance = choices_share(tally->ph_low);
    choice->scarce = choices_most(&choice->scarce_chance, tally->out);
    choice->excess = choices_most(&choice->excess_chance, tally->over);
}

enum status fit_choices(struct fit *fit, struct error *error)
{
    const size_t count = fit->scenario->strategy_count;
    struct choices choices = {.fit = fit};
    const struct fit_draw_task task = {choices_one, &choices, count};
    choices.tallies = calloc(count, sizeof *choices.tallies);
    fit->choices = calloc(count, sizeof *fit->choices);
    enum status status = STATUS_OK;
    if (choices.tallies == NULL || fit->choices == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the forecast");
    } else {
        for (size_t i = 0; i < count; i++) {
            fit->choices[i].strategy = &fit->scenario->strategies[i];
        }
        fit->choice_count = count;
        choices.from_d = choices_from(fit);
        status = fit_draw_all(fit, &task, error);
        for (size_t i = 0; i < count && status == STATUS_OK; i++) {
            choices_sum(&fit->choices[i], &choices.tallies[i]);
        }
    }
    free(choices.tallies);
    return status;
}
