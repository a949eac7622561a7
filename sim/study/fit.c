/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/fit.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fit_parts.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "pailcast/study/keep.h"

const char *const fit_unknown_name[FIT_UNKNOWNS] = {
    "drinking_scale",    "eating_scale",      "growth_scale",
    "start_stock_share", "evaporation_scale", "pen_offset_mS_cm"};

const char *const fit_unknown_words[FIT_UNKNOWNS] = {
    "drinking",    "eating",          "growth", "the strength of the first filling",
    "evaporation", "the pen's offset"};

const char *const fit_kind_words[FIT_KINDS] = {"EC", "level", "pH"};

/* Standard deviations of the priors (chosen): of the logarithm for all but the pen, whose
 * offset is in mS/cm. Plants of one crop drink and eat within a quarter of each other
 * two times in three; a first filling is mixed to 8 %, a guess of evaporation is good to
 * a half; pens are off by 0.05. */
const double fit_prior_sd[FIT_UNKNOWNS] = {0.25, 0.25, 0.20, 0.08, 0.50, 0.05};

/* Lives a search usually takes, for the progress told (measured: 10 to 30). */
static const size_t fit_usual_lives = 20;

static const double fit_interval = 1.959963984540054; /* 95 % of a normal */

/* Learned: narrower than this share of the prior, and not tied to another unknown. */
static const double fit_learned_share = 0.7;
static const double fit_tied = 0.95;

const double fit_doubtful = 1.5;

/* More than this of a full bucket is not meant: levels are read to some per cent
 * (chosen).
 */
static const double fit_over = 1.1;

double fit_prior_mean(enum fit_unknown unknown, const struct scenario *scenario)
{
    const struct scenario_learned *learned = &scenario->learned;
    const double mean[FIT_UNKNOWNS] = {
        learned->plant.drinking,        learned->plant.eating, learned->plant.growth,
        scenario_start_share(scenario), learned->evaporation,  learned->pen_offset_ms_cm};
    return mean[unknown];
}

static double fit_of_z(enum fit_unknown unknown, double z,
                       const struct scenario *scenario)
{
    const double mean = fit_prior_mean(unknown, scenario);
    return unknown == FIT_PEN ? mean + z * fit_prior_sd[unknown]
                              : mean * exp(z * fit_prior_sd[unknown]);
}

struct scenario_learned fit_learned(const struct scenario *scenario,
                                    const double z[FIT_UNKNOWNS])
{
    return (struct scenario_learned){
        .plant = {.drinking = fit_of_z(FIT_DRINKING, z[FIT_DRINKING], scenario),
                  .eating = fit_of_z(FIT_EATING, z[FIT_EATING], scenario),
                  .growth = fit_of_z(FIT_GROWTH, z[FIT_GROWTH], scenario)},
        .evaporation = fit_of_z(FIT_EVAPORATION, z[FIT_EVAPORATION], scenario),
        .pen_offset_ms_cm = fit_of_z(FIT_PEN, z[FIT_PEN], scenario),
        .start_stock_share = fit_of_z(FIT_START_SHARE, z[FIT_START_SHARE], scenario)};
}

void fit_world(struct scenario *world, const struct scenario *scenario,
               const double z[FIT_UNKNOWNS])
{
    *world = *scenario;
    world->learned = fit_learned(scenario, z);
}

void fit_remark(struct fit *fit, const char *format, ...)
{
    if (fit->remark_count < FIT_REMARKS_MAX) {
        va_list arguments;
        va_start(arguments, format);
        (void)vsnprintf(fit->remarks[fit->remark_count++], FIT_REMARK_SIZE, format,
                        arguments);
        va_end(arguments);
    }
}

/* What was done, the acid or base in mmol. STATUS_INPUT where there is none to add. */
static enum status fit_entries(struct fit *fit, struct error *error)
{
    const struct salt *with = fit->strategy->adjust.with;
    for (size_t i = 0; i < fit->logbook->count; i++) {
        const struct logbook_row *row = &fit->logbook->rows[i];
        if (with == NULL && row->adjust_g > 0) {
            return logbook_refuse(
                fit->logbook, row, error,
                "adjust_g: the strategy \"%s\" says not of what; give it an adjust in "
                "the scenario",
                fit->strategy->name);
        }
        fit->entries[i] =
            (struct hands_entry){row->day_d,
                                 {row->drained_l, row->water_l, row->stock_l,
                                  with != NULL ? salt_mmol(with, row->adjust_g) : 0}};
    }
    return STATUS_OK;
}

size_t fit_readings(struct fit_reading list[], const struct logbook *logbook,
                    const struct shape *shape)
{
    size_t count = 0;
    for (size_t i = 0; i < logbook->count; i++) {
        const struct logbook_row *row = &logbook->rows[i];
        const double level_cm = isnan(row->level_cm) && !isnan(row->volume_l)
                                    ? shape_level_cm(shape, row->volume_l)
                                    : row->level_cm;
        const struct fit_reading found[] = {
            {i, FIT_EC, row->ec_ms_cm, keep_noise_usual.ec_ms_cm, false},
            {i, FIT_LEVEL, level_cm, keep_noise_usual.level_cm, false},
            {i, FIT_PH, row->ph, keep_noise_usual.ph, false}};
        for (size_t k = 0; k < sizeof found / sizeof *found; k++) {
            if (!isnan(found[k].value)) {
                if (list != NULL) {
                    list[count] = found[k];
                }
                count++;
            }
        }
    }
    return count;
}

/* Lives that looking ahead takes: so far, staying, leaving, and each strategy. */
static size_t fit_lives_ahead(const struct fit *fit)
{
    const size_t count = fit->scenario->strategy_count;
    const size_t each = 3 + (count > 1 ? count : 0);
    return fit->plan->ahead_d > 0 ? each * FIT_LIVES : 0;
}

void fit_tell(struct fit *fit, size_t more)
{
    fit->lives += more;
    if (fit->plan->progress != NULL) {
        const size_t search = fit->search != 0               ? fit->search
                              : fit->lives < fit_usual_lives ? fit_usual_lives
                                                             : fit->lives;
        fit->plan->progress(fit->plan->context, fit->lives,
                            search + fit_lives_ahead(fit));
    }
}

double fit_misfit(const struct fit *fit)
{
    double sum = 0;
    size_t count = 0;
    for (size_t i = 0; i < fit->readings; i++) {
        if (!fit->list[i].aside) {
            sum += fit->answer.residual[i] * fit->answer.residual[i];
            count++;
        }
    }
    return count > 0 ? sum / (double)count : 0;
}

/* Where readings scatter more than pens do, the model is not all: intervals widen. */
static void fit_widen(struct fit *fit)
{
    fit->misfit = fit_misfit(fit);
    if (fit->misfit > fit_doubtful && fit->readings > FIT_UNKNOWNS) {
        for (int k = 0; k < FIT_UNKNOWNS; k++) {
            for (int j = 0; j < FIT_UNKNOWNS; j++) {
                fit->answer.covariance[k][j] *= fit->misfit;
            }
        }
        fit_remark(fit,
                   "The readings lie %.1f times as far from the fitted curve as pen and "
                   "ruler explain; all intervals are widened by that.",
                   sqrt(fit->misfit));
    }
}

static void fit_tie(struct fit *fit, int a, int b)
{
    const bool water = (a == FIT_DRINKING && b == FIT_EVAPORATION) ||
                       (b == FIT_DRINKING && a == FIT_EVAPORATION);
    fit->value[a].identifiable = fit->value[b].identifiable = false;
    fit_remark(fit, "This logbook cannot tell %s from %s%s", fit_unknown_words[a],
               fit_unknown_words[b],
               water ? "; note the level on a day with the plant in the dark." : ".");
}

static void fit_judge(struct fit *fit)
{
    const struct least_answer *answer = &fit->answer;
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        const double z = answer->x[k];
        const double sd = sqrt(answer->covariance[k][k]);
        const enum fit_unknown unknown = (enum fit_unknown)k;
        fit->value[k] =
            (struct fit_value){fit_of_z(unknown, z, fit->scenario),
                               fit_of_z(unknown, z - fit_interval * sd, fit->scenario),
                               fit_of_z(unknown, z + fit_interval * sd, fit->scenario),
                               !fit->priors_alone && sd < fit_learned_share};
    }
    for (int a = 0; a < FIT_UNKNOWNS; a++) {
        for (int b = a + 1; b < FIT_UNKNOWNS; b++) {
            const double both = answer->covariance[a][a] * answer->covariance[b][b];
            if (both > 0 && fabs(answer->covariance[a][b]) > fit_tied * sqrt(both)) {
                fit_tie(fit, a, b);
            }
        }
    }
}

static size_t fit_read_rows(const struct fit_reading list[], size_t count)
{
    size_t rows = 0;
    for (size_t i = 0; i < count; i++) {
        rows += i == 0 || list[i].row != list[i - 1].row;
    }
    return rows;
}

/* A level that was read, with what was then drained and poured, well over the fill line:
 * a pour written wrong is taken for the truth, and all that follows for odd. */
static void fit_pours_over(struct fit *fit)
{
    const double full_l = fit->scenario->bucket.full_l;
    for (size_t i = 0; i < fit->readings; i++) {
        const struct fit_reading *reading = &fit->list[i];
        const struct logbook_row *row = &fit->logbook->rows[reading->row];
        if (reading->kind != FIT_LEVEL) {
            continue;
        }
        const double after_l = shape_volume_l(&fit->scenario->bucket, reading->value) -
                               row->drained_l + row->water_l + row->stock_l;
        if (row->water_l + row->stock_l > 0 && after_l > fit_over * full_l) {
            const struct scenario_display *display = &fit->scenario->display;
            fit_remark(fit,
                       "What was poured on day %s fills the bucket to %s, over the fill "
                       "line at %s. If that is a slip, mend the entry: a pour is taken "
                       "as written.",
                       display_day_text(fit->scenario, row->day_d, 2).text,
                       display_volume_text(display, after_l).text,
                       display_volume_text(display, full_l).text);
            return; /* the first explains what follows */
        }
    }
}

static void fit_conclude(struct fit *fit)
{
    fit->priors_alone = fit_read_rows(fit->list, fit->readings) < 2;
    if (fit->priors_alone) {
        fit_remark(fit, "With one reading or none the numbers rest on the priors alone.");
    }
    if (!fit->answer.converged) {
        fit_remark(fit, "The fit did not settle; take its numbers with care.");
    }
    fit_pours_over(fit);
    fit_widen(fit);
    fit_judge(fit);
}

/* What was learned from the beginning of this very logbook is set aside, so that no
 * reading counts twice. */
static enum status fit_unlearn(struct fit *fit, struct error *error)
{
    const struct scenario_learned *learned = &fit->scenario->learned;
    char found[sizeof learned->logbook] = "";
    if (learned->entries > 0 && learned->entries <= fit->logbook->count) {
        (void)snprintf(
            found, sizeof found, "%016llx",
            (unsigned long long)logbook_fingerprint(fit->logbook, learned->entries));
    }
    if (found[0] == '\0' || strcmp(found, learned->logbook) != 0) {
        if (learned->given) {
            fit_remark(fit,
                       "The fit starts from what the scenario has learned before. If "
                       "that was from these same readings, take it out of the "
                       "scenario: they count twice.");
        }
        return STATUS_OK;
    }
    fit->own = scenario_copy(fit->scenario);
    if (fit->own == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the fit");
    }
    fit_remark(fit,
               "The scenario holds what was learned from the first %zu %s of this "
               "logbook. It is set aside, so that no reading counts twice.",
               learned->entries,
               text_plural((double)learned->entries, "entry", "entries"));
    fit->own->learned = scenario_unlearned();
    fit->scenario = fit->own;
    return STATUS_OK;
}

static enum status fit_look_ahead(struct fit *fit, struct error *error)
{
    enum status status = fit_past(fit, error);
    if (status == STATUS_OK) {
        status = fit_forecast(fit, error);
    }
    if (status == STATUS_OK && fit->scenario->strategy_count > 1) {
        status = fit_choices(fit, error);
    }
    return status;
}

enum status fit_run(struct fit *fit, const struct scenario *scenario,
                    const struct strategy *strategy, const struct logbook *logbook,
                    const struct fit_plan *plan, struct error *error)
{
    *fit = (struct fit){
        .scenario = scenario, .strategy = strategy, .logbook = logbook, .plan = plan};
    fit->readings = fit_readings(NULL, logbook, &scenario->bucket);
    fit->list = calloc(fit->readings + 1, sizeof *fit->list);
    fit->entries = calloc(logbook->count, sizeof *fit->entries);
    enum status status = fit_unlearn(fit, error);
    if (status == STATUS_OK && (fit->list == NULL || fit->entries == NULL)) {
        status = status_error(error, STATUS_MEMORY, "no memory for the fit");
    }
    if (status == STATUS_OK) {
        (void)fit_readings(fit->list, logbook, &scenario->bucket);
        status = fit_entries(fit, error);
    }
    if (status == STATUS_OK) {
        status = fit_learn(fit, INFINITY, error);
    }
    if (status == STATUS_OK) {
        status = fit_aside(fit, error);
    }
    fit->search = fit->lives;
    if (status == STATUS_OK) {
        fit_conclude(fit);
        status = fit_notice(fit, error);
    }
    return status == STATUS_OK && plan->ahead_d > 0 ? fit_look_ahead(fit, error) : status;
}

double fit_residual(const struct fit *fit, size_t reading)
{
    return -fit->answer.residual[reading];
}

bool fit_is_odd(const struct fit *fit, size_t reading)
{
    const struct fit_reading *read = &fit->list[reading];
    if (read->aside) {
        return true;
    }
    for (size_t i = 0; i < fit->surprise_count; i++) {
        const struct fit_surprise *surprise = &fit->surprises[i];
        if (surprise->day_d == fit->logbook->rows[read->row].day_d) {
            return surprise->odd[read->kind];
        }
    }
    return false;
}

void fit_free(struct fit *fit)
{
    if (fit != NULL) {
        least_free(&fit->answer);
        free(fit->list);
        free(fit->entries);
        free(fit->stand);
        free(fit->moments);
        free(fit->choices);
        free(fit->own);
        life_free(&fit->likely);
        free(fit->surprises);
        *fit = (struct fit){0};
    }
}
