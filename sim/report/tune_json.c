/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/base/tree.h"
#include "pailcast/report/tune.h"

/* Never is null. */
static void tune_json_candidate(struct tree *tree, struct cJSON *object,
                                const struct tune *tune,
                                const struct tune_candidate *candidate)
{
    struct cJSON *settings = tree_object(tree, object, "settings");
    for (size_t i = 0; i < tune->setting_count; i++) {
        const enum tune_setting setting = tune->settings[i];
        tree_number(tree, settings, tune_setting_keys[setting],
                    candidate->value[setting]);
    }
    for (int a = 0; a < TUNE_AIMS; a++) {
        tree_number(tree, object, tune_aim_keys[a], candidate->aim[a]);
    }
    tree_number(tree, object, "trouble", candidate->trouble);
    tree_number(tree, object, "growth_index", candidate->growth);
    tree_flag(tree, object, "keeps_limits", candidate->keeps);
}

static void tune_json_pair(struct tree *tree, const struct tune *tune, const char *key,
                           size_t index, const struct tune_candidate *again)
{
    const struct tune_candidate *candidate = &tune->candidates[index];
    struct cJSON *object = tree_object(tree, tree->root, key);
    tune_json_candidate(tree, object, tune, candidate);
    tree_flag(tree, object, "on_front", candidate->on_front);
    struct cJSON *fresh = tree_object(tree, object, "fresh_worlds");
    tree_number(tree, fresh, "trouble", again->trouble);
    tree_number(tree, fresh, "growth_index", again->growth);
}

enum status tune_json_write(FILE *out, const struct tune *tune, struct error *error)
{
    char sentence[TUNE_SENTENCE_SIZE];
    struct tree tree = tree_new();
    tune_sentence(sentence, tune);
    tree_text(&tree, tree.root, "scenario", tune->scenario->title);
    tree_text(&tree, tree.root, "strategy", tune->scenario->strategies[0].name);
    tree_number(&tree, tree.root, "days", tune->scenario->duration_d);
    tree_number(&tree, tree.root, "seed", (double)tune->plan->seed);
    tree_number(&tree, tree.root, "worlds", (double)tune->plan->worlds);
    tree_number(&tree, tree.root, "candidates", (double)tune->count);
    tree_number(&tree, tree.root, "lives", (double)tune->lives_used);
    tree_number(&tree, tree.root, "most_trouble", tune->plan->most_trouble);
    tree_number(&tree, tree.root, "least_growth", tune->plan->least_growth);
    tree_flag(&tree, tree.root, "possible", tune->possible);
    tune_json_pair(&tree, tune, "now", 0, &tune->present_again);
    tune_json_pair(&tree, tune, tune->possible ? "recommended" : "nearest", tune->best,
                   &tune->best_again);
    tree_text(&tree, tree.root, "recommendation", sentence);
    struct cJSON *front = tree_array(&tree, tree.root, "front");
    for (size_t i = 0; i < tune->count; i++) {
        if (tune->candidates[i].on_front) {
            tune_json_candidate(&tree, tree_item(&tree, front), tune,
                                &tune->candidates[i]);
        }
    }
    return tree_print(out, &tree, error);
}
