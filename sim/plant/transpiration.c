/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/plant/transpiration.h"

#include <math.h>

#include "pailcast/base/number.h"

/* FAO-56 constants: eq. 11; annex 3. */
static const double saturation_at_zero_kpa = 0.6108;
static const double saturation_factor = 17.27;
static const double saturation_offset_c = 237.3;
static const double kelvin_at_zero = 273.16;
static const double specific_heat_mj_kg_k = 1.013e-3;
static const double psychrometric_factor = 0.00163; /* eq. 3-10 */

double transpiration_saturation_kpa(double temperature_c)
{
    return saturation_at_zero_kpa *
           exp(saturation_factor * temperature_c / (temperature_c + saturation_offset_c));
}

struct transpiration_air transpiration_air_at(double temperature_c, double vapour_kpa,
                                              double pressure_kpa)
{
    struct transpiration_air air;
    double shifted = temperature_c + saturation_offset_c;
    air.saturation_kpa = transpiration_saturation_kpa(temperature_c);
    air.slope_kpa_c = saturation_factor * saturation_offset_c * air.saturation_kpa /
                      (shifted * shifted);
    air.latent_mj_kg = 2.501 - 2.361e-3 * temperature_c;
    air.psychrometric_kpa_c = psychrometric_factor * pressure_kpa / air.latent_mj_kg;
    double virtual_k =
        (temperature_c + kelvin_at_zero) / (1 - 0.378 * vapour_kpa / pressure_kpa);
    double density_kg_m3 = 3.486 * pressure_kpa / virtual_k;
    air.heat_j_m3_k = density_kg_m3 * specific_heat_mj_kg_k * 1e6;
    air.deficit_kpa = fmax(air.saturation_kpa - vapour_kpa, 0);
    return air;
}

double transpiration_stomatal_s_m(double ppfd_umol_m2_s)
{
    return 60 * (1500 + ppfd_umol_m2_s) / (200 + ppfd_umol_m2_s);
}

double transpiration_dryness_factor(double deficit_kpa)
{
    const double slope_sqrt_kpa = 4;
    double opening =
        (1 + slope_sqrt_kpa / sqrt(fmax(deficit_kpa, 0.1))) / (1 + slope_sqrt_kpa);
    return number_clamp(opening, 0.3, 1.6);
}
