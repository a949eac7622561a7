/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Growing: dry mass from light, leaves and roots from dry mass.
 *
 *     G = light_use x photons x footprint x (1 - exp(-k LAI)) x factors     g/d
 *
 * light_use falls with light as 1/(1 + I/1472) (fitted to Carotti et al. 2021) and rises
 * with CO2; the factors are temperature, salinity, shortage, root temperature and oxygen.
 * New dry mass goes to leaves and roots in shares that move from vegetative to generative
 * over thermal time; leaf area grows at most 30 % a day and stops at leaf_area_index_max.
 */
#ifndef PAILCAST_PLANT_GROWTH_H
#define PAILCAST_PLANT_GROWTH_H

#include "pailcast/plant/plant.h"

/* What the growth factors add up to. */
struct growth_factors {
    double intercepted; /* share of light, 0-1 */
    double generative;  /* blend, 0-1 */
    double stress;      /* all growth factors multiplied, 0-1 */
};

/* Light use, g/mol, at a light and CO2 level. */
double growth_light_use_g_mol(const struct crop_growth *growth, double ppfd_umol_m2_s,
                              double co2_ppm);

/* Position between vegetative and generative, 0-1. */
double growth_generative(const struct crop_growth *growth, double thermal_time_c_d);

/* Writes the rates of dry mass, roots, leaf area, root depth and thermal time, and
 * exchange->grown_g_d. */
void growth_rates(double rate[PLANT_STATE_COUNT], struct plant_exchange *exchange,
                  const double state[PLANT_STATE_COUNT],
                  const struct growth_factors *factors, const struct crop *crop,
                  const struct plant_setting *setting, double root_room_cm);

#endif
