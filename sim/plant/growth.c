/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/plant/growth.h"

#include <math.h>

#include "pailcast/base/number.h"

/* Fitted to lettuce at 200, 400 and 750 umol/m2/s (Carotti et al. 2021, abstract). */
static const double light_saturation_umol_m2_s = 1472;

/* Hyperbola through 1 at 420 ppm and 1.35 at 1000 ppm (+30-40 %, from memory). */
static const double co2_half_ppm = 339.5;
static const double co2_ambient_ppm = 420;

static const double leaf_growth_limit_per_d = 0.30;
static const double root_stop_cm = 2.0;

double growth_light_use_g_mol(const struct crop_growth *growth, double ppfd_umol_m2_s,
                              double co2_ppm)
{
    double carbon = co2_ppm / (co2_ppm + co2_half_ppm);
    double ambient = co2_ambient_ppm / (co2_ambient_ppm + co2_half_ppm);
    return growth->light_use_g_mol / (1 + ppfd_umol_m2_s / light_saturation_umol_m2_s) *
           carbon / ambient;
}

double growth_generative(const struct crop_growth *growth, double thermal_time_c_d)
{
    if (growth->ramp_gdd <= 0) {
        return 0;
    }
    return number_switch((thermal_time_c_d - growth->flowering_gdd) / growth->ramp_gdd);
}

static double growth_leaf_area_rate(double leaf_mass_g_d, const double area_m2,
                                    const struct crop_growth *growth,
                                    const struct plant_setting *setting)
{
    double by_mass = leaf_mass_g_d * setting->leaf_area_m2_g;
    double by_expansion = leaf_growth_limit_per_d * area_m2 * setting->warmth;
    double wanted = number_lesser(by_mass, by_expansion, 0.05 * by_mass);
    double filled = area_m2 / (growth->leaf_area_index_max * growth->footprint_m2);
    double squared = filled * filled;
    double fourth = squared * squared;
    return wanted > 0 && filled < 1 ? wanted * (1 - fourth * fourth) : 0;
}

void growth_rates(double rate[PLANT_STATE_COUNT], struct plant_exchange *exchange,
                  const double state[PLANT_STATE_COUNT],
                  const struct growth_factors *factors, const struct crop *crop,
                  const struct plant_setting *setting, double root_room_cm)
{
    const struct crop_growth *growth = &crop->growth;
    const double light_mol_d =
        setting->photon_mol_m2_d * growth->footprint_m2 * factors->intercepted;
    const double grown = light_mol_d * setting->light_use_g_mol * factors->stress;
    const double leaf_share =
        number_blend(growth->leaf_share[0], growth->leaf_share[1], factors->generative);
    const double root_share =
        number_blend(growth->root_share[0], growth->root_share[1], factors->generative);
    const double lost = growth->turnover_per_d;

    exchange->grown_g_d = grown;
    rate[PLANT_DRY_MASS] = grown - lost * state[PLANT_DRY_MASS];
    rate[PLANT_ROOT_MASS] = root_share * grown - lost * state[PLANT_ROOT_MASS];
    rate[PLANT_LEAF_AREA] =
        growth_leaf_area_rate(leaf_share * grown, state[PLANT_LEAF_AREA], growth,
                              setting) -
        lost * state[PLANT_LEAF_AREA];
    rate[PLANT_ROOT_DEPTH] =
        crop->root_rate_cm_d * setting->warmth *
        number_switch((root_room_cm - state[PLANT_ROOT_DEPTH]) / root_stop_cm);
    rate[PLANT_THERMAL_TIME] = setting->thermal_c;
}
