/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reader_parts.h"

static const char *const growth_nutrient_keys[NUTRIENT_COUNT] = {
    [NUTRIENT_N] = "n",   [NUTRIENT_P] = "p",   [NUTRIENT_K] = "k",
    [NUTRIENT_CA] = "ca", [NUTRIENT_MG] = "mg", [NUTRIENT_S] = "s",
};

static void reader_growth_size(struct fields *fields, struct crop_growth *growth)
{
    (void)fields_quantity(fields, "footprint", QUANTITY_AREA, 0.001, 20,
                          &growth->footprint_m2);
    (void)fields_quantity(fields, "extinction", QUANTITY_NUMBER, 0.1, 1.5,
                          &growth->extinction);
    (void)fields_quantity(fields, "stomatal_scale", QUANTITY_NUMBER, 0.1, 10,
                          &growth->stomatal_scale);
    (void)fields_quantity(fields, "light_use", QUANTITY_LIGHT_USE, 0.01, 3,
                          &growth->light_use_g_mol);
    (void)fields_quantity(fields, "start_mass", QUANTITY_MASS, 0.001, 1000,
                          &growth->start_mass_g);
    (void)fields_quantity(fields, "specific_leaf_area", QUANTITY_LEAF_SPREAD, 0.001, 0.2,
                          &growth->specific_leaf_area_m2_g);
    (void)fields_quantity(fields, "leaf_area_index_max", QUANTITY_NUMBER, 0.1, 15,
                          &growth->leaf_area_index_max);
    (void)fields_quantity(fields, "turnover", QUANTITY_RATE, 0, 0.2,
                          &growth->turnover_per_d);
}

static void reader_growth_sharing(struct fields *fields, struct crop_growth *growth)
{
    (void)fields_pair(fields, "leaf_share", QUANTITY_SHARE, 0, 1, growth->leaf_share);
    (void)fields_pair(fields, "root_share", QUANTITY_SHARE, 0, 1, growth->root_share);
    for (int i = 0; i < 2; i++) {
        if (growth->leaf_share[i] + growth->root_share[i] > 1) {
            fields_refuse(fields->reading, fields->group,
                          "leaf_share and root_share add up to %g; accepted is at most 1",
                          growth->leaf_share[i] + growth->root_share[i]);
            break;
        }
    }
    (void)fields_quantity(fields, "flowering_after", QUANTITY_THERMAL_TIME, 0, 1e5,
                          &growth->flowering_gdd);
    (void)fields_quantity(fields, "generative_ramp", QUANTITY_THERMAL_TIME, 0, 1e5,
                          &growth->ramp_gdd);
}

static void reader_growth_temperatures(struct fields *fields, struct crop_growth *growth)
{
    static const char *const keys[4] = {"base", "from", "to", "ceiling"};
    const config_setting_t *group = fields_group(fields, "temperatures");
    if (group == NULL) {
        return;
    }
    struct fields part = fields_open(fields->reading, group, "temperatures");
    double *at = growth->temperature_c;
    for (size_t i = 0; i < 4; i++) {
        (void)fields_quantity(&part, keys[i], QUANTITY_TEMPERATURE, -10, 60, &at[i]);
    }
    if (!(at[0] < at[1] && at[1] <= at[2] && at[2] < at[3])) {
        fields_refuse(fields->reading, group,
                      "temperatures: base, from, to and ceiling must rise in this order");
    }
    fields_close(&part);
}

static void reader_growth_salinity(struct fields *fields, struct crop_growth *growth)
{
    const config_setting_t *group = fields_group(fields, "salinity");
    if (group == NULL) {
        return;
    }
    struct fields part = fields_open(fields->reading, group, "salinity");
    (void)fields_quantity(&part, "threshold", QUANTITY_EC, 0, 20,
                          &growth->salinity_threshold_ms_cm);
    (void)fields_quantity(&part, "slope", QUANTITY_SHARE, 0, 1, &growth->salinity_slope);
    fields_close(&part);
}

static void reader_growth_tissue(struct fields *fields, struct crop_growth *growth)
{
    const config_setting_t *group = fields_group(fields, "tissue");
    if (group != NULL) {
        struct fields part = fields_open(fields->reading, group, "tissue");
        for (int i = 0; i < NUTRIENT_COUNT; i++) {
            (void)fields_pair(&part, growth_nutrient_keys[i], QUANTITY_TISSUE, 0, 10,
                              growth->tissue_mmol_g[i]);
        }
        fields_close(&part);
    }
    group = fields_group(fields, "luxury");
    if (group != NULL) {
        struct fields part = fields_open(fields->reading, group, "luxury");
        for (int i = 0; i < 3; i++) {
            (void)fields_quantity(&part, growth_nutrient_keys[i], QUANTITY_NUMBER, 1, 10,
                                  &growth->luxury[i]);
        }
        fields_close(&part);
    }
}

/* Plain numbers or contents of a few ions in a group of their own. */
static void reader_growth_some_ions(struct fields *fields, const char *key,
                                    const enum ion ions[], size_t count,
                                    enum quantity quantity, double high, double value[])
{
    const config_setting_t *group = fields_group(fields, key);
    if (group == NULL) {
        return;
    }
    struct fields part = fields_open(fields->reading, group, key);
    for (size_t i = 0; i < count; i++) {
        (void)fields_quantity(&part, ion_table[ions[i]].key, quantity, 0, high,
                              &value[ions[i]]);
    }
    fields_close(&part);
}

void reader_growth(struct fields *fields, struct crop_growth *growth)
{
    static const enum ion passive[] = {ION_CA, ION_MG, ION_SO4, ION_NA, ION_CL};
    static const enum ion gathered[] = {ION_NA, ION_CL};
    reader_growth_size(fields, growth);
    reader_growth_sharing(fields, growth);
    reader_growth_temperatures(fields, growth);
    reader_growth_salinity(fields, growth);
    reader_growth_tissue(fields, growth);
    (void)fields_quantity(fields, "minimum_ratio", QUANTITY_SHARE, 0.05, 0.95,
                          &growth->minimum_ratio);
    (void)fields_quantity(fields, "ammonium_share", QUANTITY_SHARE, 0, 1,
                          &growth->ammonium_share);
    reader_growth_some_ions(fields, "selectivity", passive,
                            sizeof passive / sizeof *passive, QUANTITY_NUMBER, 5,
                            growth->selectivity);
    reader_growth_some_ions(fields, "cap", gathered, sizeof gathered / sizeof *gathered,
                            QUANTITY_TISSUE, 10, growth->cap_mmol_g);
}
