/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/risk_matters.h"

#include <math.h>

/* An index below this is told as none (chosen). */
static const double matters_least = 0.005;

/* So many standard errors from nothing is sure (chosen: 19 times in 20). */
static const double matters_sure = 2;

static bool matters_is_sure(const struct sobol_index *index)
{
    return index->total > matters_least &&
           index->total >= matters_sure * index->total_error;
}

/* The input at a rank; -1 where no index is known. */
static int matters_at(const struct risk_sum *sum, size_t row, size_t target, size_t rank)
{
    const struct risk *risk = sum->risk;
    const struct sobol_index *matters = sum->rows[row].matters[target];
    for (size_t i = 0; risk->plan->base > 0 && i < risk->input_count; i++) {
        size_t above = 0;
        for (size_t k = 0; k < risk->input_count; k++) {
            above += matters[k].total > matters[i].total ||
                     (k < i && matters[k].total == matters[i].total);
        }
        if (above == rank && !isnan(matters[i].total)) {
            return (int)i;
        }
    }
    return -1;
}

int risk_matters_ranked(const struct risk_sum *sum, size_t row, size_t target,
                        size_t rank)
{
    int at = -1;
    for (size_t above = 0; above <= rank; above++) {
        at = matters_at(sum, row, target, above);
        if (at < 0 || !matters_is_sure(&sum->rows[row].matters[target][at])) {
            return -1;
        }
    }
    return at;
}

bool risk_matters_tells(const struct risk_sum *sum)
{
    bool tells = false;
    for (size_t k = 0; k < sum->row_count; k++) {
        for (size_t t = 0; t < RISK_TARGETS; t++) {
            tells |= risk_matters_ranked(sum, k, t, 0) >= 0;
        }
    }
    return tells;
}

size_t risk_matters_rows_short(const struct risk_sum *sum, size_t row, size_t target)
{
    const int at = matters_at(sum, row, target, 0);
    if (at < 0) {
        return 0;
    }
    const struct sobol_index *first = &sum->rows[row].matters[target][at];
    if (!(first->total > matters_least) || matters_is_sure(first)) {
        return 0;
    }
    const double off = matters_sure * first->total_error / first->total;
    return (size_t)ceil((double)sum->risk->plan->base * off * off);
}

size_t risk_matters_rows_needed(const struct risk_sum *sum)
{
    const struct risk_plan *plan = sum->risk->plan;
    const bool asked = plan->base > 0 || plan->lives < RISK_LIVES_PER_ROW;
    size_t least = plan->base < SOBOL_ROWS_ENOUGH ? SOBOL_ROWS_ENOUGH : 0;
    if (!asked || sum->risk->input_count == 0 || risk_matters_tells(sum)) {
        return 0;
    }
    for (size_t k = 0; k < sum->row_count; k++) {
        for (size_t t = 0; t < RISK_TARGETS; t++) {
            const size_t rows = risk_matters_rows_short(sum, k, t);
            const bool fewer = least <= SOBOL_ROWS_ENOUGH || rows < least;
            least = rows > SOBOL_ROWS_ENOUGH && fewer ? rows : least;
        }
    }
    return least;
}
