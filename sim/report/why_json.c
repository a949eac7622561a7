/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/tree.h"
#include "pailcast/report/why.h"

static void json_ion(struct tree *tree, struct cJSON *ions, const struct why_ion *ion,
                     const char *key)
{
    struct cJSON *object = tree_object(tree, ions, key);
    tree_number(tree, object, "eaten_mmol_L", ion->eaten_mmol_l);
    tree_number(tree, object, "solution_mmol_L", ion->solution_mmol_l);
    tree_number(tree, object, "eaten_to_drunk", ion->ratio);
    tree_number(tree, object, "makeup_mmol_L", ion->makeup_mmol_l);
    tree_number(tree, object, "first_mmol_L", ion->first_mmol_l);
    tree_number(tree, object, "last_mmol_L", ion->last_mmol_l);
    tree_text(tree, object, "heading", why_heading_word[ion->heading]);
    tree_number(tree, object, "limit_mmol_L", ion->limit_mmol_l);
    tree_number(tree, object, "gone_after_L", ion->gone_after_l);
}

static void json_passed(struct tree *tree, struct cJSON *object,
                        const struct why_tally *tally)
{
    tree_number(tree, object, "drunk_L", tally->drunk_l);
    tree_number(tree, object, "evaporated_L", tally->evaporated_l);
    tree_number(tree, object, "water_poured_L", tally->water_l + tally->renewal_water_l);
    tree_number(tree, object, "stock_poured_L", tally->stock_l + tally->renewal_stock_l);
    tree_number(tree, object, "drained_L", tally->drained_l);
    tree_number(tree, object, "visits", tally->visits);
    tree_number(tree, object, "renewals", tally->renewals);
}

static void json_interval(struct tree *tree, struct cJSON *object,
                          const struct why_interval *interval,
                          const struct scenario *scenario)
{
    char sentence[WHY_SENTENCE_SIZE];
    tree_number(tree, object, "from_day", interval->from_d);
    tree_number(tree, object, "to_day", interval->to_d);
    tree_number(tree, object, "ec_from", interval->ec_from_ms_cm);
    tree_number(tree, object, "ec_to", interval->ec_to_ms_cm);
    struct cJSON *parts = tree_object(tree, object, "parts");
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        tree_number(tree, parts, why_part_key[i], interval->tally.part[i]);
    }
    tree_number(tree, object, "closure", interval->closure);
    tree_number(tree, object, "ec_before_visit", interval->ec_before_ms_cm);
    json_passed(tree, object, &interval->tally);
    tree_number(tree, object, "salt_in_drunk_g", interval->salt_in_drunk_g);
    tree_number(tree, object, "salt_eaten_g", interval->salt_eaten_g);
    tree_number(tree, object, "eaten_share", interval->eaten_share);
    struct cJSON *ions = tree_object(tree, object, "ions");
    for (int i = 0; i < ION_COUNT; i++) {
        json_ion(tree, ions, &interval->ion[i], ion_table[i].key);
    }
    why_sentence(sentence, interval, scenario);
    tree_text(tree, object, "sentence", sentence);
}

/* Days from which something is amiss; null: not by until_day. */
static void json_ahead(struct tree *tree, const struct why_ahead *ahead)
{
    struct cJSON *object = tree_object(tree, tree->root, "ahead");
    tree_number(tree, object, "until_day", ahead->until_d);
    tree_number(tree, object, "plant_lost_day", ahead->lost_d);
    tree_number(tree, object, "ec_high_day", ahead->ec_high_d);
    tree_number(tree, object, "ec_high_after_visit_day", ahead->ec_left_d);
    struct cJSON *ions = tree_object(tree, object, "ions");
    for (int i = 0; i < ION_COUNT; i++) {
        struct cJSON *ion = tree_object(tree, ions, ion_table[i].key);
        tree_number(tree, ion, "high_day", ahead->ion_high_d[i]);
        tree_number(tree, ion, "high_after_visit_day", ahead->ion_left_d[i]);
        tree_number(tree, ion, "ran_out_day", ahead->gone_d[i]);
    }
}

enum status why_json_write(FILE *out, const struct why *why, struct error *error)
{
    struct tree tree = tree_new();
    tree_text(&tree, tree.root, "scenario", why->scenario->stem);
    tree_text(&tree, tree.root, "strategy", why->strategy->name);
    struct cJSON *intervals = tree_array(&tree, tree.root, "intervals");
    for (size_t i = 0; i < why->interval_count; i++) {
        json_interval(&tree, tree_item(&tree, intervals), &why->intervals[i],
                      why->scenario);
    }
    if (why->interval_count > 0) {
        char verdict[WHY_SENTENCE_SIZE];
        struct cJSON *ballast = tree_object(&tree, tree.root, "ballast_mS_cm");
        tree_number(&tree, ballast, "from", why->ballast_from_ms_cm);
        tree_number(&tree, ballast, "to", why->ballast_to_ms_cm);
        json_ahead(&tree, &why->ahead);
        why_verdict(verdict, why);
        tree_text(&tree, tree.root, "verdict", verdict);
    }
    return tree_print(out, &tree, error);
}
