/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A liquid by what a litre of it holds: nine ions and alkalinity. */
#ifndef PAILCAST_CHEM_LIQUID_H
#define PAILCAST_CHEM_LIQUID_H

#include "pailcast/chem/ion.h"

struct liquid {
    double mmol_l[ION_COUNT]; /* >= 0 */
    double
        alkalinity_meq_l; /* zero at H2PO4-, carbonate counted; may be negative (acid) */
};

/* One litre of (1 - share) a and share b; share in [0, 1]. */
struct liquid liquid_mix(const struct liquid *a, const struct liquid *b, double share);

/* What a litre holds when both are dissolved in it. */
struct liquid liquid_sum(const struct liquid *a, const struct liquid *b);

/* Mass of dissolved salt, g/L: sum of amounts times molar masses. */
double liquid_salt_g_l(const struct liquid *liquid);

/* Positive charge less negative charge less alkalinity, meq/L; zero when electroneutral.
 */
double liquid_charge_meq_l(const struct liquid *liquid);

/* The same as a share of all charge: 100 (cations - anions) / (cations + anions),
 * percent, alkalinity counted as anion when positive, as cation when negative; 0 for pure
 * water. */
double liquid_charge_error_percent(const struct liquid *liquid);

#endif
