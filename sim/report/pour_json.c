/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/base/tree.h"
#include "pailcast/report/pour.h"

static void json_salts(struct tree *tree, const struct pour_answer *answer)
{
    struct cJSON *salts = tree_array(tree, tree->root, "salts");
    for (size_t i = 0; i < answer->weighed.count && answer->plan.salt_l > 0; i++) {
        struct cJSON *salt = tree_item(tree, salts);
        tree_text(tree, salt, "salt", answer->weighed.parts[i].name);
        tree_number(tree, salt, "g", answer->weighed.parts[i].g_l * answer->plan.salt_l);
    }
}

static void json_steps(struct tree *tree, const struct pour_answer *answer)
{
    static const char *const acts[] = {[POUR_DRAIN] = "drain",
                                       [POUR_WATER] = "water",
                                       [POUR_STOCK] = "stock",
                                       [POUR_SALTS] = "salts"};
    const double salts_g_l = recipe_g_l(&answer->weighed);
    struct cJSON *steps = tree_array(tree, tree->root, "steps");
    for (size_t i = 0; i < answer->step_count; i++) {
        const struct pour_step *step = &answer->steps[i];
        struct cJSON *object = tree_item(tree, steps);
        const bool salts = step->act == POUR_SALTS;
        tree_text(tree, object, "do", acts[step->act]);
        tree_number(tree, object, salts ? "g" : "L",
                    salts ? step->amount_l * salts_g_l : step->amount_l);
        tree_number(tree, object, "holds_L", step->holds_l);
        tree_number(tree, object, "reads_mS_cm", step->reads_ms_cm);
    }
}

/* pH and, where the strategy has one, the dose of acid or base; null where not told. */
static void json_ph(struct tree *tree, const struct pour_answer *answer)
{
    const struct pour_ph *ph = &answer->ph;
    const struct salt *with = answer->now.adjust.with;
    tree_number(tree, tree->root, "ph_before", answer->tells_ph ? ph->before : NAN);
    tree_number(tree, tree->root, "ph_by_pouring_alone",
                answer->tells_ph ? ph->poured : NAN);
    tree_number(tree, tree->root, "ph_at_once", answer->tells_ph ? ph->at_once : NAN);
    tree_number(tree, tree->root, "ph_after", answer->tells_ph ? ph->after : NAN);
    if (with == NULL) {
        tree_null(tree, tree->root, "adjust");
        return;
    }
    struct cJSON *adjust = tree_object(tree, tree->root, "adjust");
    tree_text(tree, adjust, "with", with->formula);
    tree_number(tree, adjust, "mmol", ph->dose_mmol);
    tree_number(tree, adjust, "g", ph->dose_g);
    tree_number(tree, adjust, "ec_after_mS_cm", ph->ec_after_ms_cm);
}

static void json_range(struct tree *tree, const struct pour_range *range)
{
    struct cJSON *object = tree_object(tree, tree->root, "range");
    tree_number(tree, object, "drain_low_L", range->drain_low_l);
    tree_number(tree, object, "drain_high_L", range->drain_high_l);
    tree_number(tree, object, "water_low_L", range->water_low_l);
    tree_number(tree, object, "water_high_L", range->water_high_l);
    tree_number(tree, object, "stock_low_L", range->stock_low_l);
    tree_number(tree, object, "stock_high_L", range->stock_high_l);
    tree_number(tree, object, "ec_after_low_mS_cm", range->ec_low_ms_cm);
    tree_number(tree, object, "ec_after_high_mS_cm", range->ec_high_ms_cm);
}

enum status pour_json_answer(FILE *out, const struct pour_answer *answer,
                             struct error *error)
{
    const struct pour_plan *plan = &answer->plan;
    struct tree tree = tree_new();
    char why[POUR_WHY_SIZE];
    pour_text_why(why, answer);
    tree_number(&tree, tree.root, "water_L", plan->water_l);
    tree_number(&tree, tree.root, "stock_L", plan->stock_l);
    tree_number(&tree, tree.root, "drain_L", plan->drain_l);
    tree_number(&tree, tree.root, "ec_after_mS_cm", plan->ec_after_ms_cm);
    tree_flag(&tree, tree.root, "possible",
              plan->outcome == POUR_REACHED || plan->outcome == POUR_BY_RULE);
    tree_text(&tree, tree.root, "why", why);
    tree_number(&tree, tree.root, "aim_mS_cm", answer->now.aim_ec_ms_cm);
    tree_number(&tree, tree.root, "ec_before_mS_cm", plan->ec_before_ms_cm);
    tree_number(&tree, tree.root, "ec_by_pouring_alone_mS_cm", plan->ec_poured_ms_cm);
    tree_number(&tree, tree.root, "drain_for_stock_L", plan->drain_for_stock_l);
    json_salts(&tree, answer);
    json_ph(&tree, answer);
    json_steps(&tree, answer);
    if (answer->pen_error_ms_cm > 0) {
        json_range(&tree, &answer->range);
    }
    return tree_print(out, &tree, error);
}

enum status pour_json_past(FILE *out, const struct pour_past *past, struct error *error)
{
    const struct pour_guess *guess = &past->guess;
    struct tree tree = tree_new();
    tree_number(&tree, tree.root, "filled_fraction", guess->filled);
    tree_number(&tree, tree.root, "salt_left_fraction", guess->salt_left);
    tree_number(&tree, tree.root, "filled_fraction_by_curve", guess->filled_by_curve);
    tree_number(&tree, tree.root, "salt_left_fraction_by_curve",
                guess->salt_left_by_curve);
    tree_number(&tree, tree.root, "volume_before_L", guess->filled * past->full_l);
    tree_number(&tree, tree.root, "aim_mS_cm", past->aim_ms_cm);
    if (past->pen_error_ms_cm > 0) {
        struct cJSON *range = tree_object(&tree, tree.root, "range");
        tree_number(&tree, range, "filled_fraction_low", guess->filled_low);
        tree_number(&tree, range, "filled_fraction_high", guess->filled_high);
        tree_number(&tree, range, "salt_left_fraction_low", guess->salt_left_low);
        tree_number(&tree, range, "salt_left_fraction_high", guess->salt_left_high);
    }
    return tree_print(out, &tree, error);
}

enum status pour_json_outage(FILE *out, const struct pour_outage *outage,
                             struct error *error)
{
    struct tree tree = tree_new();
    tree_number(&tree, tree.root, "temperature_degC", outage->temperature_c);
    tree_number(&tree, tree.root, "floor_mg_L", outage_floor_mg_l);
    tree_number(&tree, tree.root, "oxygen_saturation_mg_L",
                outage_of(0, outage->temperature_c, 0).saturation_mg_l);
    struct cJSON *lines = tree_array(&tree, tree.root, "reserves");
    for (size_t i = 0; i < outage->count; i++) {
        const struct pour_outage_line *line = &outage->lines[i];
        struct cJSON *object = tree_item(&tree, lines);
        tree_text(&tree, object, "what", line->what);
        tree_number(&tree, object, "volume_L", line->volume_l);
        tree_number(&tree, object, "root_mass_g", line->root_mass_g);
        tree_number(&tree, object, "reserve_h", line->outage.reserve_h);
        tree_number(&tree, object, "until_none_h", line->outage.empty_h);
    }
    return tree_print(out, &tree, error);
}
