/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saturation index = log10(product of ion activities / solubility product):
 *     gypsum    Ca++ SO4--        log Ksp = 68.2401 - 3221.51/T - 25.0627 log10 T
 *     calcite   Ca++ CO3--        log Ksp = -171.9065 - 0.077993 T + 2839.319/T
 *                                           + 71.595 log10 T
 *     brushite  Ca++ HPO4--       log Ksp = -6.62
 * T in kelvin, activity of water 1. Gypsum: WATEQ4F set (Ball & Nordstrom 1991); calcite:
 * Plummer & Busenberg 1982; brushite: MINTEQA2 v4 / NIST 46, -18.995 for Ca++ H+ PO4---
 * less -12.375 for H+ PO4---. Its temperature term, 23 kJ/mol less 15 for HPO4--, moves
 * it by 0.1 over 10-40 degC and is left out. 0-40 degC. */
#include "pailcast/chem/saturation.h"

#include <math.h>

#include "water.h"

const char *const saturation_solid_name[SOLID_COUNT] = {
    [SOLID_GYPSUM] = "gypsum",
    [SOLID_CALCITE] = "calcite",
    [SOLID_BRUSHITE] = "brushite",
};

void saturation_index(double index[SOLID_COUNT], const struct speciation *speciation,
                      const struct equilibrium *equilibrium)
{
    static const double brushite = -6.62;
    const double t = water_kelvin(equilibrium->temperature_c);
    const double gypsum = 68.2401 - 3221.51 / t - 25.0627 * log10(t);
    const double calcite = -171.9065 - 0.077993 * t + 2839.319 / t + 71.595 * log10(t);
    const double *mol_l = speciation->mol_l;
    const double squared = speciation->activity[2] * speciation->activity[2];
    const double ca = mol_l[SPECIES_CA] * squared;
    index[SOLID_GYPSUM] = log10(ca * mol_l[SPECIES_SO4]) - gypsum;
    index[SOLID_CALCITE] = log10(ca * mol_l[SPECIES_CO3]) - calcite;
    index[SOLID_BRUSHITE] = log10(ca * mol_l[SPECIES_HPO4]) - brushite;
}
