/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/json.h"

#include <math.h>

#include "figure.h"
#include "pailcast/base/tree.h"
#include "pailcast/report/slug.h"
#include "pailcast/study/beyond.h"
#include "pailcast/study/outage.h"

static void json_ec(struct tree *tree, struct cJSON *object,
                    const struct compare_row *row)
{
    struct cJSON *ec = tree_object(tree, object, "ec_mS_cm");
    tree_number(tree, ec, "min", row->ec_min);
    tree_number(tree, ec, "max", row->ec_max);
    tree_number(tree, ec, "mean", row->ec_mean);
    tree_number(tree, ec, "last", row->ec_last);
    tree_number(tree, ec, "useful_last", row->useful_ec_ms_cm);
    tree_number(tree, ec, "ballast_last", row->ballast_ec_ms_cm);
}

/* First days beyond what the model was checked on. */
static void json_beyond(struct tree *tree, struct cJSON *object,
                        const struct beyond *beyond)
{
    struct cJSON *days = tree_object(tree, object, "beyond");
    tree_number(tree, days, "ec_day", beyond->ec_d);
    tree_number(tree, days, "salt_day", beyond->salt_d);
}

static void json_ph(struct tree *tree, struct cJSON *object,
                    const struct trajectory *path)
{
    double low = INFINITY;
    double high = -INFINITY;
    for (size_t i = 0; i < path->sample_count; i++) {
        low = fmin(low, path->samples[i].ph);
        high = fmax(high, path->samples[i].ph);
    }
    struct cJSON *ph = tree_object(tree, object, "ph");
    tree_number(tree, ph, "min", low);
    tree_number(tree, ph, "max", high);
}

static void json_first_days(struct tree *tree, struct cJSON *object,
                            const struct compare_row *row)
{
    const struct life_first_days *first = &row->life.first;
    struct cJSON *days = tree_object(tree, object, "first_day");
    tree_number(tree, days, "ec_high", first->ec_high);
    tree_number(tree, days, "ec_low", first->ec_low);
    tree_number(tree, days, "sodium_high", first->ion_high[ION_NA]);
    if (row->nutrient_low < ION_COUNT) {
        struct cJSON *low = tree_object(tree, days, "nutrient_low");
        tree_text(tree, low, "ion", ion_table[row->nutrient_low].key);
        tree_number(tree, low, "day", row->nutrient_low_d);
    } else {
        tree_null(tree, days, "nutrient_low");
    }
    tree_number(tree, days, "roots_dry", first->roots_dry);
    tree_number(tree, days, "ph_high", first->ph_high);
    tree_number(tree, days, "ph_low", first->ph_low);
    tree_number(tree, days, "bucket_empty", first->bucket_empty);
    tree_number(tree, days, "plant_lost", first->plant_lost);
    struct cJSON *ion_high = tree_object(tree, days, "ion_high");
    struct cJSON *ion_low = tree_object(tree, days, "ion_low");
    for (size_t i = 0; i < ION_COUNT; i++) {
        tree_number(tree, ion_high, ion_table[i].key, first->ion_high[i]);
        tree_number(tree, ion_low, ion_table[i].key, first->nutrient_low[i]);
    }
}

static void json_totals(struct tree *tree, struct cJSON *object,
                        const struct compare *compare, size_t index)
{
    const struct scenario *scenario = compare->scenario;
    const struct life *life = &compare->rows[index].life;
    const struct sample *last = figure_last(compare, index);
    const double first_mmol =
        scenario_start_dose_mmol(scenario, compare->rows[index].strategy);
    struct cJSON *totals = tree_object(tree, object, "totals");
    tree_number(tree, totals, "drunk_L", last->state[STATE_DRUNK]);
    tree_number(tree, totals, "evaporated_L", last->state[STATE_EVAPORATED]);
    tree_number(tree, totals, "water_poured_L", last->water_poured_l);
    tree_number(tree, totals, "stock_poured_L", last->stock_poured_l);
    tree_number(tree, totals, "drained_L", last->drained_l);
    tree_number(tree, totals, "salt_poured_g", life->ledger.salt_poured_g);
    tree_number(tree, totals, "visits", life->ledger.visits);
    tree_number(tree, totals, "renewals", life->ledger.renewals);
    tree_number(tree, totals, "tests", life->ledger.tests);
    tree_number(tree, totals, "adjust_mmol", life->ledger.adjust_mmol);
    tree_number(tree, totals, "adjust_first_mmol", first_mmol);
}

static void json_balance(struct tree *tree, struct cJSON *object,
                         const struct ledger_balance *balance)
{
    struct cJSON *books = tree_object(tree, object, "balance");
    tree_number(tree, books, "water_rel", balance->water_rel);
    tree_number(tree, books, "worst_ion_rel", balance->worst_ion_rel);
    tree_number(tree, books, "charge_rel", balance->charge_rel);
    struct cJSON *ions = tree_object(tree, books, "ion_rel");
    for (size_t i = 0; i < ION_COUNT; i++) {
        tree_number(tree, ions, ion_table[i].key, balance->ion_rel[i]);
    }
}

static void json_effort(struct tree *tree, struct cJSON *object,
                        const struct life_effort *effort)
{
    struct cJSON *work = tree_object(tree, object, "effort");
    tree_number(tree, work, "rate_calls", (double)effort->rate_calls);
    tree_number(tree, work, "steps", (double)effort->steps);
    tree_number(tree, work, "restarts", (double)effort->restarts);
}

/* How long the roots have when the air pump stops at the worst moment. */
static void json_outage(struct tree *tree, struct cJSON *object,
                        const struct compare *compare, size_t index)
{
    const struct outage_worst worst =
        outage_worst_of(&compare->rows[index].life, compare->scenario);
    if (isnan(worst.day_d)) {
        tree_null(tree, object, "outage");
        return;
    }
    struct cJSON *outage = tree_object(tree, object, "outage");
    tree_number(tree, outage, "day", worst.day_d);
    tree_number(tree, outage, "volume_L", worst.volume_l);
    tree_number(tree, outage, "reserve_h", worst.outage.reserve_h);
}

/* How long the bucket can be left alone after the last visit; null: 60 days at least. */
static void json_absence(struct tree *tree, struct cJSON *object,
                         const struct absence *absence)
{
    if (isnan(absence->visit_d)) {
        tree_null(tree, object, "absence");
        return;
    }
    struct cJSON *left = tree_object(tree, object, "absence");
    tree_number(tree, left, "from_day", absence->visit_d);
    tree_number(tree, left, "roots_dry_day", absence->dry_d);
    tree_number(tree, left, "limit_day", absence->limit.day_d);
    if (isfinite(absence->limit.day_d)) {
        tree_text(tree, left, "limit", absence->limit.what);
    } else {
        tree_null(tree, left, "limit");
    }
}

static void json_strategy(struct tree *tree, struct cJSON *strategies,
                          const struct compare *compare, size_t index)
{
    const struct compare_row *row = &compare->rows[index];
    struct cJSON *object = tree_item(tree, strategies);
    char slug[SLUG_SIZE];
    slug_of_row(slug, compare, index);
    tree_text(tree, object, "name", row->strategy->name);
    json_ec(tree, object, row);
    const struct beyond beyond = beyond_of(&row->life, compare->scenario);
    json_beyond(tree, object, &beyond);
    json_first_days(tree, object, row);
    json_totals(tree, object, compare, index);
    tree_number(tree, object, "dry_mass_g", row->dry_mass_g);
    tree_number(tree, object, "growth_index", row->growth_index);
    json_balance(tree, object, &row->life.balance);
    struct cJSON *advice = tree_array(tree, object, "advice");
    for (size_t i = 0; i < row->advice_count; i++) {
        tree_line(tree, advice, row->advice[i]);
    }
    tree_text(tree, object, "slug", slug);
    tree_flag(tree, object, "complete", row->complete);
    tree_number(tree, object, "end_day", row->life.end_d);
    json_ph(tree, object, &row->life.trajectory);
    tree_number(tree, object, "sodium_last_mmol_L", row->sodium_last_mmol_l);
    tree_number(tree, object, "sodium_max_mmol_L", row->sodium_max_mmol_l);
    tree_number(tree, object, "removed_g", row->life.removed_g);
    json_outage(tree, object, compare, index);
    json_absence(tree, object, &row->absence);
    json_effort(tree, object, &row->life.effort);
}

static void json_limits(struct tree *tree, struct cJSON *root,
                        const struct scenario_limits *limits)
{
    struct cJSON *object = tree_object(tree, root, "limits");
    tree_number(tree, object, "ec_high_mS_cm", limits->ec_high_ms_cm);
    tree_number(tree, object, "ec_low_mS_cm",
                limits->ec_low_ms_cm > 0 ? limits->ec_low_ms_cm : NAN);
    tree_number(tree, object, "ph_high", limits->ph_high);
    tree_number(tree, object, "ph_low", limits->ph_low > 0 ? limits->ph_low : NAN);
    struct cJSON *high = tree_object(tree, object, "high_mmol_L");
    struct cJSON *low = tree_object(tree, object, "low_mmol_L");
    for (size_t i = 0; i < ION_COUNT; i++) {
        tree_number(tree, high, ion_table[i].key, limits->high_mmol_l[i]);
        tree_number(tree, low, ion_table[i].key,
                    limits->low_mmol_l[i] > 0 ? limits->low_mmol_l[i] : NAN);
    }
}

enum status json_write_summary(FILE *out, const struct compare *compare,
                               struct error *error)
{
    const struct scenario *scenario = compare->scenario;
    struct tree tree = tree_new();
    struct cJSON *root = tree.root;
    tree_text(&tree, root, "scenario", scenario->stem);
    struct cJSON *strategies = tree_array(&tree, root, "strategies");
    for (size_t i = 0; i < compare->row_count; i++) {
        json_strategy(&tree, strategies, compare, i);
    }
    tree_text(&tree, root, "title", scenario->title);
    tree_text(&tree, root, "start", scenario->start);
    tree_number(&tree, root, "duration_d", scenario->duration_d);
    tree_text(&tree, root, "verdict", compare->verdict);
    if (compare->best < compare->row_count) {
        tree_text(&tree, root, "best", compare->rows[compare->best].strategy->name);
    } else {
        tree_null(&tree, root, "best");
    }
    json_limits(&tree, root, &scenario->limits);
    struct cJSON *warnings = tree_array(&tree, root, "warnings");
    for (size_t i = 0; i < scenario->warning_count; i++) {
        tree_line(&tree, warnings, scenario->warnings[i]);
    }
    return tree_print(out, &tree, error);
}
