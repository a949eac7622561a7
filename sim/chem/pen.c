/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pen reads the solution as it is: species at the liquid's own temperature. Its EC is
 * referred to 25 degC as meters do, by taking the mobilities at 25 degC. */
#include "pailcast/chem/pen.h"

struct pen pen_at(double temperature_c, double co2_ppm)
{
    static const double reference_c = 25;
    return (struct pen){
        .co2_ppm = co2_ppm,
        .equilibrium = equilibrium_at(temperature_c),
        .setting = conductivity_at(reference_c),
    };
}

struct pen_reading pen_read(const struct pen *pen, const struct liquid *liquid)
{
    const struct speciation speciation =
        speciation_solve(liquid, &pen->equilibrium, pen->co2_ppm);
    return (struct pen_reading){
        .ec_ms_cm = conductivity_ms_cm(&speciation, &pen->setting),
        .ph = speciation.ph,
    };
}
