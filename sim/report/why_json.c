/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/why.h"

#include <math.h>

#include <cjson/cJSON.h>

/* cJSON answers a failed allocation with NULL and passes NULL parents over; that anything
 * was lost is kept and looked at once, at the end. */
static void json_number(bool *lost, cJSON *object, const char *key, double value)
{
    const cJSON *added = isfinite(value) ? cJSON_AddNumberToObject(object, key, value)
                                         : cJSON_AddNullToObject(object, key);
    *lost |= added == NULL;
}

static void json_text(bool *lost, cJSON *object, const char *key, const char *text)
{
    *lost |= cJSON_AddStringToObject(object, key, text) == NULL;
}

static void json_ion(bool *lost, cJSON *ions, const struct why_ion *ion, const char *key)
{
    cJSON *object = cJSON_AddObjectToObject(ions, key);
    json_number(lost, object, "eaten_mmol_L", ion->eaten_mmol_l);
    json_number(lost, object, "solution_mmol_L", ion->solution_mmol_l);
    json_number(lost, object, "eaten_to_drunk", ion->ratio);
    json_number(lost, object, "makeup_mmol_L", ion->makeup_mmol_l);
    json_number(lost, object, "first_mmol_L", ion->first_mmol_l);
    json_number(lost, object, "last_mmol_L", ion->last_mmol_l);
    json_text(lost, object, "heading", why_heading_word[ion->heading]);
    json_number(lost, object, "limit_mmol_L", ion->limit_mmol_l);
    json_number(lost, object, "gone_after_L", ion->gone_after_l);
}

static void json_passed(bool *lost, cJSON *object, const struct why_tally *tally)
{
    json_number(lost, object, "drunk_L", tally->drunk_l);
    json_number(lost, object, "evaporated_L", tally->evaporated_l);
    json_number(lost, object, "water_poured_L", tally->water_l + tally->renewal_water_l);
    json_number(lost, object, "stock_poured_L", tally->stock_l + tally->renewal_stock_l);
    json_number(lost, object, "drained_L", tally->drained_l);
    json_number(lost, object, "visits", tally->visits);
    json_number(lost, object, "renewals", tally->renewals);
}

static void json_interval(bool *lost, cJSON *object, const struct why_interval *interval,
                          const struct scenario_display *display)
{
    char sentence[WHY_SENTENCE_SIZE];
    json_number(lost, object, "from_day", interval->from_d);
    json_number(lost, object, "to_day", interval->to_d);
    json_number(lost, object, "ec_from", interval->ec_from_ms_cm);
    json_number(lost, object, "ec_to", interval->ec_to_ms_cm);
    cJSON *parts = cJSON_AddObjectToObject(object, "parts");
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        json_number(lost, parts, why_part_key[i], interval->tally.part[i]);
    }
    json_number(lost, object, "closure", interval->closure);
    json_number(lost, object, "ec_before_visit", interval->ec_before_ms_cm);
    json_passed(lost, object, &interval->tally);
    json_number(lost, object, "salt_in_drunk_g", interval->salt_in_drunk_g);
    json_number(lost, object, "salt_eaten_g", interval->salt_eaten_g);
    json_number(lost, object, "eaten_share", interval->eaten_share);
    cJSON *ions = cJSON_AddObjectToObject(object, "ions");
    for (int i = 0; i < ION_COUNT; i++) {
        json_ion(lost, ions, &interval->ion[i], ion_table[i].key);
    }
    why_sentence(sentence, interval, display);
    json_text(lost, object, "sentence", sentence);
}

enum status why_json_write(FILE *out, const struct why *why, struct error *error)
{
    bool lost = false;
    cJSON *root = cJSON_CreateObject();
    json_text(&lost, root, "scenario", why->scenario->stem);
    json_text(&lost, root, "strategy", why->strategy->name);
    cJSON *intervals = cJSON_AddArrayToObject(root, "intervals");
    for (size_t i = 0; i < why->interval_count; i++) {
        cJSON *object = cJSON_CreateObject();
        json_interval(&lost, object, &why->intervals[i], &why->scenario->display);
        if (object == NULL || !cJSON_AddItemToArray(intervals, object)) {
            cJSON_Delete(object);
            lost = true;
        }
    }
    char *text = lost ? NULL : cJSON_Print(root);
    cJSON_Delete(root);
    if (text == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the causes of EC");
    }
    fprintf(out, "%s\n", text);
    cJSON_free(text);
    return STATUS_OK;
}
