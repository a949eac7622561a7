/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/json.h"

#include <math.h>

#include <cjson/cJSON.h>

#include "figure.h"
#include "pailcast/report/slug.h"
#include "pailcast/study/outage.h"

/* cJSON answers a failed allocation with NULL and passes NULL parents over; that anything
 * was lost is kept here and looked at once, at the end. */
struct json {
    bool lost;
};

/* A finite number, or null. */
static void json_number(struct json *json, cJSON *object, const char *key, double value)
{
    const cJSON *added = isfinite(value) ? cJSON_AddNumberToObject(object, key, value)
                                         : cJSON_AddNullToObject(object, key);
    json->lost |= added == NULL;
}

static void json_text(struct json *json, cJSON *object, const char *key, const char *text)
{
    json->lost |= cJSON_AddStringToObject(object, key, text) == NULL;
}

static void json_null(struct json *json, cJSON *object, const char *key)
{
    json->lost |= cJSON_AddNullToObject(object, key) == NULL;
}

static cJSON *json_object(struct json *json, cJSON *object, const char *key)
{
    cJSON *added = cJSON_AddObjectToObject(object, key);
    json->lost |= added == NULL;
    return added;
}

static cJSON *json_array(struct json *json, cJSON *object, const char *key)
{
    cJSON *added = cJSON_AddArrayToObject(object, key);
    json->lost |= added == NULL;
    return added;
}

/* Hands item over to array. */
static void json_append(struct json *json, cJSON *array, cJSON *item)
{
    if (item == NULL || !cJSON_AddItemToArray(array, item)) {
        cJSON_Delete(item);
        json->lost = true;
    }
}

static void json_ec(struct json *json, cJSON *object, const struct compare_row *row)
{
    cJSON *ec = json_object(json, object, "ec_mS_cm");
    json_number(json, ec, "min", row->ec_min);
    json_number(json, ec, "max", row->ec_max);
    json_number(json, ec, "mean", row->ec_mean);
    json_number(json, ec, "last", row->ec_last);
    json_number(json, ec, "useful_last", row->useful_ec_ms_cm);
    json_number(json, ec, "ballast_last", row->ballast_ec_ms_cm);
}

static void json_ph(struct json *json, cJSON *object, const struct trajectory *path)
{
    double low = INFINITY;
    double high = -INFINITY;
    for (size_t i = 0; i < path->sample_count; i++) {
        low = fmin(low, path->samples[i].ph);
        high = fmax(high, path->samples[i].ph);
    }
    cJSON *ph = json_object(json, object, "ph");
    json_number(json, ph, "min", low);
    json_number(json, ph, "max", high);
}

static void json_first_days(struct json *json, cJSON *object,
                            const struct compare_row *row)
{
    const struct life_first_days *first = &row->life.first;
    cJSON *days = json_object(json, object, "first_day");
    json_number(json, days, "ec_high", first->ec_high);
    json_number(json, days, "ec_low", first->ec_low);
    json_number(json, days, "sodium_high", first->ion_high[ION_NA]);
    if (row->nutrient_low < ION_COUNT) {
        cJSON *low = json_object(json, days, "nutrient_low");
        json_text(json, low, "ion", ion_table[row->nutrient_low].key);
        json_number(json, low, "day", row->nutrient_low_d);
    } else {
        json_null(json, days, "nutrient_low");
    }
    json_number(json, days, "roots_dry", first->roots_dry);
    json_number(json, days, "ph_high", first->ph_high);
    json_number(json, days, "ph_low", first->ph_low);
    json_number(json, days, "bucket_empty", first->bucket_empty);
    json_number(json, days, "plant_lost", first->plant_lost);
    cJSON *ion_high = json_object(json, days, "ion_high");
    cJSON *ion_low = json_object(json, days, "ion_low");
    for (size_t i = 0; i < ION_COUNT; i++) {
        json_number(json, ion_high, ion_table[i].key, first->ion_high[i]);
        json_number(json, ion_low, ion_table[i].key, first->nutrient_low[i]);
    }
}

static void json_totals(struct json *json, cJSON *object, const struct life *life,
                        const struct sample *last)
{
    cJSON *totals = json_object(json, object, "totals");
    json_number(json, totals, "drunk_L", last->state[STATE_DRUNK]);
    json_number(json, totals, "evaporated_L", last->state[STATE_EVAPORATED]);
    json_number(json, totals, "water_poured_L", last->water_poured_l);
    json_number(json, totals, "stock_poured_L", last->stock_poured_l);
    json_number(json, totals, "drained_L", last->drained_l);
    json_number(json, totals, "salt_poured_g", life->ledger.salt_poured_g);
    json_number(json, totals, "visits", life->ledger.visits);
    json_number(json, totals, "renewals", life->ledger.renewals);
    json_number(json, totals, "tests", life->ledger.tests);
    json_number(json, totals, "adjust_mmol", life->ledger.adjust_mmol);
}

static void json_balance(struct json *json, cJSON *object,
                         const struct ledger_balance *balance)
{
    cJSON *books = json_object(json, object, "balance");
    json_number(json, books, "water_rel", balance->water_rel);
    json_number(json, books, "worst_ion_rel", balance->worst_ion_rel);
    json_number(json, books, "charge_rel", balance->charge_rel);
    cJSON *ions = json_object(json, books, "ion_rel");
    for (size_t i = 0; i < ION_COUNT; i++) {
        json_number(json, ions, ion_table[i].key, balance->ion_rel[i]);
    }
}

static void json_effort(struct json *json, cJSON *object,
                        const struct life_effort *effort)
{
    cJSON *work = json_object(json, object, "effort");
    json_number(json, work, "rate_calls", (double)effort->rate_calls);
    json_number(json, work, "steps", (double)effort->steps);
    json_number(json, work, "restarts", (double)effort->restarts);
}

/* How long the roots have when the air pump stops at the worst moment. */
static void json_outage(struct json *json, cJSON *object, const struct compare *compare,
                        size_t index)
{
    const struct outage_worst worst =
        outage_worst_of(&compare->rows[index].life, compare->scenario);
    if (isnan(worst.day_d)) {
        json_null(json, object, "outage");
        return;
    }
    cJSON *outage = json_object(json, object, "outage");
    json_number(json, outage, "day", worst.day_d);
    json_number(json, outage, "volume_L", worst.volume_l);
    json_number(json, outage, "reserve_h", worst.outage.reserve_h);
}

static void json_strategy(struct json *json, cJSON *strategies,
                          const struct compare *compare, size_t index)
{
    const struct compare_row *row = &compare->rows[index];
    cJSON *object = cJSON_CreateObject();
    json_append(json, strategies, object);
    char slug[SLUG_SIZE];
    slug_of_row(slug, compare, index);
    json_text(json, object, "name", row->strategy->name);
    json_ec(json, object, row);
    json_first_days(json, object, row);
    json_totals(json, object, &row->life, figure_last(compare, index));
    json_number(json, object, "dry_mass_g", row->dry_mass_g);
    json_number(json, object, "growth_index", row->growth_index);
    json_balance(json, object, &row->life.balance);
    cJSON *advice = json_array(json, object, "advice");
    for (size_t i = 0; i < row->advice_count; i++) {
        json_append(json, advice, cJSON_CreateString(row->advice[i]));
    }
    json_text(json, object, "slug", slug);
    json->lost |= cJSON_AddBoolToObject(object, "complete", row->complete) == NULL;
    json_number(json, object, "end_day", row->life.end_d);
    json_ph(json, object, &row->life.trajectory);
    json_number(json, object, "sodium_last_mmol_L", row->sodium_last_mmol_l);
    json_number(json, object, "sodium_max_mmol_L", row->sodium_max_mmol_l);
    json_number(json, object, "removed_g", row->life.removed_g);
    json_outage(json, object, compare, index);
    json_effort(json, object, &row->life.effort);
}

static void json_limits(struct json *json, cJSON *root,
                        const struct scenario_limits *limits)
{
    cJSON *object = json_object(json, root, "limits");
    json_number(json, object, "ec_high_mS_cm", limits->ec_high_ms_cm);
    json_number(json, object, "ec_low_mS_cm",
                limits->ec_low_ms_cm > 0 ? limits->ec_low_ms_cm : NAN);
    json_number(json, object, "ph_high", limits->ph_high);
    json_number(json, object, "ph_low", limits->ph_low > 0 ? limits->ph_low : NAN);
    cJSON *high = json_object(json, object, "high_mmol_L");
    cJSON *low = json_object(json, object, "low_mmol_L");
    for (size_t i = 0; i < ION_COUNT; i++) {
        json_number(json, high, ion_table[i].key, limits->high_mmol_l[i]);
        json_number(json, low, ion_table[i].key,
                    limits->low_mmol_l[i] > 0 ? limits->low_mmol_l[i] : NAN);
    }
}

static cJSON *json_summary(struct json *json, const struct compare *compare)
{
    const struct scenario *scenario = compare->scenario;
    cJSON *root = cJSON_CreateObject();
    json_text(json, root, "scenario", scenario->stem);
    cJSON *strategies = json_array(json, root, "strategies");
    for (size_t i = 0; i < compare->row_count; i++) {
        json_strategy(json, strategies, compare, i);
    }
    json_text(json, root, "title", scenario->title);
    json_text(json, root, "start", scenario->start);
    json_number(json, root, "duration_d", scenario->duration_d);
    json_text(json, root, "verdict", compare->verdict);
    if (compare->best < compare->row_count) {
        json_text(json, root, "best", compare->rows[compare->best].strategy->name);
    } else {
        json_null(json, root, "best");
    }
    json_limits(json, root, &scenario->limits);
    cJSON *warnings = json_array(json, root, "warnings");
    for (size_t i = 0; i < scenario->warning_count; i++) {
        json_append(json, warnings, cJSON_CreateString(scenario->warnings[i]));
    }
    return root;
}

enum status json_write_summary(FILE *out, const struct compare *compare,
                               struct error *error)
{
    struct json json = {false};
    cJSON *root = json_summary(&json, compare);
    char *text = json.lost ? NULL : cJSON_Print(root);
    cJSON_Delete(root);
    if (text == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the summary");
    }
    fprintf(out, "%s\n", text);
    cJSON_free(text);
    return STATUS_OK;
}
