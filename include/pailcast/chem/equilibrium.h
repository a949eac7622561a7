/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Equilibrium constants of the solution at one temperature, ready for use. */
#ifndef PAILCAST_CHEM_EQUILIBRIUM_H
#define PAILCAST_CHEM_EQUILIBRIUM_H

#include "pailcast/chem/species.h"

/* All constants on the molal scale at one temperature, 0-40 degC. */
struct equilibrium {
    double temperature_c;
    double debye_huckel_a; /* Davies A, log10 form */
    double kw;             /* H+ OH- */
    double kh;             /* CO2(aq) mol/kg per atm */
    double k1, k2;         /* carbonic acid */
    double k_nh4;          /* NH4+ = NH3 + H+ */
    double kp1, kp2, kp3;  /* phosphoric acid */
    /* Association constant of each ion pair, 1/molal; NH3 as NH4+ with OH-; HSO4- as
     * SO4-- with H+; 0 for the rest. */
    double pair[SPECIES_COUNT];
};

/* Constants at temperature_c (0-40 degC). Plummer & Busenberg 1982 for carbonate; the
 * rest by source in docs/sources.md. Costs about a microsecond: make once, keep. */
struct equilibrium equilibrium_at(double temperature_c);

/* CO2(aq) that stands in water under air with co2_ppm of it, mol/kg (Henry's law). */
double equilibrium_co2(const struct equilibrium *equilibrium, double co2_ppm);

#endif
