/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/tune.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/study/risk_sum.h"
#include "tune_past.h"

/* Bred at a time: one study of that many strategies (chosen). */
static const size_t tune_population = 12;

const char *const tune_setting_keys[TUNE_SETTINGS] = {
#define TUNE_KEY(code, key, words) [code] = key,
    TUNE_SETTING_LIST(TUNE_KEY)
#undef TUNE_KEY
};
const char *const tune_setting_words[TUNE_SETTINGS] = {
#define TUNE_WORDS(code, key, words) [code] = words,
    TUNE_SETTING_LIST(TUNE_WORDS)
#undef TUNE_WORDS
};
const char *const tune_aim_keys[TUNE_AIMS] = {"water_L", "salt_poured_g", "drained_L",
                                              "visits"};

/* A search in progress. */
struct tune_search {
    struct tune *tune;
    struct scenario *trial; /* the scenario with candidates for strategies; owned */
    uint64_t seed;
    struct tune_range range[TUNE_SETTINGS]; /* by place in tune->settings */
    size_t candidates_most;
    struct tune_past past;
    size_t studies; /* so far: one a generation */
};

/* A unit setting as a value on its step; the last step of the renewal interval is never.
 */
static double tune_value(const struct tune_search *search, size_t place, double unit)
{
    const struct tune_range *range = &search->range[place];
    const double value = range->low + unit * (range->high - range->low);
    const double rounded = range->step * round(value / range->step);
    const double kept = fmin(fmax(rounded, range->low), range->high);
    const bool renewal = search->tune->settings[place] == TUNE_RENEW_EVERY;
    return renewal && kept > search->tune->scenario->duration_d ? INFINITY : kept;
}

static double tune_unit(const struct tune_search *search, size_t place, double value)
{
    const struct tune_range *range = &search->range[place];
    const double kept = fmin(value, range->high);
    return fmin(fmax((kept - range->low) / (range->high - range->low), 0), 1);
}

/* What makes no difference is put to one value, so that it is not tried twice: the share
 * renewed where nothing is. */
static void tune_tidy(double setting[], void *context)
{
    const struct tune_search *search = context;
    const struct tune *tune = search->tune;
    bool renews = false;
    for (size_t i = 0; i < tune->setting_count; i++) {
        const double value = tune_value(search, i, setting[i]);
        setting[i] = tune_unit(search, i, value);
        renews |= tune->settings[i] == TUNE_RENEW_ABOVE ||
                  (tune->settings[i] == TUNE_RENEW_EVERY && isfinite(value));
    }
    for (size_t i = 0; i < tune->setting_count && !renews; i++) {
        setting[i] = tune->settings[i] == TUNE_RENEW_SHARE ? 1 : setting[i];
    }
}

static void tune_put(struct strategy *strategy, const struct tune_search *search,
                     const double setting[])
{
    *strategy = search->tune->scenario->strategies[0];
    for (size_t i = 0; i < search->tune->setting_count; i++) {
        tune_range_write(strategy, search->tune->settings[i],
                         tune_value(search, i, setting[i]));
    }
}

static double tune_median(const struct risk *risk, size_t strategy,
                          enum outcome_code code, float scratch[])
{
    for (size_t w = 0; w < risk->plan->lives; w++) {
        scratch[w] = risk_values(risk, w, strategy)[code];
    }
    return risk_sum_spread(scratch, risk->plan->lives).p50;
}

/* Share of the worlds in which it happened. */
static double tune_share(const struct risk *risk, size_t strategy, enum outcome_code code)
{
    size_t met = 0;
    for (size_t w = 0; w < risk->plan->lives; w++) {
        met += isnan(risk_values(risk, w, strategy)[code]) ? 0 : 1;
    }
    return (double)met / (double)risk->plan->lives;
}

static void tune_judge(struct tune_candidate *candidate, const struct risk *risk,
                       size_t strategy, const struct tune_plan *plan, float scratch[])
{
    for (size_t w = 0; w < risk->plan->lives; w++) {
        candidate->renewed |= risk_values(risk, w, strategy)[OUTCOME_RENEWALS] > 0;
    }
    for (int i = 0; i < OUTCOME_ACTION; i++) {
        candidate->met[i] = tune_share(risk, strategy, (enum outcome_code)i);
    }
    for (int s = 0; s < TUNE_SETTINGS; s++) {
        candidate->value[s] = NAN;
    }
    candidate->trouble = tune_share(risk, strategy, OUTCOME_ACTION);
    candidate->growth = tune_median(risk, strategy, OUTCOME_GROWTH_INDEX, scratch);
    candidate->aim[TUNE_WATER] =
        tune_median(risk, strategy, OUTCOME_WATER_POURED, scratch) +
        tune_median(risk, strategy, OUTCOME_STOCK_POURED, scratch);
    candidate->aim[TUNE_SALT] = tune_median(risk, strategy, OUTCOME_SALT_POURED, scratch);
    candidate->aim[TUNE_DUMPED] = tune_median(risk, strategy, OUTCOME_DRAINED, scratch);
    candidate->aim[TUNE_VISITS] = tune_median(risk, strategy, OUTCOME_VISITS, scratch);
    candidate->keeps = candidate->trouble <= plan->most_trouble &&
                       candidate->growth >= plan->least_growth;
}

/* By how much the limits are missed, both counted in shares; 0 when kept. */
static double tune_violation(const struct tune_candidate *candidate,
                             const struct tune_plan *plan)
{
    return fmax(candidate->trouble - plan->most_trouble, 0) +
           fmax(plan->least_growth - candidate->growth, 0);
}

/* Lives the trial's strategies in the worlds of a seed; found[strategy_count]. */
static enum status tune_live(struct tune_candidate found[], struct tune_search *search,
                             uint64_t seed, struct error *error)
{
    struct tune *tune = search->tune;
    const struct risk_plan plan = {.lives = tune->plan->worlds,
                                   .seed = seed,
                                   .part = 1,
                                   .parts = 1,
                                   .jobs = tune->plan->jobs,
                                   .scenario_path = "",
                                   .no_curves = true};
    struct risk risk = {0};
    float *scratch = malloc(plan.lives * sizeof *scratch);
    enum status status = scratch != NULL ? risk_open(&risk, search->trial, &plan, error)
                                         : status_error(error, STATUS_MEMORY,
                                                        "no memory for the candidates");
    if (status == STATUS_OK) {
        status = tune_past_recall(&search->past, &risk, search->studies++, error);
    }
    if (status == STATUS_OK) {
        status = risk_live_into(&risk, &search->past.journal, error);
    }
    for (size_t k = 0; status == STATUS_OK && k < search->trial->strategy_count; k++) {
        tune_judge(&found[k], &risk, k, tune->plan, scratch);
        tune->lives_used += plan.lives;
    }
    risk_free(&risk);
    free(scratch);
    return status;
}

static enum status tune_evaluate(struct front_point points[], size_t count, void *context,
                                 struct error *error)
{
    struct tune_search *search = context;
    struct tune *tune = search->tune;
    struct tune_candidate *found = &tune->candidates[tune->count];
    search->trial->strategy_count = count;
    for (size_t i = 0; i < count; i++) {
        tune_put(&search->trial->strategies[i], search, points[i].setting);
        if (tune->count + i == 0) { /* the present settings, to the last digit */
            search->trial->strategies[i] = tune->scenario->strategies[0];
        }
    }
    const enum status status = tune_live(found, search, search->seed, error);
    if (status != STATUS_OK) {
        return status;
    }
    for (size_t i = 0; i < count; i++) {
        for (size_t s = 0; s < tune->setting_count; s++) {
            found[i].value[tune->settings[s]] =
                tune_range_read(tune->settings[s], &search->trial->strategies[i]);
        }
        if (!found[i].renewed && isfinite(found[i].value[TUNE_RENEW_EVERY])) {
            /* An interval that no life lasts is never, and is told as that. */
            found[i].value[TUNE_RENEW_EVERY] = INFINITY;
            found[i].value[TUNE_RENEW_SHARE] = 1;
        }
        memcpy(points[i].aim, found[i].aim, sizeof points[i].aim);
        points[i].violation = tune_violation(&found[i], tune->plan);
    }
    tune->count += count;
    if (tune->plan->progress != NULL) {
        tune->plan->progress(tune->plan->context, tune->count, search->candidates_most);
    }
    return STATUS_OK;
}

/* Least when water, salt, dumping and visits, each against the largest among those that
 * keep the limits, add up to the least. */
static double tune_cost(const struct tune *tune, size_t index,
                        const double most[TUNE_AIMS])
{
    double cost = 0;
    for (int a = 0; a < TUNE_AIMS; a++) {
        cost += most[a] > 0 ? tune->candidates[index].aim[a] / most[a] : 0;
    }
    return cost;
}

static void tune_recommend(struct tune *tune)
{
    double most[TUNE_AIMS] = {0};
    for (size_t i = 0; i < tune->count; i++) {
        tune->possible |= tune->candidates[i].keeps;
        for (int a = 0; a < TUNE_AIMS && tune->candidates[i].keeps; a++) {
            most[a] = fmax(most[a], tune->candidates[i].aim[a]);
        }
    }
    double least = INFINITY;
    for (size_t i = 0; i < tune->count; i++) {
        const struct tune_candidate *candidate = &tune->candidates[i];
        const double cost = tune->possible ? tune_cost(tune, i, most)
                                           : tune_violation(candidate, tune->plan);
        if ((candidate->keeps || !tune->possible) && cost < least) {
            least = cost;
            tune->best = i;
        }
    }
}

/* The chosen settings were found lucky among many: both once more in fresh worlds. */
static enum status tune_again(struct tune_search *search, struct error *error)
{
    struct tune *tune = search->tune;
    const size_t index[2] = {0, tune->best};
    struct tune_candidate again[2] = {{.trouble = 0}, {.trouble = 0}};
    search->trial->strategy_count = 2;
    for (size_t i = 0; i < 2; i++) {
        struct strategy *strategy = &search->trial->strategies[i];
        *strategy = tune->scenario->strategies[0];
        for (size_t s = 0; s < tune->setting_count; s++) {
            tune_range_write(strategy, tune->settings[s],
                             tune->candidates[index[i]].value[tune->settings[s]]);
        }
    }
    const enum status status = tune_live(again, search, search->seed + 1, error);
    if (status == STATUS_OK) {
        for (size_t i = 0; i < 2; i++) {
            memcpy(again[i].value, tune->candidates[index[i]].value,
                   sizeof again[i].value);
        }
        tune->present_again = again[0];
        tune->best_again = again[1];
    }
    return status;
}

static enum status tune_search(struct tune_search *search, struct error *error)
{
    struct tune *tune = search->tune;
    double present[TUNE_SETTINGS];
    for (size_t i = 0; i < tune->setting_count; i++) {
        present[i] =
            tune_unit(search, i,
                      tune_range_read(tune->settings[i], &tune->scenario->strategies[0]));
    }
    const size_t generations = search->candidates_most / tune_population;
    const struct front_problem problem = {.settings = tune->setting_count,
                                          .aims = TUNE_AIMS,
                                          .population = tune_population,
                                          .generations = generations,
                                          .seed = search->seed,
                                          .tidy = tune_tidy,
                                          .evaluate = tune_evaluate,
                                          .context = search};
    struct front front = {0};
    enum status status = front_search(&front, &problem, present, error);
    if (status == STATUS_OK) {
        for (size_t i = 0; i < tune->count; i++) {
            tune->candidates[i].on_front = front_holds(&front, i, TUNE_AIMS);
        }
        tune_recommend(tune);
        status = tune_again(search, error);
    }
    front_free(&front);
    return status;
}

enum status tune_run(struct tune *tune, const struct scenario *scenario,
                     const struct tune_plan *plan, struct error *error)
{
    struct tune_search search = {.tune = tune, .seed = plan->seed};
    tune->scenario = scenario;
    tune->plan = plan;
    for (int s = 0; s < TUNE_SETTINGS; s++) {
        const size_t place = tune->setting_count;
        if (tune_range_of(&search.range[place], (enum tune_setting)s,
                          &scenario->strategies[0], scenario)) {
            tune->settings[tune->setting_count++] = (enum tune_setting)s;
        }
    }
    const size_t wanted = plan->lives / plan->worlds / tune_population;
    search.candidates_most = (wanted > 1 ? wanted : 1) * tune_population;
    tune->candidates = calloc(search.candidates_most, sizeof *tune->candidates);
    search.trial = malloc(sizeof *search.trial);
    enum status status = STATUS_OK;
    if (tune->candidates == NULL || search.trial == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for the candidates");
    } else {
        *search.trial = *scenario;
        const size_t generations = search.candidates_most / tune_population;
        status = tune_past_open(&search.past, tune, generations + 1, error);
    }
    if (status == STATUS_OK) {
        status = tune_search(&search, error);
    }
    const enum status closed =
        tune_past_close(&search.past, status == STATUS_OK ? error : NULL);
    free(search.trial);
    return status == STATUS_OK ? closed : status;
}

void tune_free(struct tune *tune)
{
    if (tune != NULL) {
        free(tune->candidates);
        *tune = (struct tune){0};
    }
}
