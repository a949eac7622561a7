/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "reader_parts.h"

static const char *const crop_kinds[] = {
    [CROP_NONE] = "none", [CROP_TABLE] = "table", [CROP_GROWN] = "grown"};

/* An ion is eaten at a fixed rate or follows its concentration, not both. */
static void reader_crop_appetite(struct fields *fields, struct crop_stage *stage)
{
    const config_setting_t *eats = fields_group(fields, "eats");
    const config_setting_t *follows = fields_group(fields, "follows");
    if (eats != NULL) {
        struct fields part = fields_open(fields->reading, eats, "eats");
        fields_ions(&part, QUANTITY_ION, 0, 500, stage->eats_mmol_l);
        fields_close(&part);
    }
    if (follows == NULL) {
        return;
    }
    struct fields part = fields_open(fields->reading, follows, "follows");
    for (int i = 0; i < ION_COUNT; i++) {
        const char *key = ion_table[i].key;
        (void)fields_quantity(&part, key, QUANTITY_NUMBER, 0, 5, &stage->follows[i]);
        if (stage->follows[i] > 0 && stage->eats_mmol_l[i] > 0) {
            fields_refuse(fields->reading, fields_find(&part, key),
                          "follows: %s stands in eats too; keep one of the two", key);
        }
    }
    fields_close(&part);
}

static void reader_crop_table_stage(struct reading *reading,
                                    const config_setting_t *group, bool last,
                                    struct crop_stage *stage)
{
    struct fields fields = fields_open(reading, group, "this stage");
    if (fields_need(&fields, "name", "\"leafy\"")) {
        (void)fields_text(&fields, "name", stage->name, sizeof stage->name);
    }
    if (last || fields_need(&fields, "lasts", "\"30 d\"")) {
        (void)fields_quantity(&fields, "lasts", QUANTITY_TIME, 1.0 / 24, 36500,
                              &stage->lasts_d);
    }
    if (last) {
        stage->lasts_d = INFINITY;
    }
    if (fields_need(&fields, "drinks", "\"0.5 L/d\"")) {
        (void)fields_quantity(&fields, "drinks", QUANTITY_FLOW, 0, 50,
                              &stage->drinks_l_d);
    }
    reader_crop_appetite(&fields, stage);
    fields_close(&fields);
}

static void reader_crop_grown_stage(struct reading *reading,
                                    const config_setting_t *group, double after,
                                    struct crop_stage *stage)
{
    struct fields fields = fields_open(reading, group, "this stage");
    const bool first = after < 0;
    if (fields_need(&fields, "name", "\"seedling\"")) {
        (void)fields_text(&fields, "name", stage->name, sizeof stage->name);
    }
    if (first || fields_need(&fields, "from", "\"400 degC d\"")) {
        (void)fields_quantity(&fields, "from", QUANTITY_THERMAL_TIME, 0, 1e5,
                              &stage->from_gdd);
    }
    if (first ? stage->from_gdd > 0 : stage->from_gdd <= after) {
        fields_refuse(reading, fields_find(&fields, "from"), "from: %s",
                      first ? "the first stage begins at \"0 degC d\""
                            : "a stage begins later than the one before it");
    }
    fields_close(&fields);
}

static void reader_crop_stages(struct fields *fields, struct crop *crop)
{
    const config_setting_t *list = fields_list(fields, "stages", CROP_STAGES_MAX);
    if (list == NULL) {
        return;
    }
    double after = -1;
    const size_t count = fields_count(list);
    for (size_t i = 0; i < count; i++) {
        struct crop_stage *stage = &crop->stages[i];
        const config_setting_t *group = fields_element(fields->reading, list, i);
        *stage = (struct crop_stage){.lasts_d = INFINITY};
        if (group == NULL) {
            continue;
        }
        if (crop->kind == CROP_TABLE) {
            reader_crop_table_stage(fields->reading, group, i + 1 == count, stage);
        } else {
            reader_crop_grown_stage(fields->reading, group, after, stage);
            after = stage->from_gdd;
        }
    }
    crop->stage_count = count;
}

static void reader_crop_cuts(struct fields *fields, struct crop *crop)
{
    const config_setting_t *list = fields_list(fields, "cuts", CROP_CUTS_MAX);
    for (size_t i = 0; i < fields_count(list); i++) {
        const config_setting_t *group = fields_element(fields->reading, list, i);
        struct crop_cut *cut = &crop->cuts[i];
        if (group == NULL) {
            continue;
        }
        struct fields part = fields_open(fields->reading, group, "this cut");
        if (fields_need(&part, "first", "\"60 d\"")) {
            (void)fields_day(&part, "first", 1.0 / 24, 36500, &cut->first_d);
        }
        (void)fields_quantity(&part, "every", QUANTITY_TIME, 1.0 / 24, 36500,
                              &cut->every_d);
        if (fields_need(&part, "share", "0.3")) {
            (void)fields_quantity(&part, "share", QUANTITY_SHARE, 0, 0.99, &cut->share);
        }
        fields_close(&part);
        crop->cut_count = i + 1;
    }
}

void reader_crop(struct reading *reading, const config_setting_t *group,
                 struct crop *crop)
{
    struct fields fields = fields_open(reading, group, "crop");
    size_t kind = CROP_NONE;
    if (!fields_need(&fields, "kind", "\"table\"") ||
        !fields_word(&fields, "kind", crop_kinds, 3, &kind)) {
        return;
    }
    *crop = crop_defaults((enum crop_kind)kind);
    (void)fields_text(&fields, "name", crop->name, sizeof crop->name);
    if (kind != CROP_NONE) {
        (void)fields_quantity(&fields, "root_start", QUANTITY_LENGTH, 0, 300,
                              &crop->root_start_cm);
        (void)fields_quantity(&fields, "root_rate", QUANTITY_ROOT_SPEED, 0, 20,
                              &crop->root_rate_cm_d);
        if (kind != CROP_TABLE || fields_need(&fields, "stages", "( { … } )")) {
            reader_crop_stages(&fields, crop);
        }
        reader_crop_cuts(&fields, crop);
    }
    if (kind == CROP_GROWN) {
        reader_growth(&fields, &crop->growth);
    }
    fields_close(&fields);
}
