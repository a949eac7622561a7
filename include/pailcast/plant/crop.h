/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A crop as the scenario gives it: stages, cuts and, for a grown plant, its parameters.
 */
#ifndef PAILCAST_PLANT_CROP_H
#define PAILCAST_PLANT_CROP_H

#include <stdbool.h>
#include <stddef.h>

#include "pailcast/base/text.h"
#include "pailcast/chem/ion.h"

enum crop_kind {
    CROP_NONE,
    CROP_TABLE,
    CROP_GROWN
};

enum {
    CROP_STAGES_MAX = 16,
    CROP_CUTS_MAX = 16
};

/* Elements a plant stores and can run short of, or gathers. N is nitrate and ammonium. */
enum nutrient {
    NUTRIENT_N,
    NUTRIENT_P,
    NUTRIENT_K,
    NUTRIENT_CA,
    NUTRIENT_MG,
    NUTRIENT_S,
    NUTRIENT_COUNT
};

/* The ion a nutrient comes as; nitrogen as nitrate, and beside it as ammonium. */
extern const enum ion crop_nutrient_ion[NUTRIENT_COUNT];

/* A growth stage. `table` plants use the length and the rates, `grown` plants the thermal
 * time at which the stage begins. */
struct crop_stage {
    char name[TEXT_NAME_SIZE];
    double lasts_d;                /* table: length; the last goes on to the end */
    double drinks_l_d;             /* table */
    double eats_mmol_l[ION_COUNT]; /* table: taken up per litre drunk */
    double
        follows[ION_COUNT]; /* table: uptake = follows x concentration x litres drunk */
    double from_gdd;        /* grown: thermal time, degC d */
};

/* Pruning, cutting or harvest: `share` of everything above the roots is taken away. */
struct crop_cut {
    double first_d;
    double every_d; /* 0: once */
    double share;   /* 0-1 */
};

/* Parameters of a grown plant. Pairs are {vegetative, generative}, blended over thermal
 * time. Sources and choices: docs/sources.md. */
struct crop_growth {
    double footprint_m2;    /* lit ground the plant fills */
    double extinction;      /* of light in the canopy */
    double stomatal_scale;  /* ks on the resistance formula; 1 = lettuce */
    double water_use;       /* factor on what the leaves transpire; 1 unless learned */
    double light_use_g_mol; /* dry mass per mol of photons taken in, at low light */
    double start_mass_g;    /* dry, of the transplant */
    double leaf_share[2];   /* of new dry mass */
    double root_share[2];
    double flowering_gdd; /* thermal time at which the generative blend starts */
    double ramp_gdd;      /* and how long it takes; 0: never generative */
    double specific_leaf_area_m2_g; /* at 300 umol/m2/s */
    double leaf_area_index_max;
    double temperature_c[4]; /* base, optimum from, optimum to, ceiling */
    double salinity_threshold_ms_cm;
    double salinity_slope; /* share of season yield lost per mS/cm */
    double turnover_per_d; /* of leaves and fine roots; long-lived plants */
    double tissue_mmol_g[NUTRIENT_COUNT][2]; /* optimal content of new tissue */
    double luxury[3];                        /* ceiling over optimum for N, P, K */
    double minimum_ratio;  /* content at which growth stops over optimum */
    double ammonium_share; /* most of N taken as ammonium while it lasts */
    double
        selectivity[ION_COUNT]; /* Ca Mg SO4 Na Cl: uptake per litre over concentration */
    double cap_mmol_g[ION_COUNT]; /* Na Cl: content at which passive uptake ends */
};

struct crop {
    enum crop_kind kind;
    char name[TEXT_NAME_SIZE];
    size_t stage_count;
    struct crop_stage stages[CROP_STAGES_MAX];
    size_t cut_count;
    struct crop_cut cuts[CROP_CUTS_MAX];
    double root_start_cm;  /* root depth below the net pot at day 0 */
    double root_rate_cm_d; /* at full warmth; stops at the bucket's floor */
    struct crop_growth growth;
};

/* Defaults of a crop of a kind (table plants: roots reach the floor from the start). */
struct crop crop_defaults(enum crop_kind kind);

/* How one plant differs from its crop: factors > 0, 1 where nothing is known. */
struct crop_scales {
    double drinking; /* litres */
    double eating;   /* mmol: for a grown plant in each gram grown */
    double growth;   /* dry mass for the light taken in; a table plant makes none */
};

/* The crop of such a plant; with factors of 1 the crop itself, to the bit. Grown: tissue
 * contents, selectivities and caps times eating, light use times growth, transpiration
 * times drinking. Table: litres times drinking, mmol a day times eating. */
struct crop crop_scaled(const struct crop *crop, const struct crop_scales *scales);

/* Day of the first cut later than day_d, INFINITY when none; *share receives what it
 * takes. Cuts of one moment are combined. */
double crop_next_cut(const struct crop *crop, double day_d, double *share);

#endif
