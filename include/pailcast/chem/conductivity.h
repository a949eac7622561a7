/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Electrical conductivity from the species: extended Debye-Hueckel-Onsager per ion
 * (Robinson & Stokes 1959 eq. 7.36) with Onsager-Fuoss (1932) mixing. */
#ifndef PAILCAST_CHEM_CONDUCTIVITY_H
#define PAILCAST_CHEM_CONDUCTIVITY_H

#include "pailcast/chem/speciation.h"

/* The charged species stand first in species.h; the padding lets loops run in fours. */
enum {
    CONDUCTIVITY_CHARGED = SPECIES_CASO4,
    CONDUCTIVITY_WIDTH = (CONDUCTIVITY_CHARGED + 3) / 4 * 4
};

/* mS/cm up to which the equations were checked: an ionic strength of about 0.15 mol/L. */
extern const double conductivity_checked_ms_cm;

/* What temperature fixes: mobilities, their coupling and the constants of water. Make
 * once, some microseconds. */
struct conductivity_setting {
    double temperature_c;
    double limiting[CONDUCTIVITY_WIDTH]; /* S cm2/eq at infinite dilution */
    double mobility[CONDUCTIVITY_WIDTH]; /* w = limiting / |z| */
    double coupling[CONDUCTIVITY_WIDTH][CONDUCTIVITY_WIDTH]; /* 1/(w_i + w_j) */
    double relaxation;      /* 2.801e6 / (eps T)^1.5, sqrt(L/mol) */
    double electrophoretic; /* 41.25 / (eta sqrt(eps T)), eta in poise */
    double size;            /* 50.29 / sqrt(eps T), 1/Angstrom */
};

/* Setting at temperature_c, 0-40 degC. */
struct conductivity_setting conductivity_at(double temperature_c);

/* mS/cm, >= 0, finite for any speciation. Ionic strength at most about 0.15 mol/L (EC
 * 10): above, it reads low. The setting's temperature need not be the speciation's: pens
 * take the mobilities at 25 degC. */
double conductivity_ms_cm(const struct speciation *speciation,
                          const struct conductivity_setting *setting);

/* EC of each ion's share, mS/cm, adding up to conductivity_ms_cm: an ion pair's part goes
 * to the non-carbonate ion or, between two, half to each. by_ion[ION_COUNT] in ion order;
 * *rest takes hydrogen, hydroxide and carbonate. Returns the sum. */
double conductivity_parts(double by_ion[ION_COUNT], double *rest,
                          const struct speciation *speciation,
                          const struct conductivity_setting *setting);

/* Explicit estimate of EC (mS/cm) at 25 degC for use inside rates: no iteration, no
 * speciation, smooth, some 50 ns. Amounts >= 0, alkalinity of any sign. Over 0.2-6 mS/cm
 * and 420-1000 ppm of CO2 within 3 % of the full value, for feeds and what they drift to,
 * at pH 4.2 or more with phosphate up to 2, ammonium up to 1.5 and sulfate up to 15
 * mmol/L and alkalinity up to 5 meq/L and 40 % of the cations' charge; within 6 % beyond
 * (both asserted by a test). */
double conductivity_estimate(const double mmol_l[ION_COUNT], double alkalinity_meq_l);

#endif
