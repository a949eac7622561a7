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
    double
        pair[SPECIES_COUNT]; /* association constant of each ion pair, 0 for the rest */
};

/* Constants at temperature_c (0-40 degC). Plummer & Busenberg 1982 for carbonate; the
 * rest by source in docs/sources.md. Costs about a microsecond: make once, keep. */
struct equilibrium equilibrium_at(double temperature_c);

#endif
