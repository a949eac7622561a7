/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "nearest.h"
#include "pailcast/chem/label.h"
#include "pailcast/chem/salt.h"
#include "reader_parts.h"

static const double salts_most_g_l = 300;

/* US teaspoon: a 768th of 231 cubic inches. */
static const double salts_tsp_ml = 4.92892159375;

/* Ca in CaO, Mg in MgO, S in SO3, from IUPAC 2021 abridged atomic weights. */
static const double salts_ca_in_cao = 40.078 / 56.077;
static const double salts_mg_in_mgo = 24.305 / 40.304;
static const double salts_s_in_so3 = 32.06 / 80.057;

/* A label whose gap is named by nobody may be closed on the quiet up to here (chosen, as
 * for a typed stock). */
static const double salts_quiet_percent = 10;

enum {
    SALTS_PARTS_MAX = 16,
    SALTS_MAX = 32
};

/* Grams a litre of a product, from `dose` and its density. */
static bool reader_salts_dose(struct fields *fields, double molar_mass, double *g_l)
{
    struct quantity_aid aid = {.molar_mass = molar_mass};
    double spoon_g;
    if (fields_quantity(fields, "g_per_tsp", QUANTITY_MASS, 0.1 * salts_tsp_ml,
                        3 * salts_tsp_ml, &spoon_g)) {
        aid.g_ml = spoon_g / salts_tsp_ml;
        if (fields_find(fields, "density") != NULL) {
            fields_refuse(fields->reading, fields_find(fields, "density"),
                          "density: stands beside g_per_tsp; keep one of the two");
        }
    }
    (void)fields_quantity(fields, "density", QUANTITY_DENSITY, 0.1, 3, &aid.g_ml);
    return fields_need(fields, "dose", "\"0.5 g/L\"") &&
           fields_quantity_aided(fields, "dose", QUANTITY_DOSE, 0, salts_most_g_l, &aid,
                                 g_l);
}

static const struct salt *reader_salts_find(struct fields *fields)
{
    char formula[64];
    if (!fields_need(fields, "salt", "\"KNO3\"") ||
        !fields_text(fields, "salt", formula, sizeof formula)) {
        return NULL;
    }
    const struct salt *salt = salt_by_formula(formula);
    if (salt == NULL) {
        struct nearest nearest = nearest_to(formula);
        for (size_t i = 0; i < salt_count; i++) {
            nearest_consider(&nearest, salt_table[i].formula);
        }
        char hint[NEAREST_HINT_SIZE];
        nearest_hint(hint, &nearest);
        fields_refuse(fields->reading, fields_find(fields, "salt"),
                      "salt: \"%s\" is not known; accepted are the formulas of "
                      "`pailcast list`%s",
                      formula, hint);
    }
    return salt;
}

static void reader_salts_list(struct fields *fields, struct liquid *recipe,
                              struct recipe *weighed)
{
    const config_setting_t *list = fields_list(fields, "salts", SALTS_MAX);
    for (size_t i = 0; i < fields_count(list); i++) {
        const config_setting_t *group = fields_element(fields->reading, list, i);
        if (group == NULL) {
            continue;
        }
        struct fields part = fields_open(fields->reading, group, "this salt");
        const struct salt *salt = reader_salts_find(&part);
        double g_l = 0;
        if (reader_salts_dose(&part, salt != NULL ? salt->molar_mass : 0, &g_l) &&
            salt != NULL) {
            salt_dissolve(recipe, salt, g_l);
            recipe_add(weighed, salt->formula, g_l);
        }
        fields_close(&part);
    }
}

/* One percentage, or its oxide's turned into it. */
static double reader_salts_percent(struct fields *fields, const char *key,
                                   const char *oxide, double in_oxide, double *total)
{
    double share = 0;
    double oxide_share = 0;
    (void)fields_quantity(fields, key, QUANTITY_SHARE, 0, 1, &share);
    if (oxide != NULL) {
        (void)fields_quantity(fields, oxide, QUANTITY_SHARE, 0, 1, &oxide_share);
        if (fields_find(fields, key) != NULL && fields_find(fields, oxide) != NULL) {
            fields_refuse(fields->reading, fields_find(fields, oxide),
                          "%s: stands beside %s; keep one of the two", oxide, key);
        }
    }
    *total += 100 * (share + oxide_share);
    return 100 * (share + in_oxide * oxide_share);
}

static struct label reader_salts_label(struct reading *reading,
                                       const config_setting_t *group)
{
    struct fields fields = fields_open(reading, group, "label");
    struct label label = {0};
    double total = 0;
    label.n_nitrate = reader_salts_percent(&fields, "n_nitrate", NULL, 0, &total);
    label.n_ammonium = reader_salts_percent(&fields, "n_ammonium", NULL, 0, &total);
    label.p2o5 = reader_salts_percent(&fields, "p2o5", NULL, 0, &total);
    label.k2o = reader_salts_percent(&fields, "k2o", NULL, 0, &total);
    label.ca = reader_salts_percent(&fields, "ca", "cao", salts_ca_in_cao, &total);
    label.mg = reader_salts_percent(&fields, "mg", "mgo", salts_mg_in_mgo, &total);
    label.s = reader_salts_percent(&fields, "s", "so3", salts_s_in_so3, &total);
    label.na = reader_salts_percent(&fields, "na", NULL, 0, &total);
    label.cl = reader_salts_percent(&fields, "cl", NULL, 0, &total);
    fields_close(&fields);
    if (total > 100) {
        fields_refuse(reading, group,
                      "label: adds up to %.4g %%; accepted is at most 100 %%", total);
    }
    return label;
}

static double reader_salts_cations_meq_l(const struct liquid *liquid)
{
    double sum = 0;
    for (int i = 0; i < ION_COUNT; i++) {
        sum += ion_table[i].charge > 0 ? ion_table[i].charge * liquid->mmol_l[i] : 0;
    }
    return sum;
}

/* Which ion closes the gap: the named one, ION_COUNT with a mistake, or a default. */
static enum ion reader_salts_closing(struct fields *fields, const struct label *label,
                                     double g_l, bool *named)
{
    const char *keys[ION_COUNT];
    size_t index = ION_COUNT;
    struct liquid trial = {0};
    for (int i = 0; i < ION_COUNT; i++) {
        keys[i] = ion_table[i].key;
    }
    *named = fields_find(fields, "closes_with") != NULL;
    if (!*named) {
        return isnan(label_dissolve(&trial, label, g_l, ION_CL)) ? ION_NA : ION_CL;
    }
    if (!fields_word(fields, "closes_with", keys, ION_COUNT, &index)) {
        return ION_COUNT;
    }
    if (isnan(label_dissolve(&trial, label, g_l, (enum ion)index))) {
        fields_refuse(fields->reading, fields_find(fields, "closes_with"),
                      "closes_with: %s has the wrong sign, for %s charge is missing; "
                      "accepted are %s",
                      keys[index], ion_table[index].charge > 0 ? "negative" : "positive",
                      ion_table[index].charge > 0 ? "cl, so4 or no3" : "k or na");
        return ION_COUNT;
    }
    return (enum ion)index;
}

static void reader_salts_product(struct fields *fields, const config_setting_t *group,
                                 const char *name, struct liquid *recipe,
                                 struct recipe *weighed)
{
    const size_t mistakes = fields->reading->error->count;
    struct label label = reader_salts_label(fields->reading, group);
    double g_l = 0;
    bool named;
    bool dosed = reader_salts_dose(fields, 0, &g_l);
    enum ion closing = reader_salts_closing(fields, &label, g_l, &named);
    if (!dosed || closing == ION_COUNT || fields->reading->error->count > mistakes) {
        return;
    }
    struct liquid product = {0};
    double open = label_dissolve(&product, &label, g_l, closing);
    double percent = 100 * fabs(open) / fmax(reader_salts_cations_meq_l(&product), 1e-9);
    if (!named && percent > salts_quiet_percent) {
        fields_refuse(
            fields->reading, group,
            "label: does not balance, %.3g meq/L of %s charge are missing "
            "(%.0f %%); name the ion that brings them with closes_with = \"%s\"",
            fabs(open), open > 0 ? "negative" : "positive", percent,
            ion_table[closing].key);
        return;
    }
    if (fabs(open) > 0) {
        fields_warn(fields->reading,
                    "the label of %.60s leaves %.3g meq/L open (%.0f %% of the charge); "
                    "they are counted as %s",
                    name, fabs(open), percent, ion_table[closing].name);
    }
    *recipe = liquid_sum(recipe, &product);
    recipe_add(weighed, name, g_l);
}

static void reader_salts_part(struct reading *reading, const config_setting_t *group,
                              struct liquid *recipe, struct recipe *weighed, char *name)
{
    struct fields fields = fields_open(reading, group, "recipe");
    char own_name[TEXT_NAME_SIZE] = "the product";
    (void)fields_text(&fields, "name", own_name, sizeof own_name);
    if (fields_find(&fields, "name") != NULL && name[0] == '\0') {
        text_copy(name, TEXT_NAME_SIZE, own_name);
    }
    reader_salts_list(&fields, recipe, weighed);
    const config_setting_t *label = fields_group(&fields, "label");
    if (label != NULL) {
        reader_salts_product(&fields, label, own_name, recipe, weighed);
    } else if (fields_find(&fields, "salts") == NULL &&
               fields_find(&fields, "label") == NULL) {
        fields_refuse(reading, group,
                      "recipe: holds nothing; add salts = ( … ) or label = { … }");
    }
    fields_close(&fields);
}

void reader_salts(struct reading *reading, const config_setting_t *setting,
                  struct liquid *recipe, struct recipe *weighed, char *name)
{
    *recipe = (struct liquid){0};
    weighed->count = 0;
    name[0] = '\0';
    if (config_setting_is_group(setting)) {
        reader_salts_part(reading, setting, recipe, weighed, name);
    } else if (!config_setting_is_list(setting) || fields_count(setting) == 0 ||
               fields_count(setting) > SALTS_PARTS_MAX) {
        fields_refuse(reading, setting,
                      "recipe: a group, or a list of 1 to %d groups, belongs here",
                      SALTS_PARTS_MAX);
    } else {
        for (size_t i = 0; i < fields_count(setting); i++) {
            const config_setting_t *group = fields_element(reading, setting, i);
            if (group != NULL) {
                reader_salts_part(reading, group, recipe, weighed, name);
            }
        }
    }
    if (name[0] == '\0') {
        text_copy(name, TEXT_NAME_SIZE, "recipe");
    }
}
