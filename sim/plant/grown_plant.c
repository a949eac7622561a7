/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant computed from light, air and the solution. */
#include <math.h>
#include <string.h>

#include "pailcast/base/number.h"
#include "pailcast/chem/oxygen.h"
#include "pailcast/plant/growth.h"
#include "pailcast/plant/stress.h"
#include "pailcast/plant/uptake.h"
#include "plants.h"

static const double sea_level_kpa = 101.325;
static const double leaf_reflection = 0.05;     /* Graamans et al. 2017, as restated */
static const double dark_resistance_s_m = 1500; /* chosen: night 8-29 % of day water */
static const double drying_layers_max = 3;
static const double seconds_per_day = 86400;
static const double root_q10 = 1.6; /* Barber, K uptake of maize at 15 and 29 degC */
static const double root_q10_reference_c = 25;
static const double reference_light_umol_m2_s = 300;
static const double salinity_day_power =
    0.6; /* daily reductions compound over a season */
static const double thirst_recovery_per_d = 1.0;

static void grown_start(double state[PLANT_STATE_COUNT], const struct crop *crop)
{
    const struct crop_growth *growth = &crop->growth;
    memset(state, 0, sizeof(double) * PLANT_STATE_COUNT);
    state[PLANT_DRY_MASS] = growth->start_mass_g;
    state[PLANT_ROOT_MASS] = growth->start_mass_g * growth->root_share[0];
    state[PLANT_LEAF_AREA] =
        growth->start_mass_g * growth->leaf_share[0] * growth->specific_leaf_area_m2_g;
    state[PLANT_ROOT_DEPTH] = crop->root_start_cm;
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        state[PLANT_TISSUE + i] = growth->start_mass_g * growth->tissue_mmol_g[i][0];
    }
}

static void grown_prepare(struct plant_setting *setting, const struct crop *crop,
                          const struct room *room, bool lamp_on)
{
    const struct crop_growth *growth = &crop->growth;
    const struct room_air *air = lamp_on ? &room->day : &room->night;
    const double *cardinal = growth->temperature_c;
    const double light = lamp_on ? room->ppfd_umol_m2_s : 0;
    const double vapour =
        air->humidity * transpiration_saturation_kpa(air->temperature_c);

    setting->air = transpiration_air_at(air->temperature_c, vapour, sea_level_kpa);
    setting->radiation_w_m2 = (1 - leaf_reflection) * light / room->umol_per_j;
    setting->stomatal_s_m =
        (lamp_on ? growth->stomatal_scale * transpiration_stomatal_s_m(light)
                 : dark_resistance_s_m) /
        transpiration_dryness_factor(setting->air.deficit_kpa);
    setting->boundary_s_m = room->boundary_s_m;
    setting->photon_mol_m2_d = light * seconds_per_day * 1e-6;
    setting->light_use_g_mol = growth_light_use_g_mol(growth, light, room->co2_ppm);
    setting->leaf_area_m2_g = lamp_on && light > 0
                                  ? growth->specific_leaf_area_m2_g *
                                        pow(reference_light_umol_m2_s / light, 0.3)
                                  : 0;
    setting->warmth = number_plateau(air->temperature_c, cardinal[0], cardinal[1],
                                     cardinal[2], cardinal[3]);
    setting->root_warmth = stress_root_temperature(room->water_temperature_c);
    setting->oxygen = stress_oxygen(oxygen_saturation_mg_l(room->water_temperature_c));
    setting->kinetics =
        pow(root_q10, (room->water_temperature_c - root_q10_reference_c) / 10);
    setting->thermal_c =
        number_clamp(air->temperature_c, cardinal[0], cardinal[2]) - cardinal[0];
}

/* Litres a day through the leaves with full water supply. */
static double grown_thirst_l_d(double leaf_area_m2, double intercepted, double salinity,
                               const struct crop_growth *growth,
                               const struct plant_setting *setting)
{
    double index = leaf_area_m2 / growth->footprint_m2;
    double layers = number_lesser(index, drying_layers_max, 0.005 * index);
    double osmotic = 1 - 0.5 * (1 - salinity);
    double latent = transpiration_latent_w_m2(
        &setting->air, setting->radiation_w_m2 * intercepted, layers,
        setting->boundary_s_m, setting->stomatal_s_m / osmotic);
    return growth->water_use * transpiration_l_m2_d(&setting->air, latent) *
           growth->footprint_m2;
}

/* What a plant without any stress takes: its optimum, exactly, from nowhere. */
static void grown_ideal_uptake(double rate[PLANT_STATE_COUNT], const double optimum[],
                               double grown_g_d, double turnover_per_d,
                               const double state[PLANT_STATE_COUNT])
{
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        rate[PLANT_TISSUE + i] =
            optimum[i] * grown_g_d - turnover_per_d * state[PLANT_TISSUE + i];
    }
}

static void grown_tissue_rates(double rate[PLANT_STATE_COUNT],
                               const struct plant_exchange *exchange,
                               double turnover_per_d,
                               const double state[PLANT_STATE_COUNT])
{
    for (int i = PLANT_TISSUE; i < PLANT_STATE_COUNT; i++) {
        rate[i] = 0;
    }
    for (int i = 0; i < ION_COUNT; i++) {
        rate[plant_tissue_of[i]] += exchange->uptake_mmol_d[i];
    }
    for (int i = PLANT_TISSUE; i < PLANT_STATE_COUNT; i++) {
        rate[i] -= turnover_per_d * state[i];
    }
}

static void grown_rates(double rate[PLANT_STATE_COUNT], struct plant_exchange *exchange,
                        const double state[PLANT_STATE_COUNT], size_t stage,
                        const struct crop *crop, const struct plant_setting *setting,
                        const struct plant_medium *medium, bool ideal)
{
    (void)stage;
    const struct crop_growth *growth = &crop->growth;
    const double leaf_area = fmax(state[PLANT_LEAF_AREA], 0);
    const double intercepted =
        1 - exp(-growth->extinction * leaf_area / growth->footprint_m2);
    struct growth_factors factors = {
        .intercepted = intercepted,
        .generative = growth_generative(growth, state[PLANT_THERMAL_TIME])};
    double optimum[NUTRIENT_COUNT];
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        optimum[i] = number_blend(growth->tissue_mmol_g[i][0],
                                  growth->tissue_mmol_g[i][1], factors.generative);
    }
    const double salinity = ideal ? 1 : stress_salinity(growth, medium->ec_ms_cm);
    const double wet = ideal ? 1 : medium->wet;
    factors.stress = setting->warmth * setting->root_warmth * setting->oxygen;
    if (!ideal) {
        double by_day = salinity < 1 ? pow(salinity, salinity_day_power) : 1;
        factors.stress *= by_day * wet *
                          stress_shortage(state + PLANT_TISSUE, optimum,
                                          state[PLANT_DRY_MASS], growth->minimum_ratio);
    }
    growth_rates(rate, exchange, state, &factors, crop, setting, medium->root_room_cm);
    rate[PLANT_THIRST] = 1 - wet - thirst_recovery_per_d * wet * state[PLANT_THIRST];
    exchange->drunk_l_d =
        wet * grown_thirst_l_d(leaf_area, intercepted, salinity, growth, setting);
    if (ideal) {
        memset(exchange->uptake_mmol_d, 0, sizeof exchange->uptake_mmol_d);
        grown_ideal_uptake(rate, optimum, exchange->grown_g_d, growth->turnover_per_d,
                           state);
        return;
    }
    uptake_rates(exchange, state, optimum, growth, setting, medium);
    grown_tissue_rates(rate, exchange, growth->turnover_per_d, state);
}

static size_t grown_stage(const struct crop *crop, const double state[PLANT_STATE_COUNT],
                          double day_d)
{
    (void)day_d;
    size_t stage = 0;
    while (stage + 1 < crop->stage_count &&
           state[PLANT_THERMAL_TIME] >= crop->stages[stage + 1].from_gdd) {
        stage++;
    }
    return stage;
}

static double grown_next_change(const struct crop *crop, double day_d)
{
    (void)crop;
    (void)day_d;
    return INFINITY;
}

const struct plant_kind grown_plant = {
    .feels_solution = true,
    .feels_lamp = true,
    .start = grown_start,
    .prepare = grown_prepare,
    .rates = grown_rates,
    .stage = grown_stage,
    .next_change = grown_next_change,
};
