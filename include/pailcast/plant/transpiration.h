/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water leaving the leaves: the Penman-Monteith equation (Allen, Pereira, Raes & Smith
 * 1998, FAO Irrigation and Drainage Paper 56, eq. 3)
 *
 *     LE = [D Rn + rho cp d / ra] / [D + g (1 + rs / ra)]
 *
 * LE latent heat W/m2, D slope of the saturation pressure kPa/degC, Rn net radiation less
 * heat into the ground W/m2, rho cp volumetric heat of air J/m3/K, d vapour deficit kPa,
 * g psychrometric constant kPa/degC, rs and ra surface and aerodynamic resistance s/m. */
#ifndef PAILCAST_PLANT_TRANSPIRATION_H
#define PAILCAST_PLANT_TRANSPIRATION_H

/* Moist air at one temperature and humidity. */
struct transpiration_air {
    double saturation_kpa;
    double slope_kpa_c;
    double psychrometric_kpa_c;
    double latent_mj_kg;
    double heat_j_m3_k; /* rho cp */
    double deficit_kpa;
};

/* Air of temperature_c (-10 to 50), vapour pressure kpa and pressure kPa: FAO-56 eqs. 11,
 * 13, 3-1, 3-5, 3-6, 3-10. */
struct transpiration_air transpiration_air_at(double temperature_c, double vapour_kpa,
                                              double pressure_kpa);

/* Saturation vapour pressure, kPa (FAO-56 eq. 11). */
double transpiration_saturation_kpa(double temperature_c);

/* LE, W/m2, of one big leaf. layers scales the drying term for a canopy of several leaf
 * layers that dry side by side (1 for a reference surface). */
static inline double transpiration_latent_w_m2(const struct transpiration_air *air,
                                               double radiation_w_m2, double layers,
                                               double aerodynamic_s_m, double surface_s_m)
{
    double drying = air->heat_j_m3_k * air->deficit_kpa * layers / aerodynamic_s_m;
    return (air->slope_kpa_c * radiation_w_m2 + drying) /
           (air->slope_kpa_c +
            air->psychrometric_kpa_c * (1 + surface_s_m / aerodynamic_s_m));
}

/* Litres (kg) per day and square metre of a latent heat flux. */
static inline double transpiration_l_m2_d(const struct transpiration_air *air,
                                          double latent_w_m2)
{
    return latent_w_m2 * 0.0864 / air->latent_mj_kg;
}

/* Stomatal resistance of a lettuce-like canopy in the light, s/m: 60 (1500 + I)/(200 + I)
 * with I photons umol/m2/s (Graamans et al. 2017, as restated by three
 * re-implementations). */
double transpiration_stomatal_s_m(double ppfd_umol_m2_s);

/* Widening of stomata in moist and narrowing in dry air, 1 at 1 kPa (shape of Medlyn et
 * al. 2011, from memory; bounds chosen). */
double transpiration_dryness_factor(double deficit_kpa);

#endif
