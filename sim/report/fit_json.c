/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include <cjson/cJSON.h>

#include "pailcast/report/fit.h"

static void json_unknowns(cJSON *root, const struct fit *fit)
{
    cJSON *list = cJSON_AddArrayToObject(root, "unknowns");
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        const struct fit_value *value = &fit->value[k];
        cJSON *item = cJSON_CreateObject();
        (void)cJSON_AddStringToObject(item, "name", fit_unknown_name[k]);
        (void)cJSON_AddNumberToObject(item, "estimate", value->estimate);
        (void)cJSON_AddNumberToObject(item, "low", value->low);
        (void)cJSON_AddNumberToObject(item, "high", value->high);
        (void)cJSON_AddBoolToObject(item, "identifiable", value->identifiable);
        (void)cJSON_AddItemToArray(list, item);
    }
}

static void json_band(cJSON *item, const char *low, const char *median, const char *high,
                      const struct fit_band *band)
{
    (void)cJSON_AddNumberToObject(item, low, band->low);
    (void)cJSON_AddNumberToObject(item, median, band->median);
    (void)cJSON_AddNumberToObject(item, high, band->high);
}

/* null where there is no such day. */
static void json_day(cJSON *root, const char *name, double day_d)
{
    if (isfinite(day_d)) {
        (void)cJSON_AddNumberToObject(root, name, day_d);
    } else {
        (void)cJSON_AddNullToObject(root, name);
    }
}

static void json_forecast(cJSON *root, const struct fit *fit)
{
    cJSON *list = cJSON_AddArrayToObject(root, "forecast");
    for (size_t i = FIT_MOMENTS_A_DAY - 1; i < fit->moment_count;
         i += FIT_MOMENTS_A_DAY) {
        const struct fit_moment *day = &fit->moments[i];
        cJSON *item = cJSON_CreateObject();
        (void)cJSON_AddNumberToObject(item, "day", day->day_d);
        json_band(item, "ec_low", "ec_median", "ec_high", &day->ec_ms_cm);
        json_band(item, "volume_low_L", "volume_median_L", "volume_high_L",
                  &day->volume_l);
        json_band(item, "ph_low", "ph_median", "ph_high", &day->ph);
        cJSON *ions = cJSON_AddObjectToObject(item, "ions_mmol_L");
        for (size_t k = 0; k < ION_COUNT; k++) {
            cJSON *ion = cJSON_AddObjectToObject(ions, ion_table[k].key);
            json_band(ion, "low", "median", "high", &day->ion_mmol_l[k]);
        }
        (void)cJSON_AddItemToArray(list, item);
    }
}

static void json_choices(cJSON *root, const struct fit *fit)
{
    cJSON *list = cJSON_AddArrayToObject(root, "strategies");
    for (size_t i = 0; i < fit->choice_count; i++) {
        const struct fit_choice *choice = &fit->choices[i];
        cJSON *item = cJSON_CreateObject();
        (void)cJSON_AddStringToObject(item, "name", choice->strategy->name);
        json_day(item, "next_action_day", choice->next_visit.day_d);
        (void)cJSON_AddNumberToObject(item, "drain_L", choice->next_visit.drained_l);
        (void)cJSON_AddNumberToObject(item, "water_L", choice->next_visit.water_l);
        (void)cJSON_AddNumberToObject(item, "stock_L", choice->next_visit.stock_l);
        json_band(item, "ec_low", "ec_median", "ec_high", &choice->ec_ms_cm);
        json_band(item, "na_low_mmol_L", "na_median_mmol_L", "na_high_mmol_L",
                  &choice->sodium_mmol_l);
        (void)cJSON_AddNumberToObject(item, "least_L", choice->least_l);
        if (choice->scarce < ION_COUNT) {
            (void)cJSON_AddStringToObject(item, "scarce", ion_table[choice->scarce].key);
        } else {
            (void)cJSON_AddNullToObject(item, "scarce");
        }
        (void)cJSON_AddNumberToObject(item, "scarce_chance", choice->scarce_chance);
        (void)cJSON_AddNumberToObject(item, "ec_high_chance", choice->ec_high_chance);
        (void)cJSON_AddNumberToObject(item, "ec_low_chance", choice->ec_low_chance);
        (void)cJSON_AddItemToArray(list, item);
    }
}

static void json_unexpected(cJSON *root, const struct fit *fit)
{
    cJSON *list = cJSON_AddArrayToObject(root, "unexpected");
    for (size_t i = 0; i < fit->surprise_count; i++) {
        const struct fit_surprise *surprise = &fit->surprises[i];
        cJSON *item = cJSON_CreateObject();
        (void)cJSON_AddNumberToObject(item, "day", surprise->day_d);
        (void)cJSON_AddStringToObject(item, "what", surprise->what);
        cJSON *causes = cJSON_AddArrayToObject(item, "causes");
        for (size_t c = 0; c < surprise->cause_count; c++) {
            (void)cJSON_AddItemToArray(causes, cJSON_CreateString(surprise->causes[c]));
        }
        (void)cJSON_AddItemToArray(list, item);
    }
}

enum status fit_json_write(FILE *out, const struct fit *fit, struct error *error)
{
    cJSON *root = cJSON_CreateObject();
    json_unknowns(root, fit);
    json_forecast(root, fit);
    json_choices(root, fit);
    json_unexpected(root, fit);
    json_day(root, "next_action_day", fit->next_visit.day_d);
    json_day(root, "roots_keep_water_until_day", fit->safe_until_d);
    cJSON *remarks = cJSON_AddArrayToObject(root, "remarks");
    for (size_t i = 0; i < fit->remark_count; i++) {
        (void)cJSON_AddItemToArray(remarks, cJSON_CreateString(fit->remarks[i]));
    }
    char *text = cJSON_Print(root);
    cJSON_Delete(root);
    if (text == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the JSON");
    }
    fprintf(out, "%s\n", text);
    cJSON_free(text);
    return STATUS_OK;
}
