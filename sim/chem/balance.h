/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Species and balances of a liquid at given activities: one look, no iteration. */
#ifndef PAILCAST_CHEM_BALANCE_H
#define PAILCAST_CHEM_BALANCE_H

#include <stdbool.h>

#include "pailcast/chem/speciation.h"

/* The question in mol/L, with the constants (borrowed). */
struct balance_problem {
    const struct equilibrium *constants;
    double total[ION_COUNT];
    double alkalinity;
    double co2;    /* of CO2(aq) */
    double davies; /* A, natural logarithm */
    bool ph_given; /* then alkalinity is not */
};

/* The four unknowns: activities of SO4--, H2PO4- and H+, and ionic strength, mol/L. */
struct balance_unknowns {
    double so4, h2po4, h, ionic_strength;
};

/* Sums over the species of c n and c n n', n = (s, p, a, z) being what a mole counts for
 * in sulfate, phosphate, alkalinity and squared charge, mol/L. The products are less what
 * the fixed totals of the cations take back: they are the response of (s, p, a, z) to
 * ln a(SO4), ln a(H2PO4), -ln h and -ln g_1. */
struct balance_sums {
    double s, p, a, z;
    double ss, sp, sa, sz, pp, pa, pz, aa, az, zz;
    double field; /* - d ln g_1 / dI, L/mol */
};

/* Writes activity coefficients (by absolute charge) and 1/g; returns the field above. */
double balance_activity(double activity[4], double inverse[4], double ionic_strength,
                        double davies);

/* Writes every concentration but those of NO3, Cl and CO2, the activity coefficients, and
 * the sums. */
void balance_evaluate(struct speciation *out, struct balance_sums *sums,
                      const struct balance_unknowns *x,
                      const struct balance_problem *problem);

#endif
