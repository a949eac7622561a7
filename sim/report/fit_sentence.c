/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fit_sentence.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "amount.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"

/* Volumes below this are not worth a jug, L (chosen). */
static const double sentence_least_l = 5e-3;

/* Doses below this are not worth a scale, g (chosen). */
static const double sentence_least_g = 5e-3;

/* Differences below this are none (half of what is shown). */
static const double sentence_least_share = 5e-3;

void fit_sentence_visit(char to[FIT_SENTENCE_SIZE], const struct visit_record *visit,
                        const struct scenario_display *display)
{
    const struct {
        double litres;
        const char *verb, *what;
    } acts[] = {{visit->drained_l, "drain ", "solution"},
                {visit->water_l, "pour ", "water"},
                {visit->stock_l, "pour ", "stock"}};
    struct text_line line = text_line_in(to, FIT_SENTENCE_SIZE);
    const char *link = "";
    const char *said = "";
    for (size_t i = 0; i < sizeof acts / sizeof *acts; i++) {
        if (acts[i].litres > sentence_least_l) {
            text_line_add(&line, "%s%s%s of %s", link,
                          strcmp(said, acts[i].verb) != 0 ? acts[i].verb : "",
                          display_volume_text(display, acts[i].litres).text,
                          acts[i].what);
            said = acts[i].verb;
            link = i == 0 ? ", " : " and ";
        }
    }
    if (line.used == 0) {
        text_line_add(&line, "look, there is nothing to pour");
    }
    const struct salt *with =
        visit->strategy != NULL ? visit->strategy->adjust.with : NULL;
    if (with != NULL && salt_g(with, visit->adjust_mmol) > sentence_least_g) {
        text_line_add(&line, ", then add %s of pure %s",
                      amount_mass(salt_g(with, visit->adjust_mmol)).text, with->name);
    }
}

/* When somebody would come next, where that is beyond the forecast; "" if never. */
static void sentence_later(char to[FIT_SENTENCE_SIZE], const struct fit *fit)
{
    const struct logbook *logbook = fit->logbook;
    const double next_d =
        strategy_visit_after(fit->strategy, logbook->rows[logbook->count - 1].day_d);
    if (isfinite(next_d)) {
        (void)snprintf(to, FIT_SENTENCE_SIZE, "No visit is planned before day %s.",
                       display_day_text(fit->scenario, next_d, 2).text);
    }
}

void fit_sentence_next(char to[FIT_SENTENCE_SIZE], const struct fit *fit)
{
    to[0] = '\0';
    if (fit->moment_count > 0 && !isnan(fit->next_visit.day_d)) {
        char acts[FIT_SENTENCE_SIZE];
        fit_sentence_visit(acts, &fit->next_visit, &fit->scenario->display);
        (void)snprintf(to, FIT_SENTENCE_SIZE, "Next action on day %s: %.200s.",
                       display_day_text(fit->scenario, fit->next_visit.day_d, 2).text,
                       acts);
    } else if (fit->moment_count > 0) {
        sentence_later(to, fit);
    }
}

void fit_sentence_limits(char to[FIT_SENTENCE_SIZE], const struct fit *fit)
{
    const struct scenario_limits *limits = &fit->scenario->limits;
    to[0] = '\0';
    for (size_t i = 0; i < fit->moment_count; i++) {
        const double ec_ms_cm = fit->moments[i].ec_ms_cm.median;
        const bool low = ec_ms_cm < limits->ec_low_ms_cm;
        if (low || ec_ms_cm > limits->ec_high_ms_cm) {
            (void)snprintf(
                to, FIT_SENTENCE_SIZE, "EC is %s its limit of %s on day %s: pour %s.",
                low ? "under" : "over",
                display_ec_text(&fit->scenario->display,
                                low ? limits->ec_low_ms_cm : limits->ec_high_ms_cm)
                    .text,
                display_day_text(fit->scenario, fit->moments[i].day_d, 2).text,
                low ? "more stock" : "more water, or renew");
            return;
        }
    }
}

void fit_sentence_safe(char to[FIT_SENTENCE_SIZE], const struct fit *fit)
{
    struct text_line line = text_line_in(to, FIT_SENTENCE_SIZE);
    if (fit->moment_count == 0 || fit->scenario->crop.kind == CROP_NONE) {
        return;
    }
    if (fit->stand[0].plant_lost) {
        text_line_add(&line,
                      "Tended as noted, the plant of the scenario is lost by the last "
                      "entry, its roots dry for too long; if it lives, a pour was not "
                      "noted, or it is another bucket or crop.");
        return;
    }
    if (isfinite(fit->safe_until_d)) {
        text_line_add(
            &line,
            "Without a visit the roots keep their water until day %s, in 19 of 20 such "
            "buckets.",
            display_day_text(fit->scenario, fit->safe_until_d, 2).text);
    } else {
        text_line_add(&line,
                      "Without a visit the roots keep their water for %d days at least.",
                      ABSENCE_D);
    }
    if (fit->first_limit.day_d < fit->safe_until_d) {
        text_line_add(&line, " From day %s on %s may %s.",
                      display_day_text(fit->scenario, fit->first_limit.day_d, 2).text,
                      fit->first_limit.what, fit->first_limit.does);
    }
}

static void sentence_pen(char to[FIT_SENTENCE_SIZE], const struct fit *fit)
{
    const struct fit_value *value = &fit->value[FIT_PEN];
    const double off = value->estimate;
    (void)snprintf(to, FIT_SENTENCE_SIZE, "the pen reads %s too %s",
                   display_ec_text(&fit->scenario->display, fabs(off)).text,
                   off > 0 ? "high" : "low");
    if (value->low <= 0 && value->high >= 0) {
        (void)snprintf(to, FIT_SENTENCE_SIZE, "the pen is right, as far as can be told");
    }
}

void fit_sentence_unknown(char to[FIT_SENTENCE_SIZE], const struct fit *fit,
                          enum fit_unknown unknown)
{
    const struct fit_value *value = &fit->value[unknown];
    const double said = fit_prior_mean(unknown, fit->scenario);
    if (!value->identifiable) {
        (void)snprintf(to, FIT_SENTENCE_SIZE,
                       "not from this logbook: rests mostly on the scenario");
    } else if (unknown == FIT_PEN) {
        sentence_pen(to, fit);
    } else if ((value->low <= said && value->high >= said) ||
               fabs(value->estimate / said - 1) < sentence_least_share) {
        (void)snprintf(to, FIT_SENTENCE_SIZE,
                       "as the scenario says, as far as can be told");
    } else {
        (void)snprintf(to, FIT_SENTENCE_SIZE, "%.0f %% %s than the scenario says",
                       100 * fabs(value->estimate / said - 1),
                       value->estimate > said ? "more" : "less");
    }
}

/* Adds "<what> <does> in 30 %" where that is as often as the interval is wrong. */
static void sentence_chance(struct text_line *line, const char *what, const char *does,
                            double chance)
{
    static const double least = 0.05;
    if (chance > least) {
        text_line_add(line, "%s%s %s in %.0f %%", line->used > 0 ? "; " : "", what, does,
                      100 * chance);
    }
}

/* The likelier side of a reading. */
static void sentence_sides(struct text_line *line, const char *what, double high,
                           double low)
{
    sentence_chance(line, what, high >= low ? "over its limit" : "under its limit",
                    fmax(high, low));
}

void fit_sentence_risk(char to[FIT_SENTENCE_SIZE], const struct fit_choice *choice)
{
    struct text_line line = text_line_in(to, FIT_SENTENCE_SIZE);
    if (choice->scarce < ION_COUNT) {
        sentence_chance(&line, ion_table[choice->scarce].name, "runs out",
                        choice->scarce_chance);
    }
    sentence_sides(&line, "EC", choice->ec_high_chance, choice->ec_low_chance);
    sentence_sides(&line, "pH", choice->ph_high_chance, choice->ph_low_chance);
    if (choice->excess < ION_COUNT) {
        sentence_chance(&line, ion_table[choice->excess].name, "over its limit",
                        choice->excess_chance);
    }
    text_line_add(&line, "%s", line.used > 0 ? "" : "nothing");
}
