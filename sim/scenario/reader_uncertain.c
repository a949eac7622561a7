/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "reader_parts.h"

/* A normal factor is cut off at three standard deviations and must stay above zero. */
static const double uncertain_most_normal = 0.3;

/* Beyond this the quantiles of a spread cannot be told from its middle. */
static const double uncertain_least = 1e-6;

static bool reader_uncertain_is_none(const config_setting_t *setting)
{
    return config_setting_type(setting) == CONFIG_TYPE_STRING &&
           strcmp(config_setting_get_string(setting), "none") == 0;
}

/* A spread that is text or number at fields' key. */
static void reader_uncertain_spread(struct fields *fields, const char *key, int input,
                                    struct uncertain *uncertain)
{
    const struct uncertain_row *row = &uncertain_table[input];
    double spread = 0;
    if (!fields_quantity(fields, key, row->quantity, 0, row->most, &spread)) {
        return;
    }
    if (spread < uncertain_least) {
        fields_refuse(fields->reading, fields_find(fields, key),
                      "%s: a spread must be above zero; what is known for sure is "
                      "written %s = \"none\"",
                      row->key, row->key);
        return;
    }
    uncertain->spread[input] = spread;
}

/* { spread = "10 %"; shape = "uniform"; } */
static void reader_uncertain_group(struct reading *reading,
                                   const config_setting_t *setting, int input,
                                   struct uncertain *uncertain)
{
    const struct uncertain_row *row = &uncertain_table[input];
    struct fields part = fields_open(reading, setting, row->key);
    size_t shape = uncertain->shape[input];
    reader_uncertain_spread(&part, "spread", input, uncertain);
    if (fields_word(&part, "shape", uncertain_shape_words, UNCERTAIN_SHAPES, &shape)) {
        const config_setting_t *at = fields_find(&part, "shape");
        if (row->kind == UNCERTAIN_CHANCE) {
            fields_refuse(reading, at, "shape: %s has none", row->key);
        } else if (shape == UNCERTAIN_LOGNORMAL && row->kind != UNCERTAIN_FACTOR) {
            fields_refuse(reading, at,
                          "shape: %s is added, not multiplied; accepted are \"normal\", "
                          "\"uniform\"",
                          row->key);
        } else if (shape == UNCERTAIN_NORMAL && row->kind == UNCERTAIN_FACTOR &&
                   uncertain->spread[input] > uncertain_most_normal) {
            fields_refuse(reading, at,
                          "shape: a normal spread above %g %% would fall below zero; "
                          "accepted are \"lognormal\", \"uniform\"",
                          100 * uncertain_most_normal);
        }
    }
    uncertain->shape[input] = (enum uncertain_shape)shape;
    fields_close(&part);
}

void reader_uncertain(struct reading *reading, const config_setting_t *group,
                      struct uncertain *uncertain)
{
    struct fields fields = fields_open(reading, group, "uncertain");
    bool defaults = true;
    if (fields_flag(&fields, "defaults", &defaults) && !defaults) {
        for (int i = 0; i < UNCERTAIN_COUNT; i++) {
            uncertain->spread[i] = 0;
        }
    }
    for (int i = 0; i < UNCERTAIN_COUNT; i++) {
        const char *key = uncertain_table[i].key;
        const config_setting_t *setting = fields_find(&fields, key);
        if (setting == NULL) {
            continue;
        }
        if (reader_uncertain_is_none(setting)) {
            uncertain->spread[i] = 0;
        } else if (config_setting_is_group(setting)) {
            reader_uncertain_group(reading, setting, i, uncertain);
        } else {
            reader_uncertain_spread(&fields, key, i, uncertain);
        }
    }
    fields_close(&fields);
}
