/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A label and a dose as typed on the command line. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "mix_wish.h"
#include "pailcast/scenario/quantity.h"

/* US teaspoon, mL: a 768th of 231 cubic inches. */
static const double label_tsp_ml = 4.92892159375;

/* Ca in CaO, Mg in MgO, S in SO3, from IUPAC 2021 abridged atomic weights. */
static const double label_ca_in_cao = 40.078 / 56.077;
static const double label_mg_in_mgo = 24.305 / 40.304;
static const double label_s_in_so3 = 32.06 / 80.057;

static const double label_most_g_l = 300;

/* A percentage of the label: where it goes, and as how much of it. */
struct label_word {
    const char *word;
    double *at;
    double share;
};

static enum status label_take(struct label *label, const char *word, double percent,
                              struct error *error)
{
    const struct label_word words[] = {
        {"n_nitrate", &label->n_nitrate, 1},
        {"n_ammonium", &label->n_ammonium, 1},
        {"p2o5", &label->p2o5, 1},
        {"k2o", &label->k2o, 1},
        {"ca", &label->ca, 1},
        {"cao", &label->ca, label_ca_in_cao},
        {"mg", &label->mg, 1},
        {"mgo", &label->mg, label_mg_in_mgo},
        {"s", &label->s, 1},
        {"so3", &label->s, label_s_in_so3},
        {"na", &label->na, 1},
        {"cl", &label->cl, 1},
    };
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        if (strcmp(word, words[i].word) != 0) {
            continue;
        }
        if (*words[i].at > 0) {
            return status_error(error, STATUS_INPUT,
                                "pailcast mix: --label: %s is told twice, perhaps as its "
                                "oxide; keep one",
                                word);
        }
        *words[i].at = words[i].share * percent;
        return STATUS_OK;
    }
    return status_error(error, STATUS_INPUT,
                        "pailcast mix: --label: \"%.40s\" stands on no label; accepted "
                        "are n_nitrate n_ammonium p2o5 k2o ca cao mg mgo s so3 na cl",
                        word);
}

/* "n_nitrate=10.5 %, k2o=22 %" */
static enum status label_read(struct label *label, const char *text, struct error *error)
{
    double total = 0;
    while (*text != '\0') {
        char word[64] = "";
        char amount[64] = "";
        double share = NAN;
        const size_t length = strcspn(text, ",");
        (void)sscanf(text, " %63[^=, ] = %63[^,]", word, amount);
        struct error why = {0};
        if (quantity_parse(&share, amount, QUANTITY_SHARE, NULL, &why) != STATUS_OK ||
            share < 0 || share > 1) {
            return status_error(
                error, STATUS_INPUT,
                "pailcast mix: --label: \"%.*s\" is not a share of the "
                "mass; write for example \"n_nitrate=10.5 %%, k2o=22 %%\"",
                (int)(length < 60 ? length : 60), text);
        }
        const enum status status = label_take(label, word, 100 * share, error);
        if (status != STATUS_OK) {
            return status;
        }
        total += 100 * share;
        text += length + (text[length] == ',');
    }
    if (!(total > 0) || total > 100) {
        return status_error(error, STATUS_INPUT,
                            "pailcast mix: --label: adds up to %.4g %%; accepted is more "
                            "than 0 and at most 100 %%",
                            total);
    }
    return STATUS_OK;
}

static enum status label_dose(double *g_l, const struct mix_wish *wish,
                              struct error *error)
{
    const struct quantity_aid aid = {
        .g_ml = isnan(wish->spoon_g) ? 0 : wish->spoon_g / label_tsp_ml};
    const struct quantity_aid some = {.g_ml = 1};
    struct error why = {0};
    if (quantity_parse(g_l, wish->dose, QUANTITY_DOSE, &aid, &why) != STATUS_OK) {
        if (quantity_parse(g_l, wish->dose, QUANTITY_DOSE, &some, NULL) == STATUS_OK) {
            return status_error(error, STATUS_INPUT,
                                "pailcast mix: --dose: by volume it takes a --label with "
                                "--tsp-mass, such as --tsp-mass \"5 g\"");
        }
        return status_error(error, STATUS_INPUT, "pailcast mix: --dose: %s", why.text);
    }
    if (!(*g_l >= 0) || *g_l > label_most_g_l) {
        return status_error(error, STATUS_INPUT,
                            "pailcast mix: --dose: must be 0 to %g g/L", label_most_g_l);
    }
    return STATUS_OK;
}

enum status mix_label_share(double *share, const struct mix_wish *wish, double recipe_g_l,
                            struct error *error)
{
    const double most = 100;
    double g_l = 0;
    *share = 1;
    if (wish->dose == NULL) {
        return STATUS_OK;
    }
    if (quantity_parse(share, wish->dose, QUANTITY_SHARE, NULL, NULL) != STATUS_OK) {
        const enum status status = label_dose(&g_l, wish, error);
        if (status != STATUS_OK) {
            return status;
        }
        *share = recipe_g_l > 0 ? g_l / recipe_g_l : 0;
    }
    if (!(*share >= 0) || *share > most) {
        return status_error(error, STATUS_INPUT,
                            "pailcast mix: --dose: must be 0 to %g times the recipe",
                            most);
    }
    return STATUS_OK;
}

enum status mix_label_dissolve(struct liquid *liquid, double *g_l,
                               const struct mix_wish *wish, struct error *error)
{
    struct label label = {0};
    enum status status = label_read(&label, wish->label, error);
    if (status == STATUS_OK) {
        status = label_dose(g_l, wish, error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    struct liquid trial = {0};
    const bool lacks_anion = !isnan(label_dissolve(&trial, &label, 1, ION_CL));
    const enum ion closing = wish->closing != ION_COUNT ? wish->closing
                             : lacks_anion              ? ION_CL
                                                        : ION_NA;
    const double open = label_dissolve(liquid, &label, *g_l, closing);
    if (isnan(open)) {
        return status_error(error, STATUS_INPUT,
                            "pailcast mix: --closes-with: %s has the wrong sign; the "
                            "label lacks %s charge",
                            ion_table[closing].key,
                            lacks_anion ? "negative" : "positive");
    }
    if (fabs(open) > 0) {
        (void)status_error(error, STATUS_OK,
                           "The label leaves %.3g meq/L of %s charge open; it is counted "
                           "as %s.",
                           fabs(open), open > 0 ? "negative" : "positive",
                           ion_table[closing].name);
    }
    return STATUS_OK;
}
