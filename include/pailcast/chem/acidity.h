/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A quick, explicit hydrogen-ion estimate for rates, from alkalinity, phosphate and CO2.
 */
#ifndef PAILCAST_CHEM_ACIDITY_H
#define PAILCAST_CHEM_ACIDITY_H

#include "pailcast/chem/equilibrium.h"

/* What temperature and CO2 fix, for the ionic strength, calcium and magnesium of a
 * typical bucket (given in acidity.c). H+ stands for its activity, the others for mol/L.
 */
struct acidity {
    double c1;   /* (HCO3- + OH-) x H+, mol2/L2 */
    double c2;   /* CO3-- with its pairs x H+^2, mol3/L3 */
    double kp1;  /* H2PO4- x H+ / H3PO4, mol/L */
    double kp2;  /* HPO4-- with its pairs x H+ / H2PO4-, mol/L */
    double acid; /* free H+ in mol/L over its activity */
};

/* Constants at the equilibrium's temperature under co2_ppm (>= 0) of CO2 at 1 atm. */
struct acidity acidity_at(const struct equilibrium *equilibrium, double co2_ppm);

/* Hydrogen-ion activity, mol/L, for alkalinity (meq/L, any sign) and phosphate (mmol/L,
 * >= 0): closed form, so a smooth pure function, some 20-40 ns. Against speciation_solve
 * over pH 3.5-8.5: within 0.15 pH at 0.8-3 mS/cm with 1.5-6 mmol/L of calcium and at most
 * 3 of magnesium, 7 of sulfate, 2 of phosphate; within 0.45 pH for any mixture of 0.2-6
 * mS/cm, because calcium, magnesium and ionic strength, which hold phosphate, are not
 * asked here (both asserted by a test). */
double acidity_hydrogen(const struct acidity *acidity, double alkalinity_meq_l,
                        double phosphate_mmol_l);

#endif
