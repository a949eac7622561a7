/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fit_sentence.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "pailcast/scenario/display.h"

/* Volumes below this are not worth a jug, L (chosen). */
static const double sentence_least_l = 5e-3;

/* Differences below this are none (half of what is shown). */
static const double sentence_least_share = 5e-3;

/* Adds "link verb 3.2 L of what"; returns the new length. */
static size_t sentence_volume(char to[FIT_SENTENCE_SIZE], size_t used, const char *link,
                              const struct display_text *volume, const char *what)
{
    const int wrote = snprintf(to + used, FIT_SENTENCE_SIZE - used, "%s%s of %s", link,
                               volume->text, what);
    return wrote > 0 ? used + (size_t)wrote : used;
}

void fit_sentence_next(char to[FIT_SENTENCE_SIZE], const struct fit *fit)
{
    const struct visit_record *visit = &fit->next_visit;
    const struct scenario_display *display = &fit->scenario->display;
    to[0] = '\0';
    if (fit->moment_count == 0 || isnan(fit->next_visit_d)) {
        return;
    }
    const struct {
        double litres;
        const char *verb, *what;
    } acts[] = {{visit->drained_l, "drain ", "solution"},
                {visit->water_l, "pour ", "water"},
                {visit->stock_l, "pour ", "stock"}};
    size_t used = (size_t)snprintf(to, FIT_SENTENCE_SIZE, "Next action on day %.2f",
                                   fit->next_visit_d);
    const char *link = ": ";
    const char *said = "";
    for (size_t i = 0; i < sizeof acts / sizeof *acts; i++) {
        if (acts[i].litres > sentence_least_l) {
            const struct display_text shown =
                display_volume_text(display, acts[i].litres);
            char lead[16];
            (void)snprintf(lead, sizeof lead, "%s%s", link,
                           strcmp(said, acts[i].verb) != 0 ? acts[i].verb : "");
            used = sentence_volume(to, used, lead, &shown, acts[i].what);
            said = acts[i].verb;
            link = i == 0 ? ", " : " and ";
        }
    }
    (void)snprintf(to + used, FIT_SENTENCE_SIZE - used, "%s",
                   said[0] == '\0' ? ": look, there is nothing to pour." : ".");
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
                to, FIT_SENTENCE_SIZE,
                "EC is %s its limit of %s on day %.2f: it wants %s.",
                low ? "under" : "over",
                display_ec_text(&fit->scenario->display,
                                low ? limits->ec_low_ms_cm : limits->ec_high_ms_cm)
                    .text,
                fit->moments[i].day_d, low ? "more stock" : "water or a renewal");
            return;
        }
    }
}

void fit_sentence_safe(char to[FIT_SENTENCE_SIZE], const struct fit *fit)
{
    const double last_d = fit->logbook->rows[fit->logbook->count - 1].day_d;
    to[0] = '\0';
    if (fit->moment_count > 0 && isfinite(fit->safe_until_d)) {
        (void)snprintf(to, FIT_SENTENCE_SIZE,
                       "If nobody comes after the last entry (day %.2f), the roots keep "
                       "their water until day %.1f (19 times in 20).",
                       last_d, fit->safe_until_d);
    } else if (fit->moment_count > 0) {
        (void)snprintf(to, FIT_SENTENCE_SIZE,
                       "If nobody comes after the last entry (day %.2f), the roots keep "
                       "their water for 60 days at least.",
                       last_d);
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
