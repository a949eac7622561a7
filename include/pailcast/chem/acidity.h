/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A quick, explicit hydrogen-ion estimate for rates, from alkalinity, phosphate and CO2.
 */
#ifndef PAILCAST_CHEM_ACIDITY_H
#define PAILCAST_CHEM_ACIDITY_H

#include "pailcast/chem/equilibrium.h"

/* What temperature and CO2 fix, at a typical ionic strength of 0.02 mol/L. */
struct acidity {
    double c1;           /* HCO3- x H+ , mol2/L2 */
    double c2;           /* CO3-- x H+^2 */
    double kp1, kp2, kw; /* conditional constants, mol/L and mol2/L2 */
};

struct acidity acidity_at(const struct equilibrium *equilibrium, double co2_ppm);

/* Hydrogen-ion activity, mol/L, for alkalinity (meq/L, any sign) and phosphate (mmol/L,
 * >= 0): a closed-form guess and a fixed number of Newton steps, so a smooth pure
 * function. Within 0.15 pH of speciation_solve over pH 3.5-8.5 (asserted by a test). */
double acidity_hydrogen(const struct acidity *acidity, double alkalinity_meq_l,
                        double phosphate_mmol_l);

#endif
