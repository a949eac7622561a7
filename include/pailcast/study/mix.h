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

/* A liquid, told. */
struct mix {
    struct liquid liquid;
    struct pen_reading reading; /* EC at 25 degC, pH at the pen's temperature */
    double salt_g_l;            /* as ions, water of crystals left out */
    double charge_error_percent;
    double saturation[SOLID_COUNT]; /* log10, > 0 may form a solid; -INFINITY without its
                                       ions */
    bool scarce[ION_COUNT]; /* a nutrient at less than half its share beside nitrogen */
};

/* feed: a complete feed whose proportions count as enough. */
struct mix mix_of(const struct liquid *liquid, const struct pen *pen,
                  const struct liquid *feed);

enum {
    MIX_SALTS_MAX = 16
};

/* Grams of each of salts[count] in a litre of water that come closest to the ions wanted.
 */
struct mix_solution {
    double g_l[MIX_SALTS_MAX];       /* >= 0, for a litre */
    struct liquid liquid;            /* what comes of it, the water's own ions counted */
    double missed_mmol_l[ION_COUNT]; /* reached less wanted; 0 for ions not wanted */
};

/* Non-negative least squares (Lawson & Hanson 1974, ch. 23) on the ions with wanted[ion]
 * >= 0 (NAN: not asked for), each weighed by its own amount, and by `least` where that is
 * small. 1 <= count <= MIX_SALTS_MAX. STATUS_INPUT when nothing is wanted, STATUS_MEMORY.
 */
enum status mix_solve(struct mix_solution *solution, const struct salt *const salts[],
                      size_t count, const double wanted_mmol_l[ION_COUNT],
                      const struct liquid *water, struct error *error) STATUS_MUST_CHECK;

#endif
