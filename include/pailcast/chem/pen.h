/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a grower's pens read of a liquid: EC referred to 25 degC, and pH as it stands. */
#ifndef PAILCAST_CHEM_PEN_H
#define PAILCAST_CHEM_PEN_H

#include "pailcast/chem/conductivity.h"
#include "pailcast/chem/speciation.h"

/* Pens dipped in liquids of one temperature under one CO2 level. Make once with pen_at.
 */
struct pen {
    double co2_ppm;
    struct equilibrium equilibrium;      /* at the liquid's temperature */
    struct conductivity_setting setting; /* at 25 degC: pens compensate */
};

struct pen_reading {
    double ec_ms_cm; /* at 25 degC */
    double ph;
};

struct pen pen_at(double temperature_c, double co2_ppm);

struct pen_reading pen_read(const struct pen *pen, const struct liquid *liquid);

#endif
