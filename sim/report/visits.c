/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "visits_parts.h"

double visits_dose_g(const struct visit_record *visit, const struct strategy *strategy)
{
    const struct salt *with = strategy->adjust.with;
    return with != NULL ? salt_g(with, visit->adjust_mmol) : 0;
}

static void visits_note(struct visits_range *range, double amount)
{
    if (amount > 0) {
        range->least = range->count > 0 ? fmin(range->least, amount) : amount;
        range->most = fmax(range->most, amount);
        range->count++;
    }
}

struct visits_sum visits_sum_of(const struct compare_row *row)
{
    const struct trajectory *path = &row->life.trajectory;
    struct visits_sum sum = {0};
    for (size_t i = 0; i < path->visit_count; i++) {
        const struct visit_record *visit = &path->visits[i];
        visits_note(&sum.poured, visit->water_l + visit->stock_l);
        visits_note(&sum.water, visit->water_l);
        visits_note(&sum.stock, visit->stock_l);
        visits_note(&sum.drained, visit->drained_l);
        visits_note(&sum.dosed_g, visits_dose_g(visit, row->strategy));
    }
    return sum;
}
