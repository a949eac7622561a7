/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dissolved carbonate: how much there is, and a liquid that has given none of it to the
 * air yet. */
#ifndef PAILCAST_CHEM_CARBONATE_H
#define PAILCAST_CHEM_CARBONATE_H

#include "pailcast/chem/speciation.h"

/* CO2, bicarbonate and carbonate, free and in pairs, mol/L. */
double carbonate_mol_l(const struct speciation *speciation);

/* Species of a liquid closed to the air, with so much dissolved carbonate (mol/L, >= 0)
 * in all, as it stands right after acid or base was stirred into it: acid then finds
 * bicarbonate and turns it into CO2 that stays. Given the carbonate of the open liquid,
 * it is speciation_solve's. Some tens of microseconds. */
struct speciation carbonate_closed(const struct liquid *liquid,
                                   const struct equilibrium *equilibrium,
                                   double held_mol_l);

#endif
