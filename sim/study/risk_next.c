/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chief trouble of a strategy that is not safe (docs/model.md, "Many lives judged").
 */
#include <math.h>

#include <gsl/gsl_sort_float.h>

#include "pailcast/base/text.h"
#include "risk_parts.h"

/* The day is told until which so many lives keep clear (chosen). */
static const double next_keep = 0.9;

/* Of the shares, by trouble, the largest; of several the one that comes earliest. */
static enum outcome_code next_largest(const double share[OUTCOME_LOST],
                                      const struct risk_row *row)
{
    enum outcome_code largest = OUTCOME_EC_HIGH;
    for (int i = 0; i < OUTCOME_LOST; i++) {
        if (share[i] > share[largest] ||
            (share[i] == share[largest] &&
             row->chance[i].median_d < row->chance[largest].median_d)) {
            largest = (enum outcome_code)i;
        }
    }
    return largest;
}

/* A lost plant before all; then what the last visit leaves in most lives, if in more than
 * are safe; then what happens to most. */
static enum outcome_code next_chief(const struct risk_row *row)
{
    double met[OUTCOME_LOST];
    for (int i = 0; i < OUTCOME_LOST; i++) {
        met[i] = row->chance[i].share;
    }
    const enum outcome_code left = next_largest(row->left, row);
    return row->chance[OUTCOME_LOST].share > risk_verdict_trouble ? OUTCOME_LOST
           : row->left[left] > risk_verdict_trouble               ? left
                                                    : next_largest(met, row);
}

/* The last day before which at most a tenth of the lives met it; day_d[lives] is room. */
static double next_keep_d(const struct risk *risk, size_t row, enum outcome_code code,
                          float day_d[])
{
    const size_t lives = risk->plan->lives;
    const size_t tenth = (size_t)((1 - next_keep) * (double)lives + 1e-9);
    size_t met = 0;
    for (size_t i = 0; i < lives; i++) {
        const float first_d = risk_values(risk, i, row)[code];
        if (!isnan(first_d)) {
            day_d[met++] = first_d;
        }
    }
    gsl_sort_float(day_d, 1, met);
    return met > tenth ? (double)day_d[tenth] : INFINITY;
}

void risk_next(struct risk_sum *sum, size_t row, float scratch[])
{
    struct risk_row *told = &sum->rows[row];
    struct text_line line = text_line_in(told->next, sizeof told->next);
    if (told->chance[OUTCOME_ACTION].share <= risk_verdict_trouble) {
        return;
    }
    const enum outcome_code trouble = next_chief(told);
    const struct risk_case it = {.scenario = sum->risk->scenario,
                                 .strategy = told->strategy,
                                 .row = told,
                                 .trouble = trouble,
                                 .mended = told->left[trouble] <
                                               0.5 * told->chance[trouble].share &&
                                           told->left[trouble] <= risk_verdict_trouble,
                                 .keep_d = next_keep_d(sum->risk, row, trouble, scratch)};
    text_line_add(&line, "Against %s: ", outcome_table[trouble].words);
    risk_step(&line, &it);
}
