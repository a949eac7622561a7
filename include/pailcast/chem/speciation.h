/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pH and the species present: mass balances, alkalinity and CO2 of the air, with ion
 * pairs. */
#ifndef PAILCAST_CHEM_SPECIATION_H
#define PAILCAST_CHEM_SPECIATION_H

#include "pailcast/chem/equilibrium.h"
#include "pailcast/chem/liquid.h"

struct speciation {
    double mol_l[SPECIES_COUNT]; /* mol/L */
    double ionic_strength;       /* mol/L */
    double ph;                   /* -log10 of hydrogen-ion activity */
    double activity[4];          /* activity coefficient by absolute charge (Davies) */
};

/* Species of a liquid open to air with co2_ppm of CO2 (at 1 atm, >= 0; 0 means a closed,
 * carbonate-free solution whose alkalinity is then hydroxide). Amounts in mmol/L; one
 * below zero counts as zero. A pure function of its arguments, started afresh each time
 * and converged to about 1e-12 relative, so that nothing of its path is seen. Ends on
 * finite numbers for amounts up to 1000 mmol/L and alkalinity of -50 to 200 meq/L,
 * neutral or not; trustworthy to I about 0.4 mol/L (Davies). About a microsecond. */
struct speciation speciation_solve(const struct liquid *liquid,
                                   const struct equilibrium *equilibrium, double co2_ppm);

/* Alkalinity (meq/L) that would give this liquid the pH asked for (0-14), its ions and
 * CO2 unchanged. Inverse of speciation_solve's ph. */
double speciation_alkalinity_at(const struct liquid *liquid, double ph,
                                const struct equilibrium *equilibrium, double co2_ppm);

#endif
