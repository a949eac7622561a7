/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/tree.h"
#include "pailcast/chem/pen.h"
#include "pailcast/scenario/explain.h"
#include "pailcast/visit/fill.h"

static void explain_json_liquid(struct tree *tree, const char *key, const char *name,
                                const struct liquid *liquid, const struct pen *pen)
{
    const struct pen_reading reading = pen_read(pen, liquid);
    struct cJSON *object = tree_object(tree, tree->root, key);
    if (name != NULL) {
        tree_text(tree, object, "name", name);
    }
    tree_number(tree, object, "ec_mS_cm", reading.ec_ms_cm);
    tree_number(tree, object, "ph", reading.ph);
    tree_number(tree, object, "salt_g_L", liquid_salt_g_l(liquid));
    struct cJSON *ions = tree_object(tree, object, "ions");
    for (int i = 0; i < ION_COUNT; i++) {
        tree_number(tree, ions, ion_table[i].key, liquid->mmol_l[i]);
    }
    tree_number(tree, object, "alkalinity_meq_L", liquid->alkalinity_meq_l);
}

static void explain_json_places(struct tree *tree, const struct scenario *scenario)
{
    static const char *const kinds[] = {
        [CROP_NONE] = "none", [CROP_TABLE] = "table", [CROP_GROWN] = "grown"};
    struct cJSON *bucket = tree_object(tree, tree->root, "bucket");
    tree_number(tree, bucket, "full_L", scenario->bucket.full_l);
    tree_number(tree, bucket, "rim_L", shape_rim_l(&scenario->bucket));
    tree_number(tree, bucket, "start_L", scenario->start_l);
    tree_number(tree, bucket, "evaporation_L_d", scenario->evaporation_l_d);
    struct cJSON *crop = tree_object(tree, tree->root, "crop");
    tree_text(tree, crop, "kind", kinds[scenario->crop.kind]);
    tree_text(tree, crop, "name", scenario->crop.name);
    struct cJSON *stages = tree_array(tree, crop, "stages");
    for (size_t i = 0; i < scenario->crop.stage_count; i++) {
        tree_line(tree, stages, scenario->crop.stages[i].name);
    }
}

static void explain_json_learned(struct tree *tree, const struct scenario *scenario)
{
    const struct scenario_learned *learned = &scenario->learned;
    if (!learned->given) {
        tree_null(tree, tree->root, "learned");
        return;
    }
    struct cJSON *object = tree_object(tree, tree->root, "learned");
    tree_number(tree, object, "drinking_scale", learned->plant.drinking);
    tree_number(tree, object, "eating_scale", learned->plant.eating);
    tree_number(tree, object, "growth_scale", learned->plant.growth);
    tree_number(tree, object, "evaporation_scale", learned->evaporation);
    tree_number(tree, object, "start_stock_share", learned->start_stock_share);
    tree_number(tree, object, "pen_offset_mS_cm", learned->pen_offset_ms_cm);
    tree_number(tree, object, "entries", (double)learned->entries);
}

static void explain_json_strategies(struct tree *tree, const struct scenario *scenario)
{
    struct cJSON *list = tree_array(tree, tree->root, "strategies");
    for (size_t i = 0; i < scenario->strategy_count; i++) {
        const struct strategy *strategy = &scenario->strategies[i];
        struct cJSON *object = tree_item(tree, list);
        tree_text(tree, object, "name", strategy->name);
        tree_text(tree, object, "fill", strategy->fill.rule->name);
        tree_number(tree, object, "visit_every_d", strategy->visit_every_d);
        tree_number(tree, object, "renew_every_d", strategy->renew_every_d);
    }
}

enum status explain_json(FILE *out, const struct scenario *scenario, struct error *error)
{
    struct tree tree = tree_new();
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    const struct liquid start = scenario_start_liquid(scenario, NULL);
    tree_text(&tree, tree.root, "scenario", scenario->title);
    tree_number(&tree, tree.root, "duration_d", scenario->duration_d);
    explain_json_places(&tree, scenario);
    explain_json_liquid(&tree, "water", scenario->water_name, &scenario->water, &pen);
    explain_json_liquid(&tree, "stock", scenario->stock_name, &scenario->stock, &pen);
    explain_json_liquid(&tree, "first_filling", NULL, &start, &pen);
    explain_json_learned(&tree, scenario);
    explain_json_strategies(&tree, scenario);
    struct cJSON *warnings = tree_array(&tree, tree.root, "warnings");
    for (size_t i = 0; i < scenario->warning_count; i++) {
        tree_line(&tree, warnings, scenario->warnings[i]);
    }
    return tree_print(out, &tree, error);
}
