/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What slows a plant down: salt, shortage, cold or hot roots, thin air in the water. */
#ifndef PAILCAST_PLANT_STRESS_H
#define PAILCAST_PLANT_STRESS_H

#include "pailcast/plant/crop.h"

/* mS/cm up to which the loss of a season was held against the line of its source. */
extern const double stress_salinity_checked_ms_cm;

/* Season-yield factor of salinity, 0-1: 1 - slope (EC - threshold) above the threshold
 * (form of Maas & Hoffman 1977), corner rounded over 0.1 mS/cm. */
double stress_salinity(const struct crop_growth *growth, double ec_ms_cm);

/* Growth factor of shortage, 0-1: the smallest over the nutrients of a switch that is 0
 * at minimum_ratio times the optimal content and 1 at the optimum (Liebig's law of the
 * minimum; the curve between is chosen). content_mmol[NUTRIENT_COUNT]; optimum_mmol_g
 * likewise; what has none is never short. */
double stress_shortage(const double content_mmol[], const double optimum_mmol_g[],
                       double dry_mass_g, double minimum_ratio);

/* Root-zone temperature factor, 0-1: plateau 22-28 degC, nothing below 8 or above 38
 * (chosen after Tindall, Mills & Radcliffe 1990 and Carotti et al. 2021). */
double stress_root_temperature(double water_temperature_c);

/* Dissolved-oxygen factor, 0-1 (chosen after Goto et al. 1996 and Yoshida et al. 1997).
 */
double stress_oxygen(double oxygen_mg_l);

#endif
