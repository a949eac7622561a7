/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking back: each reading against the band it was expected in. The model is taken as
 * straight around the fitted unknowns, so that learning from the readings one after
 * another is a sum (recursive least squares) and needs no further lives. */
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fit_parts.h"

/* Beyond so many standard deviations a reading is odd: one in 2000 by chance, so that 20
 * entries of two or three readings stay quiet 97 times in 100. */
static const double notice_limit = 3.5;

/* Signs of a change are told from this many standard deviations on (chosen). */
static const double notice_sign = 1.5;

/* A reading counts as the first filling's until then, d (chosen). */
static const double notice_start_d = 0.25;

/* What is known before a reading, in prior standard deviations. */
struct notice {
    double mean[FIT_UNKNOWNS];
    double covariance[FIT_UNKNOWNS][FIT_UNKNOWNS];
};

/* Residual (expected less read) and its variance, in units of the reading's noise. */
static double notice_expect(const struct notice *known, const struct fit *fit,
                            size_t reading, double gain[FIT_UNKNOWNS], double *variance)
{
    const double *slope = fit->answer.slope + reading * FIT_UNKNOWNS;
    double residual = fit->answer.residual[reading];
    *variance = 1;
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        residual += slope[k] * (known->mean[k] - fit->answer.x[k]);
        gain[k] = 0;
        for (int j = 0; j < FIT_UNKNOWNS; j++) {
            gain[k] += known->covariance[k][j] * slope[j];
        }
        *variance += slope[k] * gain[k];
    }
    return residual;
}

static void notice_learn(struct notice *known, const struct fit *fit, size_t reading)
{
    double gain[FIT_UNKNOWNS];
    double variance;
    const double residual = notice_expect(known, fit, reading, gain, &variance);
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        known->mean[k] -= gain[k] * residual / variance;
        for (int j = 0; j < FIT_UNKNOWNS; j++) {
            known->covariance[k][j] -= gain[k] * gain[j] / variance;
        }
    }
}

static void notice_cause(struct fit_surprise *surprise, const char *cause)
{
    assert(surprise->cause_count < FIT_CAUSES_MAX);
    surprise->causes[surprise->cause_count++] = cause;
}

/* A first filling that reads otherwise is none of the plant's doing. */
static void notice_start(struct fit_surprise *surprise)
{
    if (surprise->odd[FIT_LEVEL]) {
        notice_cause(surprise,
                     "check the bucket's size, shape and start in the scenario");
    }
    if (surprise->odd[FIT_EC]) {
        notice_cause(surprise,
                     "check water, stock and start_stock_share in the scenario");
        notice_cause(surprise, "check the EC pen in a standard");
    }
    if (surprise->odd[FIT_PH]) {
        notice_cause(surprise, "check the water's alkalinity in the scenario");
        notice_cause(surprise, "check the pH pen in its buffers");
    }
}

/* score: read less expected, in standard deviations of the band; NAN not read. */
static void notice_causes(struct fit_surprise *surprise, const double score[FIT_KINDS])
{
    const double ec = isnan(score[FIT_EC]) ? 0 : score[FIT_EC];
    const double level = isnan(score[FIT_LEVEL]) ? 0 : score[FIT_LEVEL];
    if (level < -notice_sign && ec > notice_sign) {
        notice_cause(surprise, "look for a hotter, drier or brighter room: the plant "
                               "may be drinking more than it eats");
        notice_cause(surprise, "look for water that evaporates: a lid that stands open");
    } else if (level < -notice_sign) {
        notice_cause(surprise, "look for a leak or a splash: solution that went without "
                               "changing its strength");
        notice_cause(surprise, "look for a drain or a visit that was not noted");
        notice_cause(surprise, "look for a plant that drinks and eats more than before");
    } else if (level > notice_sign) {
        notice_cause(surprise, "look for heat at the roots, disease or a cut: the plant "
                               "may be drinking less");
        notice_cause(surprise, "look for a pour that was not noted");
    } else if (ec < -notice_sign) {
        notice_cause(surprise, "look for water that came in: rain, condensation, a pour "
                               "that was not noted");
        notice_cause(surprise, "check the EC pen in a standard");
    } else if (ec > notice_sign) {
        notice_cause(surprise, "look for a stock stronger than usual, or a pour that was "
                               "not noted");
        notice_cause(surprise, "check the EC pen in a standard");
    }
    if (fabs(isnan(score[FIT_PH]) ? 0 : score[FIT_PH]) > notice_limit) {
        notice_cause(surprise, score[FIT_PH] > 0
                                   ? "look for alkaline water, or a feed without "
                                     "ammonium"
                                   : "look for ammonium in the feed, or acid that was "
                                     "not noted");
        notice_cause(surprise, "check the pH pen in its buffers");
    }
}

static bool notice_began_odd(const struct fit *fit)
{
    return fit->surprises[0].day_d < notice_start_d && fit->surprises[0].odd[FIT_LEVEL];
}

/* Of the readings of one entry. */
static void notice_tell(struct fit *fit, const struct fit_reading readings[],
                        size_t count, const double score[FIT_KINDS])
{
    const char *const slip = "look at the entry again: a slip of the pencil, or a "
                             "reading taken after the pour";
    const double day_d = fit->logbook->rows[readings[0].row].day_d;
    struct fit_surprise *surprise = &fit->surprises[fit->surprise_count++];
    *surprise = (struct fit_surprise){.day_d = day_d};
    bool aside = false;
    for (size_t i = 0; i < count; i++) {
        surprise->aside[readings[i].kind] = readings[i].aside;
        aside = aside || readings[i].aside;
    }
    for (int kind = 0; kind < FIT_KINDS; kind++) {
        surprise->odd[kind] = fabs(score[kind]) > notice_limit || surprise->aside[kind];
        if (surprise->odd[kind]) {
            const size_t used = strlen(surprise->what);
            (void)snprintf(surprise->what + used, sizeof surprise->what - used,
                           "%s%s %s than expected, by %.1f standard deviations",
                           used > 0 ? "; " : "", fit_kind_words[kind],
                           score[kind] > 0 ? "higher" : "lower", fabs(score[kind]));
        }
    }
    if (aside) { /* what it would tell of the bucket, others gainsay */
        notice_cause(surprise, slip);
    }
    if (day_d < notice_start_d) {
        notice_start(surprise);
    } else {
        if (surprise->odd[FIT_LEVEL] && notice_began_odd(fit)) {
            notice_cause(surprise, "check the bucket's size, shape and start in the "
                                   "scenario: its first level was odd too");
        }
        notice_causes(surprise, score);
        if (!aside) {
            notice_cause(surprise, slip);
        }
    }
}

enum status fit_notice(struct fit *fit, struct error *error)
{
    const struct fit_reading *list = fit->list;
    struct notice known = {{0}, {{0}}};
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        known.covariance[k][k] = 1;
    }
    fit->surprises = calloc(fit->logbook->count, sizeof *fit->surprises);
    if (fit->surprises == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for surprises");
    }
    for (size_t i = 0; i < fit->readings;) {
        double score[FIT_KINDS] = {NAN, NAN, NAN};
        bool odd = false;
        size_t end = i;
        for (; end < fit->readings && list[end].row == list[i].row; end++) {
            double gain[FIT_UNKNOWNS];
            double variance;
            const double residual = notice_expect(&known, fit, end, gain, &variance);
            score[list[end].kind] = -residual / sqrt(variance);
            odd = odd || list[end].aside || fabs(score[list[end].kind]) > notice_limit;
        }
        if (odd) {
            notice_tell(fit, &list[i], end - i, score);
        }
        for (; i < end; i++) {
            if (!list[i].aside) {
                notice_learn(&known, fit, i);
            }
        }
    }
    return STATUS_OK;
}
