/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "mix_wish.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/scenario/quantity.h"

const struct option mix_wish_options[] = {
    {"salt", required_argument, NULL, 0},     {"recipe", required_argument, NULL, 0},
    {"water", required_argument, NULL, 0},    {"dose", required_argument, NULL, 0},
    {"analyses", required_argument, NULL, 0}, {"target", required_argument, NULL, 0},
    {"from", required_argument, NULL, 0},     {"price", required_argument, NULL, 0},
    {"volume", required_argument, NULL, 0},   {0}};

const char mix_wish_help[] =
    "What a liquid contains:\n"
    "  --salt SALT=DOSE   dissolve so much of a salt (\"KNO3=0.5 g/L\"); may be "
    "repeated\n"
    "  --recipe NAME      and a shipped recipe, or a recipe's file, labels too\n"
    "  --dose SHARE       of the recipe, 1 as it stands (\"50 %\")\n"
    "  --water NAME       in a shipped water, or a water's file; pure water if left out\n"
    "  --analyses FILE    instead: a CSV of laboratory analyses, a line each\n\n"
    "Which salts make a liquid:\n"
    "  --target ION=AMOUNT  what it should hold (\"k=6 mmol/L\"); may be repeated\n"
    "  --from SALTS       salts to choose from (\"KNO3,KH2PO4,MgSO4.7H2O\")\n"
    "  --price SALT=COST  for a kilogram (\"KNO3=3.2\"); may be repeated\n"
    "  --volume V         of a fill, for its cost\n\n";

struct mix_wish mix_wish_none(void)
{
    struct mix_wish wish = {.dose = 1, .litres = 1};
    for (int i = 0; i < ION_COUNT; i++) {
        wish.wanted_mmol_l[i] = NAN;
    }
    return wish;
}

static bool wish_refuse(const char *option, const char *argument, const char *why)
{
    (void)fprintf(stderr, "pailcast mix: %s: \"%.60s\" %s\n", option, argument, why);
    return false;
}

/* Cuts "NAME=VALUE" in two; NULL, after a message, where there is no such pair. */
static const char *wish_pair(char name[64], const char *option, const char *argument)
{
    const char *equals = strchr(argument, '=');
    if (equals == NULL || equals == argument || equals - argument >= 64) {
        (void)wish_refuse(option, argument, "is not NAME=VALUE");
        return NULL;
    }
    (void)snprintf(name, 64, "%.*s", (int)(equals - argument), argument);
    return equals + 1;
}

static const struct salt *wish_salt(const char *option, const char *formula)
{
    const struct salt *salt = salt_by_formula(formula);
    if (salt == NULL) {
        (void)wish_refuse(option, formula, "is no salt; pailcast list names them");
    }
    return salt;
}

static bool wish_quantity(double *value, const char *option, const char *text,
                          enum quantity quantity, const struct quantity_aid *aid)
{
    struct error error = {0};
    if (quantity_parse(value, text, quantity, aid, &error) != STATUS_OK) {
        (void)fprintf(stderr, "pailcast mix: %s: %s\n", option, error.text);
        return false;
    }
    return *value >= 0 ? true : wish_refuse(option, text, "is negative");
}

static bool wish_take_salt(struct mix_wish *wish, const char *argument)
{
    char formula[64];
    const char *dose = wish_pair(formula, "--salt", argument);
    const struct salt *salt = dose != NULL ? wish_salt("--salt", formula) : NULL;
    if (salt == NULL) {
        return false;
    }
    if (wish->salt_count == MIX_SALTS_MAX) {
        return wish_refuse("--salt", argument, "is one salt too many");
    }
    const struct quantity_aid aid = {.molar_mass = salt->molar_mass};
    wish->salts[wish->salt_count] = salt;
    return wish_quantity(&wish->g_l[wish->salt_count++], "--salt", dose, QUANTITY_DOSE,
                         &aid);
}

static bool wish_take_target(struct mix_wish *wish, const char *argument)
{
    char key[64];
    const char *amount = wish_pair(key, "--target", argument);
    if (amount == NULL) {
        return false;
    }
    const enum ion ion = ion_by_key(key);
    if (ion == ION_COUNT) {
        return wish_refuse("--target", key,
                           "is no ion; accepted are no3 nh4 p k ca mg so4 na cl");
    }
    const struct quantity_aid aid = {.molar_mass = ion_table[ion].molar_mass,
                                     .charge = ion_table[ion].charge};
    wish->wants = true;
    return wish_quantity(&wish->wanted_mmol_l[ion], "--target", amount, QUANTITY_ION,
                         &aid);
}

static bool wish_take_from(struct mix_wish *wish, const char *argument)
{
    while (*argument != '\0') {
        char formula[64];
        const size_t length = strcspn(argument, ",");
        (void)snprintf(formula, sizeof formula, "%.*s", (int)(length < 63 ? length : 63),
                       argument);
        if (wish->from_count == MIX_SALTS_MAX) {
            return wish_refuse("--from", formula, "is one salt too many");
        }
        const struct salt *salt = wish_salt("--from", formula);
        if (salt == NULL) {
            return false;
        }
        wish->from[wish->from_count++] = salt;
        argument += length + (argument[length] == ',');
    }
    return true;
}

static bool wish_take_price(struct mix_wish *wish, const char *argument)
{
    char formula[64];
    const char *cost = wish_pair(formula, "--price", argument);
    const struct salt *salt = cost != NULL ? wish_salt("--price", formula) : NULL;
    if (salt == NULL) {
        return false;
    }
    if (wish->price_count == MIX_PRICES_MAX) {
        return wish_refuse("--price", argument, "is one price too many");
    }
    struct mix_price *price = &wish->prices[wish->price_count++];
    price->salt = salt;
    return wish_quantity(&price->per_kg, "--price", cost, QUANTITY_NUMBER, NULL);
}

bool mix_wish_take(void *context, size_t index, const char *argument)
{
    struct mix_wish *wish = context;
    switch (index) {
    case 0:
        return wish_take_salt(wish, argument);
    case 1:
        wish->recipe = argument;
        return true;
    case 2:
        wish->water = argument;
        return true;
    case 3:
        return wish_quantity(&wish->dose, "--dose", argument, QUANTITY_SHARE, NULL);
    case 4:
        wish->analyses = argument;
        return true;
    case 5:
        return wish_take_target(wish, argument);
    case 6:
        return wish_take_from(wish, argument);
    case 7:
        return wish_take_price(wish, argument);
    default:
        return wish_quantity(&wish->litres, "--volume", argument, QUANTITY_VOLUME, NULL);
    }
}

enum status mix_wish_check(const struct mix_wish *wish, struct error *error)
{
    const bool mixes = wish->salt_count > 0 || wish->recipe != NULL;
    if (wish->analyses != NULL && (mixes || wish->wants || wish->water != NULL)) {
        return status_error(
            error, STATUS_INPUT,
            "pailcast mix: --analyses stands alone; leave the others out");
    }
    if (wish->wants && mixes) {
        return status_error(error, STATUS_INPUT,
                            "pailcast mix: --target looks for salts; leave --salt and "
                            "--recipe out");
    }
    if (wish->wants != (wish->from_count > 0)) {
        return status_error(
            error, STATUS_INPUT,
            "pailcast mix: --target and --from go together, such as --target "
            "\"k=6 mmol/L\" --from KNO3,KH2PO4");
    }
    if (!mixes && !wish->wants && wish->analyses == NULL && wish->water == NULL) {
        return status_error(
            error, STATUS_INPUT,
            "pailcast mix: nothing to mix; give for example --salt \"KNO3=0.5 "
            "g/L\"");
    }
    return STATUS_OK;
}
