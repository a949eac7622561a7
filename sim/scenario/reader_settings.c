/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "pailcast/scenario/logbook.h"
#include "reader_parts.h"

static const double settings_most_ec = 30;
static const double settings_most_mmol_l = 500;

/* Near the half-saturation constants of uptake (plant/uptake), where supply falls off
 * (chosen). */
static const double settings_run_out[ION_COUNT] = {
    [ION_NO3] = 0.05, [ION_P] = 0.01,  [ION_K] = 0.05,
    [ION_CA] = 0.05,  [ION_MG] = 0.02, [ION_SO4] = 0.02,
};

enum {
    SETTINGS_KEY_SIZE = 16
};

static void reader_settings_order(struct fields *fields, const char *key, double low,
                                  double high)
{
    if (!(low < high)) {
        fields_refuse(fields->reading, fields_find(fields, key),
                      "%s: the lower limit is not below the upper one", key);
    }
}

void reader_settings_limits(struct reading *reading, const config_setting_t *group,
                            struct scenario_limits *limits)
{
    struct fields fields = fields_open(reading, group, "limits");
    (void)fields_quantity(&fields, "ec_high", QUANTITY_EC, 0, settings_most_ec,
                          &limits->ec_high_ms_cm);
    (void)fields_quantity(&fields, "ec_low", QUANTITY_EC, 0, settings_most_ec,
                          &limits->ec_low_ms_cm);
    (void)fields_quantity(&fields, "ph_high", QUANTITY_PH, 0, 14, &limits->ph_high);
    (void)fields_quantity(&fields, "ph_low", QUANTITY_PH, 0, 14, &limits->ph_low);
    fields_ions(&fields, QUANTITY_ION, 0, settings_most_mmol_l, limits->high_mmol_l);
    char low_keys[ION_COUNT][SETTINGS_KEY_SIZE]; /* the fields point to them */
    for (int i = 0; i < ION_COUNT; i++) {
        const struct quantity_aid aid = {.molar_mass = ion_table[i].molar_mass,
                                         .charge = ion_table[i].charge};
        (void)snprintf(low_keys[i], sizeof low_keys[i], "%s_low", ion_table[i].key);
        if (fields_quantity_aided(&fields, low_keys[i], QUANTITY_ION, 0,
                                  settings_most_mmol_l, &aid, &limits->low_mmol_l[i])) {
            reader_settings_order(&fields, low_keys[i], limits->low_mmol_l[i],
                                  limits->high_mmol_l[i]);
        }
    }
    if (fields_find(&fields, "ec_low") != NULL) {
        reader_settings_order(&fields, "ec_low", limits->ec_low_ms_cm,
                              limits->ec_high_ms_cm);
    }
    if (fields_find(&fields, "ph_low") != NULL) {
        reader_settings_order(&fields, "ph_low", limits->ph_low, limits->ph_high);
    }
    fields_close(&fields);
}

static bool reader_settings_eats(const struct crop *crop, int ion)
{
    if (crop->kind == CROP_GROWN) {
        return true;
    }
    for (size_t i = 0; crop->kind == CROP_TABLE && i < crop->stage_count; i++) {
        if (crop->stages[i].eats_mmol_l[ion] > 0 || crop->stages[i].follows[ion] > 0) {
            return true;
        }
    }
    return false;
}

void reader_settings_watch(struct scenario_limits *limits, const struct crop *crop)
{
    for (int i = 0; i < ION_COUNT; i++) {
        if (isnan(limits->low_mmol_l[i])) {
            limits->low_mmol_l[i] =
                reader_settings_eats(crop, i) ? settings_run_out[i] : 0;
        }
    }
}

void reader_settings_display(struct reading *reading, const config_setting_t *group,
                             struct scenario_display *display)
{
    static const char *const volumes[] = {"L", "gal"};
    static const char *const temperatures[] = {"degC", "degF"};
    static const char *const lengths[] = {"cm", "inch"};
    static const char *const ecs[] = {"mS/cm", "ppm500", "ppm700"};
    struct fields fields = fields_open(reading, group, "display");
    size_t index;
    if (fields_word(&fields, "volume", volumes, 2, &index)) {
        display->volume = (enum display_volume)index;
    }
    if (fields_word(&fields, "temperature", temperatures, 2, &index)) {
        display->temperature = (enum display_temperature)index;
    }
    if (fields_word(&fields, "length", lengths, 2, &index)) {
        display->length = (enum display_length)index;
    }
    if (fields_word(&fields, "ec", ecs, 3, &index)) {
        display->ec = (enum display_ec)index;
    }
    fields_close(&fields);
}

void reader_settings_numerics(struct reading *reading, const config_setting_t *group,
                              struct scenario_numerics *numerics)
{
    static const char *const methods[] = {"adams", "bdf", "one_step"};
    struct fields fields = fields_open(reading, group, "numerics");
    size_t index;
    if (fields_word(&fields, "method", methods, 3, &index)) {
        numerics->method = (enum scenario_method)index;
    }
    (void)fields_quantity(&fields, "rtol", QUANTITY_NUMBER, 1e-12, 1e-3, &numerics->rtol);
    fields_close(&fields);
}

/* Beyond these a factor learned is a mistake of the logbook (chosen). */
static const double settings_least_scale = 0.01;
static const double settings_most_scale = 100;

void reader_settings_learned(struct reading *reading, const config_setting_t *group,
                             struct scenario *scenario)
{
    struct scenario_learned *learned = &scenario->learned;
    struct fields fields = fields_open(reading, group, "learned");
    const struct {
        const char *key;
        double *value;
    } scales[] = {{"drinking_scale", &learned->plant.drinking},
                  {"eating_scale", &learned->plant.eating},
                  {"growth_scale", &learned->plant.growth},
                  {"evaporation_scale", &learned->evaporation}};
    for (size_t i = 0; i < sizeof scales / sizeof *scales; i++) {
        (void)fields_quantity(&fields, scales[i].key, QUANTITY_NUMBER,
                              settings_least_scale, settings_most_scale, scales[i].value);
    }
    (void)fields_quantity(&fields, "start_stock_share", QUANTITY_NUMBER, 0, 2,
                          &learned->start_stock_share);
    (void)fields_quantity(&fields, "pen_offset", QUANTITY_EC, -2, 2,
                          &learned->pen_offset_ms_cm);
    double entries = 0;
    (void)fields_text(&fields, "logbook", learned->logbook, sizeof learned->logbook);
    (void)fields_quantity(&fields, "entries", QUANTITY_NUMBER, 1, LOGBOOK_ROWS_MAX,
                          &entries);
    learned->entries = (size_t)entries;
    learned->given = true;
    fields_close(&fields);
}
