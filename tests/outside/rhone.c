/* SPDX-License-Identifier: GPL-3.0-or-later */
/* EC computed from analyses on standard input, a line each: Ca Mg SO4 HCO3 in mg/L.
 * Prints mS/cm at 25 and at 20 degC. What charge is open is left open, as the analyses
 * are. */
#include <stdio.h>

#include "pailcast/chem/pen.h"

static const double bicarbonate_mg_per_mmol = 61.016;

int main(void)
{
    const struct equilibrium equilibrium = equilibrium_at(20);
    const struct conductivity_setting warm = conductivity_at(25);
    const struct conductivity_setting cool = conductivity_at(20);
    const double air_ppm = 420;
    double ca, mg, so4, hco3;
    while (scanf("%lf %lf %lf %lf", &ca, &mg, &so4, &hco3) == 4) {
        struct liquid river = {.alkalinity_meq_l = hco3 / bicarbonate_mg_per_mmol};
        river.mmol_l[ION_CA] = ca / ion_table[ION_CA].molar_mass;
        river.mmol_l[ION_MG] = mg / ion_table[ION_MG].molar_mass;
        river.mmol_l[ION_SO4] = so4 / ion_table[ION_SO4].molar_mass;
        const struct speciation speciation =
            speciation_solve(&river, &equilibrium, air_ppm);
        printf("%.9g %.9g\n", conductivity_ms_cm(&speciation, &warm),
               conductivity_ms_cm(&speciation, &cool));
    }
    return 0;
}
