/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include <cjson/cJSON.h>

#include "pailcast/chem/pen.h"
#include "pailcast/scenario/explain.h"
#include "pailcast/visit/fill.h"

/* Adds a number; cJSON writes null for what is not finite. */
static void explain_json_number(cJSON *object, const char *key, double value)
{
    (void)cJSON_AddNumberToObject(object, key, value);
}

static void explain_json_liquid(cJSON *root, const char *key, const char *name,
                                const struct liquid *liquid, const struct pen *pen)
{
    const struct pen_reading reading = pen_read(pen, liquid);
    cJSON *object = cJSON_AddObjectToObject(root, key);
    if (name != NULL) {
        (void)cJSON_AddStringToObject(object, "name", name);
    }
    explain_json_number(object, "ec_mS_cm", reading.ec_ms_cm);
    explain_json_number(object, "ph", reading.ph);
    explain_json_number(object, "salt_g_L", liquid_salt_g_l(liquid));
    cJSON *ions = cJSON_AddObjectToObject(object, "ions");
    for (int i = 0; i < ION_COUNT; i++) {
        explain_json_number(ions, ion_table[i].key, liquid->mmol_l[i]);
    }
    explain_json_number(object, "alkalinity_meq_L", liquid->alkalinity_meq_l);
}

static void explain_json_places(cJSON *root, const struct scenario *scenario)
{
    static const char *const kinds[] = {
        [CROP_NONE] = "none", [CROP_TABLE] = "table", [CROP_GROWN] = "grown"};
    cJSON *bucket = cJSON_AddObjectToObject(root, "bucket");
    explain_json_number(bucket, "full_L", scenario->bucket.full_l);
    explain_json_number(bucket, "rim_L", shape_rim_l(&scenario->bucket));
    explain_json_number(bucket, "start_L", scenario->start_l);
    explain_json_number(bucket, "evaporation_L_d", scenario->evaporation_l_d);
    cJSON *crop = cJSON_AddObjectToObject(root, "crop");
    (void)cJSON_AddStringToObject(crop, "kind", kinds[scenario->crop.kind]);
    (void)cJSON_AddStringToObject(crop, "name", scenario->crop.name);
    cJSON *stages = cJSON_AddArrayToObject(crop, "stages");
    for (size_t i = 0; i < scenario->crop.stage_count; i++) {
        (void)cJSON_AddItemToArray(stages,
                                   cJSON_CreateString(scenario->crop.stages[i].name));
    }
}

static void explain_json_strategies(cJSON *root, const struct scenario *scenario)
{
    cJSON *list = cJSON_AddArrayToObject(root, "strategies");
    for (size_t i = 0; i < scenario->strategy_count; i++) {
        const struct strategy *strategy = &scenario->strategies[i];
        cJSON *object = cJSON_CreateObject();
        (void)cJSON_AddStringToObject(object, "name", strategy->name);
        (void)cJSON_AddStringToObject(object, "fill", strategy->fill.rule->name);
        explain_json_number(object, "visit_every_d", strategy->visit_every_d);
        explain_json_number(object, "renew_every_d", strategy->renew_every_d);
        (void)cJSON_AddItemToArray(list, object);
    }
}

enum status explain_json(FILE *out, const struct scenario *scenario, struct error *error)
{
    cJSON *root = cJSON_CreateObject();
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    const struct liquid start = scenario_start_liquid(scenario, NULL);
    (void)cJSON_AddStringToObject(root, "scenario", scenario->title);
    explain_json_number(root, "duration_d", scenario->duration_d);
    explain_json_places(root, scenario);
    explain_json_liquid(root, "water", scenario->water_name, &scenario->water, &pen);
    explain_json_liquid(root, "stock", scenario->stock_name, &scenario->stock, &pen);
    explain_json_liquid(root, "first_filling", NULL, &start, &pen);
    explain_json_strategies(root, scenario);
    cJSON *warnings = cJSON_AddArrayToObject(root, "warnings");
    for (size_t i = 0; i < scenario->warning_count; i++) {
        (void)cJSON_AddItemToArray(warnings, cJSON_CreateString(scenario->warnings[i]));
    }
    char *text = cJSON_Print(root);
    cJSON_Delete(root);
    if (text == NULL) {
        return status_error(error, STATUS_MEMORY, "out of memory");
    }
    fprintf(out, "%s\n", text);
    cJSON_free(text);
    return STATUS_OK;
}
