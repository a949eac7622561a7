/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pure water at 1 atm, t in degC, 0-40:
 *     permittivity  87.740 - 0.40008 t + 9.398e-4 t^2 - 1.410e-6 t^3
 *                   (Malmberg & Maryott 1956, J. Res. NBS 56:1)
 *     viscosity     from 20 degC up 1.002 mPa s x 10^((1.37023 (20 - t)
 *                   - 8.36e-4 (t - 20)^2)/(109 + t)), below
 *                   10^(1301/(998.333 + 8.1855 (t - 20) + 0.00585 (t - 20)^2) - 1.30233)
 *                   mPa s (CRC Handbook; Hardy & Cottington 1949 below 20 degC)
 *     density       Kell 1975, J. Chem. Eng. Data 20:97, equation 16, kg/m3
 * The coefficients other than of viscosity above 20 degC are from memory; tests hold them
 * to tabulated values. */
#include "water.h"

#include <math.h>

double water_kelvin(double temperature_c)
{
    static const double zero_celsius_k = 273.15;
    return temperature_c + zero_celsius_k;
}

double water_permittivity(double temperature_c)
{
    const double t = temperature_c;
    return 87.740 + t * (-0.40008 + t * (9.398e-4 - t * 1.410e-6));
}

double water_viscosity_poise(double temperature_c)
{
    static const double poise_per_mpa_s = 0.01;
    const double above = temperature_c - 20;
    const double mpa_s =
        above < 0 ? pow(10, 1301 / (998.333 + 8.1855 * above + 0.00585 * above * above) -
                                1.30233)
                  : 1.002 * pow(10, (-1.37023 * above - 8.36e-4 * above * above) /
                                        (109 + temperature_c));
    return poise_per_mpa_s * mpa_s;
}

double water_density_kg_l(double temperature_c)
{
    static const double kell[] = {999.83952,     16.945176,    -7.9870401e-3,
                                  -46.170461e-6, 105.56302e-9, -280.54253e-12};
    static const double kell_divisor = 16.879850e-3;
    double kg_m3 = 0;
    for (int i = 5; i >= 0; i--) {
        kg_m3 = kg_m3 * temperature_c + kell[i];
    }
    return kg_m3 / (1 + kell_divisor * temperature_c) / 1000;
}
