/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dissolved oxygen in fresh water under 1 atm of moist air (Benson & Krause 1984, Limnol.
 * Oceanogr. 29:620, eq. 32 at zero salinity; T in kelvin, C in mg/L):
 *     ln C = -139.34411 + 157570.1/T - 66423080/T^2 + 1.2438e10/T^3 - 8.621949e11/T^4
 * and the hours it lasts: V (C - floor)/(R q), R root dry mass in g, q its respiration:
 *     q = 3.5 mg O2/(g h) x 2^((t - 25)/10)
 * 3.5 is 30 nmol/(g s), from memory the middle of the 10-60 that Lambers, Chapin & Pons
 * (Plant Physiological Ecology) give for roots; Q10 = 2 from memory. */
#include "pailcast/chem/oxygen.h"

#include <math.h>

#include "water.h"

double oxygen_saturation_mg_l(double temperature_c)
{
    const double per_k = 1 / water_kelvin(temperature_c);
    return exp(-139.34411 +
               per_k * (157570.1 +
                        per_k * (-66423080 + per_k * (1.2438e10 - per_k * 8.621949e11))));
}

double oxygen_reserve_h(double volume_l, double temperature_c, double root_mass_g,
                        double floor_mg_l)
{
    static const double respiration_25_mg_g_h = 3.5;
    static const double q10 = 2;
    const double spare_mg =
        volume_l * fmax(oxygen_saturation_mg_l(temperature_c) - floor_mg_l, 0);
    const double use_mg_h =
        root_mass_g * respiration_25_mg_g_h * pow(q10, (temperature_c - 25) / 10);
    return use_mg_h > 0 ? spare_mg / use_mg_h : INFINITY;
}
