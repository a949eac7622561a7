/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/plant/uptake.h"

#include <math.h>

#include "pailcast/base/number.h"

/* Kinetics per gram of root: capacity mmol/g/d and half-saturation mmol/L. Chosen within
 * the spread of published values; docs/sources.md. */
struct uptake_kinetics {
    double capacity_mmol_g_d;
    double half_mmol_l;
};

static const struct uptake_kinetics uptake_kinetics[ION_COUNT] = {
    [ION_NO3] = {8.0, 0.030}, [ION_NH4] = {4.0, 0.040}, [ION_P] = {0.8, 0.010},
    [ION_K] = {4.0, 0.020},   [ION_CA] = {2.0, 0.020},  [ION_MG] = {1.0, 0.020},
    [ION_SO4] = {0.6, 0.020},
};

/* Concentration at which half of the luxury ceiling is used, mmol/L (chosen). */
static const double luxury_half_mmol_l[3] = {15, 1.5, 8};

/* Time in which a plant makes good what its tissue lacks, d (chosen). */
static const double refill_time_d = 5.0;

/* Passive uptake fades as content nears this multiple of the optimum (chosen). */
static const double passive_cap_ratio = 3.0;

/* Uptake fails where the root zone is very acid or alkaline: half at pH 4.0 for cations
 * and 8.8 for anions (common practice, no source; the form is chosen). */
static const double acid_half = 1e-4;
static const double alkaline_half = 1.584893192461114e-9;

/* Never above supply or demand, and without a corner between them. */
static double uptake_joint(double supply, double demand)
{
    const double s2 = supply * supply;
    const double d2 = demand * demand;
    const double fourth = s2 * s2 + d2 * d2;
    return fourth > 0 ? supply * demand / sqrt(sqrt(fourth)) : 0;
}

/* Uptake of every ion times its pH factor. */
static void uptake_regulate(double uptake[ION_COUNT], double hydrogen)
{
    const double acid = hydrogen / acid_half;
    const double alkaline = alkaline_half / hydrogen;
    const double cation = 1 / (1 + acid * sqrt(acid));
    const double anion = 1 / (1 + sqrt(alkaline) * sqrt(sqrt(alkaline)));
    for (int i = 0; i < ION_COUNT; i++) {
        uptake[i] *= ion_table[i].charge > 0 ? cation : anion;
    }
}

static double uptake_supply(enum ion ion, double reach_g,
                            const struct plant_medium *medium)
{
    double c = medium->mmol_l[ion];
    return uptake_kinetics[ion].capacity_mmol_g_d * reach_g * c /
           (uptake_kinetics[ion].half_mmol_l + c);
}

/* mmol/d to keep `content` at `target` mmol/g while growing. */
static double uptake_demand(double target_mmol_g, double content_mmol, double dry_mass_g,
                            double grown_g_d)
{
    double lack = target_mmol_g * dry_mass_g - content_mmol;
    double corner = 1e-3 * target_mmol_g * dry_mass_g;
    return number_ramp(target_mmol_g * grown_g_d + lack / refill_time_d, corner);
}

static double uptake_luxury_target(const struct crop_growth *growth,
                                   enum nutrient nutrient, double optimum_mmol_g,
                                   double mmol_l)
{
    double used = mmol_l / (mmol_l + luxury_half_mmol_l[nutrient]);
    return optimum_mmol_g * (1 + (growth->luxury[nutrient] - 1) * used);
}

static void uptake_nitrogen(double uptake[ION_COUNT], double demand_mmol_d,
                            const struct crop_growth *growth, double reach_g,
                            const struct plant_medium *medium)
{
    double nitrate = medium->mmol_l[ION_NO3];
    double ammonium = medium->mmol_l[ION_NH4];
    const double half = uptake_kinetics[ION_NH4].half_mmol_l;
    double share =
        growth->ammonium_share + (1 - growth->ammonium_share) * half / (half + nitrate);
    double as_ammonium = share * demand_mmol_d * ammonium / (half + ammonium);
    uptake[ION_NH4] = uptake_joint(uptake_supply(ION_NH4, reach_g, medium), as_ammonium);
    uptake[ION_NO3] = uptake_joint(uptake_supply(ION_NO3, reach_g, medium),
                                   demand_mmol_d - uptake[ION_NH4]);
}

/* Content over what is wanted; a plant that wants none of it is full. */
static double uptake_fullness(double content_mmol, double wanted_mmol)
{
    return wanted_mmol > 0 ? content_mmol / wanted_mmol : INFINITY;
}

/* With the water, and actively what that leaves short. */
static double uptake_carried(enum ion ion, double demand_mmol_d, double fullness,
                             double drunk_l_d, const struct crop_growth *growth,
                             double reach_g, const struct plant_medium *medium)
{
    double room = number_switch(1.5 * (1 - fullness / passive_cap_ratio));
    double carried = growth->selectivity[ion] * medium->mmol_l[ion] * drunk_l_d * room;
    double corner = 0.02 * (demand_mmol_d + carried);
    double lacking = number_ramp(demand_mmol_d - carried, corner);
    return carried + uptake_joint(uptake_supply(ion, reach_g, medium), lacking);
}

static double uptake_passive(enum ion ion, double content_mmol, double dry_mass_g,
                             double drunk_l_d, const struct crop_growth *growth,
                             const struct plant_medium *medium)
{
    double fullness = uptake_fullness(content_mmol, growth->cap_mmol_g[ion] * dry_mass_g);
    return growth->selectivity[ion] * medium->mmol_l[ion] * drunk_l_d *
           number_switch(2 * (1 - fullness));
}

void uptake_rates(struct plant_exchange *exchange, const double state[PLANT_STATE_COUNT],
                  const double optimum_mmol_g[NUTRIENT_COUNT],
                  const struct crop_growth *growth, const struct plant_setting *setting,
                  const struct plant_medium *medium)
{
    /* Grams of root in reach of water, scaled by their warmth. */
    const double reach_g =
        fmax(state[PLANT_ROOT_MASS], 0) * setting->kinetics * medium->wet;
    const double *tissue = state + PLANT_TISSUE;
    const double mass = state[PLANT_DRY_MASS];
    double *uptake = exchange->uptake_mmol_d;

    double demand[NUTRIENT_COUNT];
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        double target = optimum_mmol_g[i];
        if (i <= NUTRIENT_K) {
            target = uptake_luxury_target(growth, (enum nutrient)i, target,
                                          medium->mmol_l[crop_nutrient_ion[i]]);
        }
        demand[i] = uptake_demand(target, tissue[i], mass, exchange->grown_g_d);
    }
    uptake_nitrogen(uptake, demand[NUTRIENT_N], growth, reach_g, medium);
    uptake[ION_P] =
        uptake_joint(uptake_supply(ION_P, reach_g, medium), demand[NUTRIENT_P]);
    uptake[ION_K] =
        uptake_joint(uptake_supply(ION_K, reach_g, medium), demand[NUTRIENT_K]);
    for (int i = NUTRIENT_CA; i <= NUTRIENT_S; i++) {
        const enum ion ion = crop_nutrient_ion[i];
        double fullness = uptake_fullness(tissue[i], optimum_mmol_g[i] * mass);
        uptake[ion] = uptake_carried(ion, demand[i], fullness, exchange->drunk_l_d,
                                     growth, reach_g, medium);
    }
    uptake[ION_NA] = uptake_passive(ION_NA, tissue[NUTRIENT_COUNT], mass,
                                    exchange->drunk_l_d, growth, medium);
    uptake[ION_CL] = uptake_passive(ION_CL, tissue[NUTRIENT_COUNT + 1], mass,
                                    exchange->drunk_l_d, growth, medium);
    uptake_regulate(uptake, medium->hydrogen);
}
