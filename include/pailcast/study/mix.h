/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a liquid contains and reads; and the other way round, which salts make a liquid.
 */
#ifndef PAILCAST_STUDY_MIX_H
#define PAILCAST_STUDY_MIX_H

#include <stdbool.h>
#include <stddef.h>

#include "pailcast/base/status.h"
#include "pailcast/chem/pen.h"
#include "pailcast/chem/salt.h"
#include "pailcast/chem/saturation.h"
#include "pailcast/plant/crop.h"

/* A charge error beyond this is worth telling, percent (laboratories accept 3 to 5:
 * common practice). */
extern const double mix_fair_percent;

/* A liquid, told. */
struct mix {
    struct liquid liquid;
    struct pen_reading reading; /* EC at 25 degC, pH at the pen's temperature */
    double salt_g_l;            /* as ions, water of crystals left out */
    double charge_error_percent;
    double saturation[SOLID_COUNT]; /* log10, > 0 may form a solid; -INFINITY without its
                                       ions */
    bool scarce[ION_COUNT]; /* a nutrient at less than half of what goes with the others;
                               nitrogen, nitrate and ammonium together, as nitrate */
};

/* feed: a complete feed whose proportions count as enough. */
struct mix mix_of(const struct liquid *liquid, const struct pen *pen,
                  const struct liquid *feed);

/* A feed in the proportions in which a crop takes nutrients up: a table's largest
 * uptake by stage, a grown plant's tissue, the larger of young and old beside nitrogen.
 * False where the crop eats nothing that is known. */
bool mix_feed_of(struct liquid *feed, const struct crop *crop);

enum {
    MIX_SALTS_MAX = 40
};

/* Grams of each of salts[count] in a litre of water that come closest to the ions wanted.
 */
struct mix_solution {
    double g_l[MIX_SALTS_MAX];       /* >= 0, for a litre */
    struct liquid liquid;            /* what comes of it, the water's own ions counted */
    double missed_mmol_l[ION_COUNT]; /* reached less wanted; 0 for ions not wanted */
    double missed_meq_l;             /* the same for alkalinity */
};

/* What a liquid should hold; NAN where it does not matter. */
struct mix_wanted {
    double mmol_l[ION_COUNT];
    double alkalinity_meq_l;
};

struct mix_wanted mix_wanted_nothing(void);

/* Non-negative least squares (Lawson & Hanson 1974, ch. 23) on what is wanted, each ion
 * weighed by its own amount (at least 0.05 mmol/L), alkalinity by 1 meq/L. Of salts that
 * do equally well those named first are taken.
 * 1 <= count <= MIX_SALTS_MAX. STATUS_INPUT when nothing is wanted, STATUS_MEMORY. */
enum status mix_solve(struct mix_solution *solution, const struct salt *const salts[],
                      size_t count, const struct mix_wanted *wanted,
                      const struct liquid *water, struct error *error) STATUS_MUST_CHECK;

#endif
