/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One visit: read the bucket, decide, drain, pour, adjust - clamped to what fits. */
#ifndef PAILCAST_VISIT_VISIT_H
#define PAILCAST_VISIT_VISIT_H

#include "pailcast/bucket/shape.h"
#include "pailcast/bucket/state.h"
#include "pailcast/chem/pen.h"
#include "pailcast/visit/fill.h"
#include "pailcast/visit/renew.h"

/* The hands' tools, the same at every visit. Borrowed parts outlive it. */
struct visit_kit {
    const struct strategy *strategy;
    const struct shape *shape;
    const struct pen *pen;
    double fresh_stock_share; /* what the bucket was first filled with */
};

/* What was done. Litres and mmol; all >= 0. */
struct visit_record {
    const struct strategy *strategy; /* borrowed: whose water and stock were poured */
    double day_d;
    double ec_before_ms_cm, ec_after_ms_cm, ph_before, ph_after;
    double volume_before_l, volume_after_l;
    double water_l, stock_l, drained_l;
    double refused_l;   /* asked for beyond the fill line */
    double adjust_mmol; /* of the strategy's acid or base */
    struct renew_plan renewal;
    struct fill_plan fill;
    struct liquid before; /* what the bucket held on arrival */
    double drained_mmol[ION_COUNT], drained_alkalinity_meq; /* in the drained litres */
};

/* What somebody noted to have done. Litres and mmol, >= 0. */
struct visit_given {
    double drained_l, water_l, stock_l;
    double adjust_mmol; /* of the strategy's acid or base; NAN: not noted, as it asks */
};

/* Visits the bucket: changes state (water, ions, alkalinity only) and returns the record.
 */
struct visit_record visit_make(double state[STATE_COUNT], double day_d,
                               double since_renewal_d, size_t stage,
                               const struct visit_kit *kit);

/* Does exactly what was noted, whatever the rule, the fill line and the rim would say;
 * only more than there is cannot be drained. A drain counts as a renewal on the calendar.
 * Acid or base that was not noted is dosed as the strategy asks. */
struct visit_record visit_given(double state[STATE_COUNT], double day_d,
                                const struct visit_given *given,
                                const struct visit_kit *kit);

#endif
