/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Closed to the air: the level of CO2 at which the open solution (speciation.c) holds the
 * carbonate that is there. More CO2 at the same alkalinity is more of all carbonate, so
 * that there is one such level, between none and that of a liquid whose carbonate is CO2
 * alone. */
#include "pailcast/chem/carbonate.h"

#include <stddef.h>

#include "pailcast/base/root.h"

/* How closely the level is searched, as a share of the highest: far below what a pH pen
 * shows up to pH 12, where CO2 is some 2e-11 of carbonate. */
static const double carbonate_tolerance = 1e-15;

double carbonate_mol_l(const struct speciation *speciation)
{
    static const enum species parts[] = {SPECIES_CO2,    SPECIES_HCO3,   SPECIES_CO3,
                                         SPECIES_CAHCO3, SPECIES_MGHCO3, SPECIES_CACO3,
                                         SPECIES_MGCO3};
    double sum = 0;
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        sum += speciation->mol_l[parts[i]];
    }
    return sum;
}

struct carbonate_search {
    const struct liquid *liquid;
    const struct equilibrium *equilibrium;
    double held_mol_l;
};

static double carbonate_miss(double co2_ppm, void *context)
{
    const struct carbonate_search *search = context;
    const struct speciation open =
        speciation_solve(search->liquid, search->equilibrium, co2_ppm);
    return carbonate_mol_l(&open) - search->held_mol_l;
}

struct speciation carbonate_closed(const struct liquid *liquid,
                                   const struct equilibrium *equilibrium,
                                   double held_mol_l)
{
    struct carbonate_search search = {liquid, equilibrium, held_mol_l};
    const double most_ppm = held_mol_l / equilibrium_co2(equilibrium, 1);
    const double co2_ppm =
        root_find(carbonate_miss, &search, 0, most_ppm, carbonate_tolerance * most_ppm);
    return speciation_solve(liquid, equilibrium, co2_ppm);
}
