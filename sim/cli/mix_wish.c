/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "mix_wish.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "measured.h"

enum {
    WISH_SALT,
    WISH_RECIPE,
    WISH_WATER,
    WISH_DOSE,
    WISH_ANALYSES,
    WISH_TARGET,
    WISH_FROM,
    WISH_PRICE,
    WISH_VOLUME,
    WISH_LABEL,
    WISH_CLOSES,
    WISH_SPOON,
    WISH_CROP,
    WISH_TEMPERATURE,
    WISH_CO2,
    WISH_COUNT
};

const struct option mix_wish_options[] = {
    [WISH_SALT] = {"salt", required_argument, NULL, 0},
    [WISH_RECIPE] = {"recipe", required_argument, NULL, 0},
    [WISH_WATER] = {"water", required_argument, NULL, 0},
    [WISH_DOSE] = {"dose", required_argument, NULL, 0},
    [WISH_ANALYSES] = {"analyses", required_argument, NULL, 0},
    [WISH_TARGET] = {"target", required_argument, NULL, 0},
    [WISH_FROM] = {"from", required_argument, NULL, 0},
    [WISH_PRICE] = {"price", required_argument, NULL, 0},
    [WISH_VOLUME] = {"volume", required_argument, NULL, 0},
    [WISH_LABEL] = {"label", required_argument, NULL, 0},
    [WISH_CLOSES] = {"closes-with", required_argument, NULL, 0},
    [WISH_SPOON] = {"tsp-mass", required_argument, NULL, 0},
    [WISH_CROP] = {"crop", required_argument, NULL, 0},
    [WISH_TEMPERATURE] = {"temperature", required_argument, NULL, 0},
    [WISH_CO2] = {"co2", required_argument, NULL, 0},
    [WISH_COUNT] = {0}};

const char mix_wish_help[] =
    "What a liquid contains:\n"
    "  --salt SALT=DOSE   dissolve so much of a salt (\"KNO3=0.5 g/L\"); may be "
    "repeated\n"
    "  --recipe NAME      and a shipped recipe, or a recipe's file\n"
    "  --label SHARES     and a product by its label: \"n_nitrate=10.5 %, k2o=22 %\"; "
    "also\n"
    "                     n_ammonium p2o5 ca cao mg mgo s so3 na cl\n"
    "  --closes-with ION  what a label leaves open is this ion (cl or na if left out)\n"
    "  --dose DOSE        of the product (\"1 g/L\"); of the recipe (\"50 %\", \"1.2 "
    "g/L\")\n"
    "  --tsp-mass MASS    of a level teaspoon of the product, for a dose in tsp/gal\n"
    "  --water NAME       in a shipped water, or a water's file; pure water if left out\n"
    "  --analyses FILE    instead: a CSV of laboratory analyses, a line each\n"
    "  --crop NAME        whose needs it is held to; a full feed for fruiting plants if "
    "left\n                     out\n"
    "  --temperature T    of the liquid for its pH and solids; 25 degC if left out\n"
    "  --co2 CO2          of the air it stands in; 420 ppm if left out\n\n"
    "Which salts make a liquid:\n"
    "  --target ION=AMOUNT  what it should hold (\"k=6 mmol/L\", \"alkalinity=0.5 "
    "meq/L\");\n                     may be repeated\n"
    "  --from SALTS       salts to choose from (\"KNO3,KH2PO4,MgSO4.7H2O\"), the "
    "dearest to\n                     you first\n"
    "  --price SALT=COST  of a mass (\"KNO3=3.2/kg\", \"KNO3=1.5/lb\"); may be "
    "repeated\n"
    "  --volume V         of a fill: grams and cost are told for it\n\n";

struct mix_wish mix_wish_none(void)
{
    return (struct mix_wish){.spoon_g = NAN,
                             .closing = ION_COUNT,
                             .wanted = mix_wanted_nothing(),
                             .litres = NAN,
                             .temperature_c = NAN,
                             .co2_ppm = NAN};
}

/* As for a typed liquid and a recipe's dose in a scenario. */
static const double wish_most_mmol_l = 500, wish_most_meq_l = 200, wish_most_g_l = 300;

static bool wish_refuse(const char *option, const char *argument, const char *why)
{
    char shown[64];
    text_copy(shown, sizeof shown, argument);
    (void)fprintf(stderr, "pailcast mix: %s: \"%s\" %s\n", option, shown, why);
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

/* An option that names one thing. */
static bool wish_take_text(const char **text, const char *option, const char *argument)
{
    if (*text != NULL) {
        return wish_refuse(option, argument, "is the second; give one");
    }
    *text = argument;
    return true;
}

static const struct salt *wish_salt(const char *option, const char *formula)
{
    const struct salt *salt = salt_by_formula(formula);
    if (salt == NULL) {
        (void)wish_refuse(option, formula, "is no salt; pailcast list names them");
    }
    return salt;
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
    const struct quantity_aid spooned = {.molar_mass = salt->molar_mass, .g_ml = 1};
    double unused;
    if (quantity_parse(&unused, dose, QUANTITY_DOSE, &aid, NULL) != STATUS_OK &&
        quantity_parse(&unused, dose, QUANTITY_DOSE, &spooned, NULL) == STATUS_OK) {
        return wish_refuse("--salt", argument,
                           "is a dose by volume; weigh a spoonful and give g/L or g/gal");
    }
    wish->salts[wish->salt_count] = salt;
    return measured_take(&wish->g_l[wish->salt_count++], "mix", "--salt", dose,
                         QUANTITY_DOSE, &aid, 0, wish_most_g_l);
}

static bool wish_take_target(struct mix_wish *wish, const char *argument)
{
    char key[64];
    const char *amount = wish_pair(key, "--target", argument);
    if (amount == NULL) {
        return false;
    }
    const enum ion ion = ion_by_key(key);
    const bool alkalinity = strcmp(key, "alkalinity") == 0;
    if (!alkalinity && ion == ION_COUNT) {
        return wish_refuse("--target", key,
                           "is no ion; accepted are no3 nh4 p k ca mg so4 na cl and "
                           "alkalinity");
    }
    double *wanted =
        alkalinity ? &wish->wanted.alkalinity_meq_l : &wish->wanted.mmol_l[ion];
    if (!isnan(*wanted)) {
        return wish_refuse("--target", argument, "is the second for this ion");
    }
    wish->wants = true;
    if (alkalinity) {
        return measured_take(wanted, "mix", "--target", amount, QUANTITY_ALKALINITY, NULL,
                             -wish_most_meq_l, wish_most_meq_l);
    }
    const struct quantity_aid aid = {.molar_mass = ion_table[ion].molar_mass,
                                     .charge = ion_table[ion].charge};
    return measured_take(wanted, "mix", "--target", amount, QUANTITY_ION, &aid, 0,
                         wish_most_mmol_l);
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
        argument += strspn(argument, " ");
    }
    return true;
}

/* "3.2", "3.2/kg", "1.5/lb" to a price for a kilogram. */
static bool wish_price(double *per_kg, const char *text)
{
    const double g_per_kg = 1000;
    char number[64];
    double mass_g = g_per_kg;
    const char *slash = strchr(text, '/');
    const size_t length = slash != NULL ? (size_t)(slash - text) : strlen(text);
    (void)snprintf(number, sizeof number, "%.*s", (int)(length < 63 ? length : 63), text);
    if (slash != NULL) {
        char unit[64];
        (void)snprintf(unit, sizeof unit, "1 %.60s", slash + 1);
        if (!measured_take(&mass_g, "mix", "--price", unit, QUANTITY_MASS, NULL, 1e-3,
                           1e9)) {
            return false;
        }
    }
    if (!measured_take(per_kg, "mix", "--price", number, QUANTITY_NUMBER, NULL, 0, 1e9)) {
        return false;
    }
    *per_kg *= g_per_kg / mass_g;
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
    for (size_t k = 0; k < wish->price_count; k++) {
        if (wish->prices[k].salt == salt) {
            return wish_refuse("--price", argument, "is the second for this salt");
        }
    }
    if (wish->price_count == MIX_PRICES_MAX) {
        return wish_refuse("--price", argument, "is one price too many");
    }
    struct mix_price *price = &wish->prices[wish->price_count++];
    price->salt = salt;
    return wish_price(&price->per_kg, cost);
}

static bool wish_take_volume(struct mix_wish *wish, const char *argument)
{
    if (measured_in_gallons(argument)) {
        wish->display.volume = DISPLAY_GALLON;
    }
    return measured_take(&wish->litres, "mix", "--volume", argument, QUANTITY_VOLUME,
                         NULL, 0.01, 1e5);
}

static bool wish_take_closing(struct mix_wish *wish, const char *argument)
{
    wish->closing = ion_by_key(argument);
    return wish->closing != ION_COUNT ||
           wish_refuse("--closes-with", argument,
                       "is no ion; accepted are no3 nh4 p k ca mg so4 na cl");
}

bool mix_wish_take(void *context, size_t index, const char *argument)
{
    struct mix_wish *wish = context;
    switch (index) {
    case WISH_SALT:
        return wish_take_salt(wish, argument);
    case WISH_RECIPE:
        return wish_take_text(&wish->recipe, "--recipe", argument);
    case WISH_WATER:
        return wish_take_text(&wish->water, "--water", argument);
    case WISH_DOSE:
        return wish_take_text(&wish->dose, "--dose", argument);
    case WISH_ANALYSES:
        return wish_take_text(&wish->analyses, "--analyses", argument);
    case WISH_TARGET:
        return wish_take_target(wish, argument);
    case WISH_FROM:
        return wish_take_from(wish, argument);
    case WISH_PRICE:
        return wish_take_price(wish, argument);
    case WISH_VOLUME:
        return wish_take_volume(wish, argument);
    case WISH_LABEL:
        return wish_take_text(&wish->label, "--label", argument);
    case WISH_CLOSES:
        return wish_take_closing(wish, argument);
    case WISH_SPOON:
        return measured_take(&wish->spoon_g, "mix", "--tsp-mass", argument, QUANTITY_MASS,
                             NULL, 0.5, 15);
    case WISH_CROP:
        return wish_take_text(&wish->crop, "--crop", argument);
    case WISH_TEMPERATURE:
        return measured_take(&wish->temperature_c, "mix", "--temperature", argument,
                             QUANTITY_TEMPERATURE, NULL, 0, 40);
    default:
        return measured_take(&wish->co2_ppm, "mix", "--co2", argument, QUANTITY_CO2, NULL,
                             0, 1e5);
    }
}

enum status mix_wish_check(const struct mix_wish *wish, struct error *error)
{
    const bool product = wish->label != NULL;
    const bool mixes = wish->salt_count > 0 || wish->recipe != NULL || product;
    const char *wrong = NULL;
    if (wish->analyses != NULL && (mixes || wish->wants || wish->water != NULL)) {
        wrong = "--analyses stands alone; leave the other liquids out";
    } else if (wish->wants && mixes) {
        wrong = "--target looks for salts; leave --salt, --recipe and --label out";
    } else if (wish->wants != (wish->from_count > 0)) {
        wrong = "--target and --from go together, such as --target \"k=6 mmol/L\" --from "
                "KNO3,KH2PO4";
    } else if (product && wish->recipe != NULL) {
        wrong = "--label and --recipe would share one --dose; give one of them";
    } else if (product && wish->dose == NULL) {
        wrong = "--label needs a dose, such as --dose \"1 g/L\"";
    } else if (!product && wish->recipe == NULL && wish->dose != NULL) {
        wrong = "--dose is of a --recipe or a --label; a --salt has its own";
    } else if (!product && (wish->closing != ION_COUNT || !isnan(wish->spoon_g))) {
        wrong = "--closes-with and --tsp-mass belong to a --label";
    } else if (!mixes && !wish->wants && wish->analyses == NULL && wish->water == NULL) {
        wrong = "nothing to mix; give for example --salt \"KNO3=0.5 g/L\"";
    }
    return wrong == NULL ? STATUS_OK
                         : status_error(error, STATUS_INPUT, "pailcast mix: %s", wrong);
}
