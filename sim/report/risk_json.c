/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "pailcast/base/tree.h"
#include "pailcast/report/risk.h"
#include "pailcast/study/risk_matters.h"

/* What was kept in single precision is told with the digits it has. */
static double risk_json_digits(double value)
{
    char text[32];
    (void)snprintf(text, sizeof text, "%.6g", value);
    return strtod(text, NULL);
}

static void risk_json_number(struct tree *tree, struct cJSON *object, const char *key,
                             double value)
{
    tree_number(tree, object, key, risk_json_digits(value));
}

static void risk_json_spread(struct tree *tree, struct cJSON *object, const char *key,
                             const struct risk_spread *spread)
{
    struct cJSON *three = tree_object(tree, object, key);
    risk_json_number(tree, three, "p10", spread->p10);
    risk_json_number(tree, three, "p50", spread->p50);
    risk_json_number(tree, three, "p90", spread->p90);
}

static void risk_json_list(struct tree *tree, struct cJSON *object, const char *key,
                           const double value[], size_t count)
{
    double digits[RISK_GRID_MAX];
    for (size_t i = 0; i < count; i++) {
        digits[i] = risk_json_digits(value[i]);
    }
    tree_numbers(tree, object, key, digits, count);
}

static void risk_json_chances(struct tree *tree, struct cJSON *object,
                              const struct risk_row *row)
{
    struct cJSON *share = tree_object(tree, object, "chance");
    struct cJSON *low = tree_object(tree, object, "chance_low");
    struct cJSON *high = tree_object(tree, object, "chance_high");
    struct cJSON *day = tree_object(tree, object, "median_day");
    struct cJSON *left = tree_object(tree, object, "chance_after_last_visit");
    for (int i = 0; i < OUTCOME_DAYS; i++) {
        const char *key = outcome_table[i].key;
        risk_json_number(tree, share, key, row->chance[i].share);
        risk_json_number(tree, low, key, row->chance[i].low);
        risk_json_number(tree, high, key, row->chance[i].high);
        risk_json_number(tree, day, key, row->chance[i].median_d);
        risk_json_number(tree, left, key, row->left[i]);
    }
}

static void risk_json_bands(struct tree *tree, struct cJSON *object,
                            const struct risk_row *row, size_t count)
{
    struct cJSON *bands = tree_object(tree, object, "bands");
    for (int c = 0; c < OUTCOME_CURVES; c++) {
        double value[3][RISK_GRID_MAX];
        for (size_t i = 0; i < count; i++) {
            value[0][i] = row->band[c][i].p10;
            value[1][i] = row->band[c][i].p50;
            value[2][i] = row->band[c][i].p90;
        }
        struct cJSON *band = tree_object(tree, bands, outcome_curve_keys[c]);
        risk_json_list(tree, band, "p10", value[0], count);
        risk_json_list(tree, band, "p50", value[1], count);
        risk_json_list(tree, band, "p90", value[2], count);
    }
    risk_json_list(tree, object, "quiet", row->quiet, count);
}

static void risk_json_matters(struct tree *tree, struct cJSON *object,
                              const struct risk_row *row, const struct risk *risk)
{
    struct cJSON *matters = tree_object(tree, object, "matters");
    for (size_t t = 0; t < RISK_TARGETS; t++) {
        struct cJSON *list =
            tree_array(tree, matters, outcome_table[risk_targets[t]].key);
        for (size_t i = 0; i < risk->input_count; i++) {
            const struct sobol_index *index = &row->matters[t][i];
            struct cJSON *item = tree_item(tree, list);
            tree_text(tree, item, "input", draw_key(risk->inputs[i]));
            risk_json_number(tree, item, "first", index->first);
            risk_json_number(tree, item, "first_error", index->first_error);
            risk_json_number(tree, item, "total", index->total);
            risk_json_number(tree, item, "total_error", index->total_error);
        }
    }
}

/* The inputs that can be ranked, the one that matters most first. */
static void risk_json_ranked(struct tree *tree, struct cJSON *object,
                             const struct risk_sum *sum, size_t row)
{
    struct cJSON *ranked = tree_object(tree, object, "matters_ranked");
    for (size_t t = 0; t < RISK_TARGETS; t++) {
        struct cJSON *list = tree_array(tree, ranked, outcome_table[risk_targets[t]].key);
        for (size_t rank = 0; risk_matters_ranked(sum, row, t, rank) >= 0; rank++) {
            const int i = risk_matters_ranked(sum, row, t, rank);
            tree_line(tree, list, draw_key(sum->risk->inputs[i]));
        }
    }
}

static void risk_json_row(struct tree *tree, struct cJSON *object,
                          const struct risk_sum *sum, size_t k)
{
    const struct risk_row *row = &sum->rows[k];
    const struct risk *risk = sum->risk;
    tree_text(tree, object, "name", row->strategy->name);
    tree_number(tree, object, "lives", (double)risk->plan->lives);
    risk_json_chances(tree, object, row);
    if (row->next[0] != '\0') {
        tree_text(tree, object, "next_step", row->next);
    } else {
        tree_null(tree, object, "next_step");
    }
    for (int i = OUTCOME_DAYS; i < OUTCOME_COUNT; i++) {
        risk_json_spread(tree, object, outcome_table[i].key, &row->amount[i]);
    }
    struct cJSON *difference = tree_object(tree, object, "difference_to_first");
    for (int i = OUTCOME_DAYS; i < OUTCOME_COUNT; i++) {
        risk_json_spread(tree, difference, outcome_table[i].key, &row->difference[i]);
    }
    risk_json_bands(tree, object, row, risk->grid_count);
    if (risk->plan->base > 0) {
        risk_json_matters(tree, object, row, risk);
        risk_json_ranked(tree, object, sum, k);
    }
}

static void risk_json_uncertain(struct tree *tree, const struct risk *risk)
{
    struct cJSON *list = tree_object(tree, tree->root, "uncertain");
    const struct uncertain *uncertain = &risk->scenario->uncertain;
    for (int i = 0; i < UNCERTAIN_COUNT; i++) {
        tree_number(tree, list, uncertain_table[i].key, uncertain->spread[i]);
    }
}

enum status risk_json_write(FILE *out, const struct risk_sum *sum, struct error *error)
{
    const struct risk *risk = sum->risk;
    struct tree tree = tree_new();
    double day_d[RISK_GRID_MAX];
    for (size_t i = 0; i < risk->grid_count; i++) {
        day_d[i] = (double)i * risk->grid_step_d;
    }
    tree_text(&tree, tree.root, "scenario", risk->scenario->title);
    tree_number(&tree, tree.root, "days", risk->scenario->duration_d);
    tree_number(&tree, tree.root, "lives", (double)risk->plan->lives);
    tree_number(&tree, tree.root, "seed", (double)risk->plan->seed);
    tree_number(&tree, tree.root, "matters_rows", (double)risk->plan->base);
    const size_t rows_needed = risk_matters_rows_needed(sum);
    tree_number(&tree, tree.root, "matters_lives_needed",
                rows_needed > 0 ? (double)(RISK_LIVES_PER_ROW * rows_needed) : NAN);
    risk_json_uncertain(&tree, risk);
    risk_json_list(&tree, tree.root, "grid_days", day_d, risk->grid_count);
    struct cJSON *strategies = tree_array(&tree, tree.root, "strategies");
    for (size_t k = 0; k < sum->row_count; k++) {
        risk_json_row(&tree, tree_item(&tree, strategies), sum, k);
    }
    tree_text(&tree, tree.root, "verdict", sum->verdict);
    struct cJSON *equals = tree_array(&tree, tree.root, "recommended");
    for (size_t k = 0; k < sum->row_count; k++) {
        if (sum->equal[k]) {
            tree_line(&tree, equals, sum->rows[k].strategy->name);
        }
    }
    return tree_print(out, &tree, error);
}
