/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/base/tree.h"
#include "pailcast/report/mix.h"

static void json_mix(struct tree *tree, struct cJSON *object, const struct mix *mix)
{
    tree_number(tree, object, "ec_mS_cm", mix->reading.ec_ms_cm);
    tree_number(tree, object, "ph", mix->reading.ph);
    struct cJSON *ions = tree_object(tree, object, "ions");
    for (int i = 0; i < ION_COUNT; i++) {
        tree_number(tree, ions, ion_table[i].key, mix->liquid.mmol_l[i]);
    }
    tree_number(tree, object, "alkalinity_meq_L", mix->liquid.alkalinity_meq_l);
    tree_number(tree, object, "salt_g_L", mix->salt_g_l);
    tree_number(tree, object, "charge_error_percent", mix->charge_error_percent);
    struct cJSON *saturation = tree_object(tree, object, "saturation");
    for (int k = 0; k < SOLID_COUNT; k++) {
        tree_number(tree, saturation, saturation_solid_name[k], mix->saturation[k]);
    }
    struct cJSON *scarce = tree_array(tree, object, "short_of");
    for (int i = 0; i < ION_COUNT; i++) {
        if (mix->scarce[i]) {
            tree_line(tree, scarce, ion_table[i].key);
        }
    }
}

static void json_salts(struct tree *tree, const struct mix_told *told)
{
    struct cJSON *salts = tree_array(tree, tree->root, "salts");
    for (size_t i = 0; told->weighed != NULL && i < told->weighed->count; i++) {
        const struct recipe_part *part = &told->weighed->parts[i];
        struct cJSON *salt = tree_item(tree, salts);
        tree_text(tree, salt, "salt", part->name);
        tree_number(tree, salt, "g_L", part->g_l);
        if (!isnan(told->litres)) {
            tree_number(tree, salt, "g", part->g_l * told->litres);
        }
    }
}

static void json_missed(struct tree *tree, const struct mix_told *told)
{
    struct cJSON *missed = tree_object(tree, tree->root, "missed_mmol_L");
    for (int i = 0; i < ION_COUNT; i++) {
        if (!isnan(told->wanted->mmol_l[i])) {
            tree_number(tree, missed, ion_table[i].key, told->solution->missed_mmol_l[i]);
        }
    }
    if (!isnan(told->wanted->alkalinity_meq_l)) {
        tree_number(tree, tree->root, "missed_alkalinity_meq_L",
                    told->solution->missed_meq_l);
    }
}

enum status mix_json(FILE *out, const struct mix_told *told, struct error *error)
{
    struct tree tree = tree_new();
    json_mix(&tree, tree.root, told->mix);
    json_salts(&tree, told);
    if (told->solution != NULL) {
        json_missed(&tree, told);
    }
    if (!isnan(told->cost)) {
        tree_number(&tree, tree.root, "cost", told->cost);
    }
    return tree_print(out, &tree, error);
}

/* A row that could not be used has its keys with nothing in them. */
static void json_row(struct tree *tree, struct cJSON *object, const struct analysis *row,
                     const struct mix *mix)
{
    static const char *const keys[] = {"ec_mS_cm", "ph", "charge_error_percent"};
    if (row->usable) {
        json_mix(tree, object, mix);
        return;
    }
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        tree_number(tree, object, keys[i], NAN);
    }
}

enum status mix_json_rows(FILE *out, const struct analyses *analyses,
                          const struct mix mixes[], struct error *error)
{
    struct tree tree = tree_new();
    struct cJSON *rows = tree_array(&tree, tree.root, "rows");
    for (size_t i = 0; i < analyses->count; i++) {
        struct cJSON *row = tree_item(&tree, rows);
        tree_text(&tree, row, "label", analyses->rows[i].label);
        tree_number(&tree, row, "line", (double)analyses->rows[i].line);
        json_row(&tree, row, &analyses->rows[i], &mixes[i]);
        tree_number(&tree, row, "measured_ec_mS_cm", analyses->rows[i].measured_ec_ms_cm);
        tree_number(&tree, row, "measured_ph", analyses->rows[i].ph);
    }
    return tree_print(out, &tree, error);
}
