/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings that no bucket explains while all others agree: a slip of the pencil, a
 * reading taken after the pour. One such drags a least-squares fit wherever it likes. So
 * where any reading is far off, the fit is done again with a loss that grows only in
 * proportion far out (Huber 1964), which such readings hardly pull, and once more without
 * those that are far off then. That stands only if what is left agrees as pens do: a
 * leak, a pour not noted or the wrong crop leaves its trace in reading after reading, and
 * then nothing is set aside. */
#include <math.h>
#include <stdlib.h>

#include "fit_parts.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"

/* Standard deviations of pen and ruler beyond which a reading is far off: one in 1.7
 * million by chance (chosen). */
static const double aside_limit = 5;

/* Where the loss begins to grow in proportion (chosen; Huber's own is 1.345, which gives
 * away more where nothing is wrong). */
static const double aside_soft = 2;

enum {
    ASIDE_ONE_IN = 8,              /* of a kind at most (chosen) */
    ASIDE_LATER = 2,               /* of the kind gainsay it at least (chosen) */
    ASIDE_STAY = 2 * FIT_UNKNOWNS, /* so many at least must stay (chosen) */
    ASIDE_NAMED = 3                /* in the remark, which holds no more */
};

static bool aside_far(const struct fit *fit, size_t reading)
{
    return fabs(fit->answer.residual[reading]) > aside_limit;
}

/* How many that count are far off. */
static size_t aside_count_far(const struct fit *fit)
{
    size_t count = 0;
    for (size_t i = 0; i < fit->readings; i++) {
        count += !fit->list[i].aside && aside_far(fit, i);
    }
    return count;
}

static void aside_none(struct fit *fit)
{
    for (size_t i = 0; i < fit->readings; i++) {
        fit->list[i].aside = false;
    }
}

/* Sets aside what is far off. False where that is too much to be slips: of a kind, more
 * than one in so many, or one that two later ones of the kind do not gainsay. What
 * happens to a bucket shows in what is read after it; of the last readings, and where a
 * kind is seldom read, nobody can say. */
static bool aside_mark(struct fit *fit)
{
    size_t read[FIT_KINDS] = {0};
    size_t aside[FIT_KINDS] = {0};
    size_t later[FIT_KINDS] = {0}; /* that agree, up to the next that does not */
    bool slips = true;
    for (size_t i = fit->readings; i-- > 0;) {
        struct fit_reading *reading = &fit->list[i];
        const enum fit_kind kind = reading->kind;
        reading->aside = aside_far(fit, i);
        slips = slips && !(reading->aside && later[kind] < ASIDE_LATER);
        later[kind] = reading->aside ? 0 : later[kind] + 1;
        aside[kind] += reading->aside;
        read[kind]++;
    }
    for (int kind = 0; kind < FIT_KINDS; kind++) {
        slips = slips && aside[kind] * ASIDE_ONE_IN <= read[kind];
    }
    const size_t count = aside[FIT_EC] + aside[FIT_LEVEL] + aside[FIT_PH];
    return slips && count > 0 && fit->readings - count >= ASIDE_STAY;
}

static void aside_tell(struct fit *fit)
{
    char told[FIT_REMARK_SIZE];
    struct text_line line = text_line_in(told, sizeof told);
    size_t count = 0;
    for (size_t i = 0; i < fit->readings; i++) {
        const struct fit_reading *reading = &fit->list[i];
        if (reading->aside && count++ < ASIDE_NAMED) {
            const double day_d = fit->logbook->rows[reading->row].day_d;
            text_line_add(&line, "%s%s on day %s", count > 1 ? "; " : "",
                          fit_kind_words[reading->kind],
                          display_day_text(fit->scenario, day_d, 2).text);
        }
    }
    if (count > ASIDE_NAMED) {
        text_line_add(&line, "; and %zu more", count - ASIDE_NAMED);
    }
    fit_remark(fit, "Set aside, as no bucket explains %s while all else agrees: %.165s.",
               count > 1 ? "them" : "it", told);
}

/* The two further searches; *stands: something is set aside and the rest agrees. */
static enum status aside_search(struct fit *fit, bool *stands, struct error *error)
{
    *stands = false;
    enum status status = fit_learn(fit, aside_soft, error);
    if (status == STATUS_OK && aside_mark(fit)) {
        status = fit_learn(fit, INFINITY, error);
        *stands = status == STATUS_OK && fit->answer.converged &&
                  aside_count_far(fit) == 0 && fit_misfit(fit) <= fit_doubtful;
    }
    return status;
}

enum status fit_aside(struct fit *fit, struct error *error)
{
    struct error told = {0};
    if (fit->readings <= ASIDE_STAY || aside_count_far(fit) == 0) {
        return STATUS_OK;
    }
    struct least_answer all = fit->answer;
    fit->answer = (struct least_answer){0};
    bool stands;
    enum status status = aside_search(fit, &stands, &told);
    if (stands) {
        least_free(&all);
        aside_tell(fit);
        return STATUS_OK;
    }
    aside_none(fit);
    least_free(&fit->answer);
    fit->answer = all;
    if (status == STATUS_OK || status == STATUS_SOLVER || status == STATUS_INPUT) {
        return STATUS_OK; /* one that cannot be lived so is no worse known than before */
    }
    return status_error(error, status, "%s", told.text);
}
