/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/tree.h"
#include "pailcast/report/fit.h"
#include "visits_parts.h"

static void json_unknowns(struct tree *tree, const struct fit *fit)
{
    struct cJSON *list = tree_array(tree, tree->root, "unknowns");
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        const struct fit_value *value = &fit->value[k];
        struct cJSON *item = tree_item(tree, list);
        tree_text(tree, item, "name", fit_unknown_name[k]);
        tree_number(tree, item, "estimate", value->estimate);
        tree_number(tree, item, "low", value->low);
        tree_number(tree, item, "high", value->high);
        tree_flag(tree, item, "identifiable", value->identifiable);
    }
}

static void json_band(struct tree *tree, struct cJSON *item, const char *low,
                      const char *median, const char *high, const struct fit_band *band)
{
    tree_number(tree, item, low, band->low);
    tree_number(tree, item, median, band->median);
    tree_number(tree, item, high, band->high);
}

static void json_forecast(struct tree *tree, const struct fit *fit)
{
    struct cJSON *list = tree_array(tree, tree->root, "forecast");
    for (size_t i = FIT_MOMENTS_A_DAY - 1; i < fit->moment_count;
         i += FIT_MOMENTS_A_DAY) {
        const struct fit_moment *day = &fit->moments[i];
        struct cJSON *item = tree_item(tree, list);
        tree_number(tree, item, "day", day->day_d);
        json_band(tree, item, "ec_low", "ec_median", "ec_high", &day->ec_ms_cm);
        json_band(tree, item, "volume_low_L", "volume_median_L", "volume_high_L",
                  &day->volume_l);
        json_band(tree, item, "ph_low", "ph_median", "ph_high", &day->ph);
        struct cJSON *ions = tree_object(tree, item, "ions_mmol_L");
        for (size_t k = 0; k < ION_COUNT; k++) {
            struct cJSON *ion = tree_object(tree, ions, ion_table[k].key);
            json_band(tree, ion, "low", "median", "high", &day->ion_mmol_l[k]);
        }
    }
}

static void json_choices(struct tree *tree, const struct fit *fit)
{
    struct cJSON *list = tree_array(tree, tree->root, "strategies");
    for (size_t i = 0; i < fit->choice_count; i++) {
        const struct fit_choice *choice = &fit->choices[i];
        struct cJSON *item = tree_item(tree, list);
        tree_text(tree, item, "name", choice->strategy->name);
        tree_number(tree, item, "next_action_day", choice->next_visit.day_d);
        tree_number(tree, item, "drain_L", choice->next_visit.drained_l);
        tree_number(tree, item, "water_L", choice->next_visit.water_l);
        tree_number(tree, item, "stock_L", choice->next_visit.stock_l);
        tree_number(tree, item, "adjust_g",
                    visits_dose_g(&choice->next_visit, choice->strategy));
        json_band(tree, item, "ec_low", "ec_median", "ec_high", &choice->ec_ms_cm);
        json_band(tree, item, "na_low_mmol_L", "na_median_mmol_L", "na_high_mmol_L",
                  &choice->sodium_mmol_l);
        tree_number(tree, item, "least_L", choice->least_l);
        if (choice->scarce < ION_COUNT) {
            tree_text(tree, item, "scarce", ion_table[choice->scarce].key);
        } else {
            tree_null(tree, item, "scarce");
        }
        tree_number(tree, item, "scarce_chance", choice->scarce_chance);
        tree_number(tree, item, "ec_high_chance", choice->ec_high_chance);
        tree_number(tree, item, "ec_low_chance", choice->ec_low_chance);
        tree_number(tree, item, "ph_high_chance", choice->ph_high_chance);
        tree_number(tree, item, "ph_low_chance", choice->ph_low_chance);
        if (choice->excess < ION_COUNT) {
            tree_text(tree, item, "excess", ion_table[choice->excess].key);
        } else {
            tree_null(tree, item, "excess");
        }
        tree_number(tree, item, "excess_chance", choice->excess_chance);
    }
}

static void json_unexpected(struct tree *tree, const struct fit *fit)
{
    struct cJSON *list = tree_array(tree, tree->root, "unexpected");
    for (size_t i = 0; i < fit->surprise_count; i++) {
        const struct fit_surprise *surprise = &fit->surprises[i];
        struct cJSON *item = tree_item(tree, list);
        tree_number(tree, item, "day", surprise->day_d);
        tree_text(tree, item, "what", surprise->what);
        struct cJSON *aside = tree_array(tree, item, "set_aside");
        for (int kind = 0; kind < FIT_KINDS; kind++) {
            if (surprise->aside[kind]) {
                tree_line(tree, aside, fit_kind_words[kind]);
            }
        }
        struct cJSON *causes = tree_array(tree, item, "causes");
        for (size_t c = 0; c < surprise->cause_count; c++) {
            tree_line(tree, causes, surprise->causes[c]);
        }
    }
}

enum status fit_json_write(FILE *out, const struct fit *fit, struct error *error)
{
    struct tree tree = tree_new();
    tree_text(&tree, tree.root, "strategy", fit->strategy->name);
    json_unknowns(&tree, fit);
    json_forecast(&tree, fit);
    json_choices(&tree, fit);
    json_unexpected(&tree, fit);
    tree_number(&tree, tree.root, "next_action_day", fit->next_visit.day_d);
    tree_number(&tree, tree.root, "roots_keep_water_until_day", fit->safe_until_d);
    struct cJSON *remarks = tree_array(&tree, tree.root, "remarks");
    for (size_t i = 0; i < fit->remark_count; i++) {
        tree_line(&tree, remarks, fit->remarks[i]);
    }
    return tree_print(out, &tree, error);
}
