/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/quantity.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/base/text.h"
#include "units.h"

/* Equivalent weight of calcium carbonate, in which laboratories state alkalinity: half of
 * 100.086 g/mol (IUPAC 2021 abridged weights). */
static const double quantity_caco3_mg_meq = 50.043;

/* Pens that show "ppm" multiply mS/cm by one of two factors (common practice). */
static const double quantity_ppm500 = 500, quantity_ppm700 = 700;

struct quantity_row {
    const char *what;     /* "a volume" */
    const char *unit;     /* internal, as a person writes it */
    const char *target;   /* internal, in UDUNITS' words; NULL: not by UDUNITS alone */
    const char *accepted; /* units, or what else */
    const char *example;  /* "" where there is none */
    bool bare;
};

static const struct quantity_row quantity_rows[QUANTITY_COUNT] = {
    [QUANTITY_VOLUME] = {"a volume", "L", "L", "L, mL, gal, qt, cup",
                         "\"19 L\" or \"5 gal\"", false},
    [QUANTITY_LENGTH] = {"a length", "cm", "cm", "cm, mm, m, inch, ft",
                         "\"37 cm\" or \"14 inch\"", false},
    [QUANTITY_AREA] = {"an area", "m2", "m2", "m2, cm2, ft2", "\"0.4 m2\"", false},
    [QUANTITY_TIME] = {"a time span", "d", "d", "min, h, d, weeks", "\"14 h\" or \"3 d\"",
                       false},
    [QUANTITY_CLOCK] = {"a clock time", "h", NULL,
                        "hours and minutes from \"00:00\" to \"23:59\"", "", false},
    [QUANTITY_TEMPERATURE] = {"a temperature", "degC", "degree_Celsius", "degC, degF",
                              "\"25 degC\" or \"78 degF\"", false},
    [QUANTITY_WARMTH] = {"a difference of temperatures", "K", "K", "degC, degF, K",
                         "\"1.5 degC\"", false},
    [QUANTITY_SHARE] = {"a share", "", NULL, "percent or a number from 0 to 1",
                        "\"45 %\" or 0.45", true},
    [QUANTITY_EC] = {"an EC", "mS/cm", "mS/cm", "mS/cm, uS/cm, dS/m, ppm500, ppm700",
                     "\"1.9 mS/cm\"", false},
    [QUANTITY_FLOW] = {"a flow", "L/d", "L/d", "L/d, mL/h, gal/d, cup/d", "\"0.5 L/d\"",
                       false},
    [QUANTITY_ION] = {"a concentration", "mmol/L", NULL,
                      "mmol/L, meq/L, mg/L or ppm of the whole ion", "\"7 mmol/L\"",
                      false},
    [QUANTITY_ALKALINITY] = {"an alkalinity", "meq/L", NULL,
                             "meq/L, mmol/L, mg/L or ppm as CaCO3", "\"1.2 meq/L\"",
                             false},
    [QUANTITY_DOSE] =
        {"a dose", "g/L", NULL,
         "g/L, mg/L, g/gal, oz/gal, mmol/L of a salt, and with a density tsp/gal or mL/L",
         "\"0.5 g/L\"", false},
    [QUANTITY_MASS] = {"a mass", "g", "g", "g, mg, kg, oz, lb", "\"1.2 g\"", false},
    [QUANTITY_LIGHT] = {"light for plants", "umol/m2/s", "umol/m2/s", "umol/m2/s",
                        "\"350 umol/m2/s\" (what a lux meter shows goes under lux)",
                        false},
    [QUANTITY_ILLUMINANCE] = {"an illuminance", "lux", "lux", "lux", "\"24000 lux\"",
                              false},
    [QUANTITY_CO2] = {"a CO2 content", "ppm", "1e-6", "ppm, %", "\"420 ppm\"", false},
    [QUANTITY_TISSUE] = {"a tissue content", "mmol/g", "mmol/g", "mmol/g, mol/kg",
                         "\"2.9 mmol/g\"", false},
    [QUANTITY_THERMAL_TIME] = {"a thermal time", "degC d", "K d", "degC d, degF d",
                               "\"500 degC d\"", false},
    [QUANTITY_LIGHT_USE] = {"a light use", "g/mol", "g/mol", "g/mol", "\"0.8 g/mol\"",
                            false},
    [QUANTITY_LEAF_SPREAD] = {"a leaf area by mass", "m2/g", "m2/g", "m2/g, cm2/g, m2/kg",
                              "\"0.027 m2/g\"", false},
    [QUANTITY_ROOT_SPEED] = {"a root growth", "cm/d", "cm/d", "cm/d, mm/d, inch/week",
                             "\"1.2 cm/d\"", false},
    [QUANTITY_RATE] = {"a rate", "/d", "1/d", "%/d, /d", "\"0.5 %/d\"", false},
    [QUANTITY_DENSITY] = {"a density", "g/mL", "g/mL", "g/mL, kg/L, g/tsp",
                          "\"0.95 g/mL\"", false},
    [QUANTITY_PH] = {"a pH", "", NULL, "a number such as 6.0", "", true},
    [QUANTITY_NUMBER] = {"a number", "", NULL, "a number without a unit", "", true},
};

/* A value with its unit: times in what suits their size. */
static void quantity_amount(char *to, size_t size, double value, enum quantity quantity)
{
    if (quantity == QUANTITY_TIME && value <= 1) {
        const double minutes = value * 24 * 60;
        const bool short_time = value > 0 && minutes < 60;
        (void)snprintf(to, size, "%g %s", short_time ? minutes : minutes / 60,
                       short_time ? "min" : "h");
        return;
    }
    const char *unit = quantity_rows[quantity].unit;
    (void)snprintf(to, size, "%g%s%s", value, unit[0] != '\0' ? " " : "", unit);
}

void quantity_range(char to[QUANTITY_RANGE_SIZE], double low, double high,
                    enum quantity quantity)
{
    char least[48];
    char most[48];
    quantity_amount(least, sizeof least, low, quantity);
    quantity_amount(most, sizeof most, high, quantity);
    struct text_line line = text_line_in(to, QUANTITY_RANGE_SIZE);
    text_line_add(&line, "%s to %s", least, most);
    if (quantity == QUANTITY_SHARE) {
        text_line_add(&line, ", or \"%g %%\" to \"%g %%\"", 100 * low, 100 * high);
    }
}

/* One text under examination. */
struct quantity_case {
    const struct quantity_row *row;
    const struct quantity_aid *aid;
    const char *example;
    char shown[64]; /* the text as it may be repeated in a message */
    struct error *error;
};

static enum status quantity_refuse(const struct quantity_case *c, const char *why)
{
    return status_error(c->error, STATUS_INPUT, "\"%s\" %s; accepted for %s: %s%s%s",
                        c->shown, why, c->row->what, c->row->accepted,
                        c->example[0] != '\0' ? ", such as " : "", c->example);
}

/* Length of a plain decimal number at the start of text: no hex, inf or nan. */
static size_t quantity_number_length(const char *text)
{
    size_t i = text[0] == '+' || text[0] == '-' ? 1 : 0;
    size_t whole = strspn(text + i, "0123456789");
    i += whole;
    size_t part = 0;
    if (text[i] == '.') {
        part = strspn(text + i + 1, "0123456789");
        i += 1 + part;
    }
    if (whole + part == 0) {
        return 0;
    }
    if (text[i] == 'e' || text[i] == 'E') {
        size_t sign = text[i + 1] == '+' || text[i + 1] == '-' ? 1 : 0;
        size_t digits = strspn(text + i + 1 + sign, "0123456789");
        i += digits > 0 ? 1 + sign + digits : 0;
    }
    return i;
}

/* Reads digits/digits at *at; 0 and *at unmoved where there is none. */
static double quantity_fraction(const char **at)
{
    size_t top = strspn(*at, "0123456789");
    if (top == 0 || (*at)[top] != '/') {
        return 0;
    }
    size_t bottom = strspn(*at + top + 1, "0123456789");
    double divisor = strtod(*at + top + 1, NULL);
    if (bottom == 0 || bottom > 6 || top > 6 || divisor == 0) {
        return 0;
    }
    double fraction = strtod(*at, NULL) / divisor;
    *at += top + 1 + bottom;
    return fraction;
}

/* Reads the number, a fraction or both; *at moves to the unit. False without one. */
static bool quantity_take_number(double *number, const char **at)
{
    *number = quantity_fraction(at);
    if (*number > 0) {
        return true;
    }
    size_t length = quantity_number_length(*at);
    if (length == 0) {
        return false;
    }
    bool whole = strspn(*at, "0123456789") == length;
    *number = strtod(*at, NULL);
    *at += length;
    const char *next = *at + strspn(*at, " ");
    double part = whole && next > *at ? quantity_fraction(&next) : 0;
    if (part > 0) {
        *number += part;
        *at = next;
    }
    return true;
}

/* "1/d" written out after a number means "/d"; anything else that begins with a digit is
 * a second number. */
static const char *quantity_unit_start(const char *at)
{
    at += strspn(at, " \t");
    return strncmp(at, "1/", 2) == 0 ? at + 1 : at;
}

static enum status quantity_convert(double *value, double number,
                                    const struct units_text *unit,
                                    const struct quantity_case *c)
{
    switch (units_convert(value, number, unit->text, c->row->target)) {
    case UNITS_CONVERTED:
        return STATUS_OK;
    case UNITS_ABSENT:
        return status_error(c->error, STATUS_FILE,
                            "the unit tables of UDUNITS-2 cannot be read; install "
                            "libudunits2-data, or let more files be open");
    case UNITS_UNKNOWN:
        return quantity_refuse(c, "has a unit that is not known");
    default:
        break;
    }
    char why[64];
    (void)snprintf(why, sizeof why, "is not %s", c->row->what);
    return quantity_refuse(c, why);
}

/* Tries one way of stating a concentration: number x factor in the unit `to`. */
static bool quantity_try(double *value, double number, const char *from, const char *to,
                         double divisor)
{
    if (units_convert(value, number, from, to) != UNITS_CONVERTED) {
        return false;
    }
    *value /= divisor;
    return true;
}

static enum status quantity_ion(double *value, double number,
                                const struct units_text *unit,
                                const struct quantity_case *c)
{
    const char *from = strcmp(unit->text, "ppm") == 0 ? "mg/L" : unit->text;
    double charge = c->aid != NULL ? fabs((double)c->aid->charge) : 0;
    double mass = c->aid != NULL ? c->aid->molar_mass : 0;
    if (unit->equivalents && charge == 0) {
        return quantity_refuse(c, "counts charge, which has no meaning here");
    }
    if (quantity_try(value, number, from, "mmol/L", unit->equivalents ? charge : 1) ||
        (mass > 0 && quantity_try(value, number, from, "mg/L", mass))) {
        return STATUS_OK;
    }
    return quantity_refuse(c, "is not a concentration");
}

static enum status quantity_alkalinity(double *value, double number,
                                       const struct units_text *unit,
                                       const struct quantity_case *c)
{
    const char *from = strcmp(unit->text, "ppm") == 0 ? "mg/L" : unit->text;
    if (quantity_try(value, number, from, "mmol/L", 1) ||
        quantity_try(value, number, from, "mg/L", quantity_caco3_mg_meq)) {
        return STATUS_OK;
    }
    return quantity_refuse(c, "is not an alkalinity");
}

static enum status quantity_dose(double *value, double number,
                                 const struct units_text *unit,
                                 const struct quantity_case *c)
{
    const double ml_per_l = 1000;
    double mass = c->aid != NULL ? c->aid->molar_mass : 0;
    double density = c->aid != NULL ? c->aid->g_ml : 0;
    if (quantity_try(value, number, unit->text, "g/L", 1) ||
        (mass > 0 && !unit->equivalents &&
         quantity_try(value, number, unit->text, "mol/L", 1 / mass))) {
        return STATUS_OK;
    }
    if (unit->by_volume && quantity_try(value, number, unit->text, "1", 1)) {
        if (density <= 0) {
            return quantity_refuse(c, "is a dose by volume, which needs a density or "
                                      "g_per_tsp beside it");
        }
        *value *= density * ml_per_l;
        return STATUS_OK;
    }
    return quantity_refuse(c, "is not a dose");
}

static enum status quantity_ec(double *value, double number, const char *unit,
                               const struct units_text *translated,
                               const struct quantity_case *c)
{
    if (strcmp(unit, "ppm500") == 0 || strcmp(unit, "ppm700") == 0) {
        *value = number / (unit[3] == '5' ? quantity_ppm500 : quantity_ppm700);
        return STATUS_OK;
    }
    if (strcmp(unit, "ppm") == 0) {
        return quantity_refuse(c, "does not say which ppm scale the pen has");
    }
    return quantity_convert(value, number, translated, c);
}

static enum status quantity_share(double *value, double number, const char *unit,
                                  const struct quantity_case *c)
{
    if (strcmp(unit, "%") == 0 || strcmp(unit, "percent") == 0) {
        *value = number / 100;
        return STATUS_OK;
    }
    return quantity_refuse(c, "is not a share");
}

static enum status quantity_clock(double *value, const char *text,
                                  const struct quantity_case *c)
{
    size_t hours = strspn(text, "0123456789");
    size_t minutes = text[hours] == ':' ? strspn(text + hours + 1, "0123456789") : 0;
    if (hours < 1 || hours > 2 || minutes != 2 || text[hours + 3] != '\0') {
        return quantity_refuse(c, "is not a clock time");
    }
    double hour = strtod(text, NULL);
    double minute = strtod(text + hours + 1, NULL);
    if (hour > 23 || minute > 59) {
        return quantity_refuse(c, "is not on the clock");
    }
    *value = hour + minute / 60;
    return STATUS_OK;
}

static enum units_context quantity_context(enum quantity quantity)
{
    switch (quantity) {
    case QUANTITY_TEMPERATURE:
        return UNITS_TEMPERATURE;
    case QUANTITY_WARMTH:
    case QUANTITY_THERMAL_TIME:
        return UNITS_DIFFERENCE;
    case QUANTITY_EC:
        return UNITS_EC;
    default:
        return UNITS_PLAIN;
    }
}

/* A number with a unit behind it, which is not empty. */
static enum status quantity_with_unit(double *value, double number, const char *unit,
                                      enum quantity quantity,
                                      const struct quantity_case *c)
{
    struct units_text translated;
    bool scale = quantity == QUANTITY_EC && strncmp(unit, "ppm", 3) == 0;
    if (!scale && !units_translate(&translated, unit, quantity_context(quantity))) {
        return quantity_refuse(c, *unit == ','
                                      ? "has a comma; write decimals with a point"
                                      : "has a unit that is not known");
    }
    if (quantity != QUANTITY_ION && quantity != QUANTITY_ALKALINITY && !scale &&
        translated.equivalents) {
        return quantity_refuse(c, "counts charge, which has no meaning here");
    }
    switch (quantity) {
    case QUANTITY_SHARE:
        return quantity_share(value, number, unit, c);
    case QUANTITY_EC:
        return quantity_ec(value, number, unit, &translated, c);
    case QUANTITY_ION:
        return quantity_ion(value, number, &translated, c);
    case QUANTITY_ALKALINITY:
        return quantity_alkalinity(value, number, &translated, c);
    case QUANTITY_DOSE:
        return quantity_dose(value, number, &translated, c);
    case QUANTITY_PH:
    case QUANTITY_NUMBER:
        return quantity_refuse(c, "has more than a number");
    default:
        return quantity_convert(value, number, &translated, c);
    }
}

/* Copies text without blanks at its ends and without "as CaCO3" behind an alkalinity. */
static bool quantity_trim(char *to, size_t size, const char *text, enum quantity quantity)
{
    text += strspn(text, " \t");
    size_t length = strlen(text);
    while (length > 0 && strchr(" \t", text[length - 1]) != NULL) {
        length--;
    }
    if (length >= size) {
        return false;
    }
    memcpy(to, text, length);
    to[length] = '\0';
    static const char *const tails[] = {" as CaCO3", " CaCO3"};
    for (size_t i = 0; i < 2 && quantity == QUANTITY_ALKALINITY; i++) {
        size_t tail = strlen(tails[i]);
        if (length > tail && strcmp(to + length - tail, tails[i]) == 0) {
            to[length - tail] = '\0';
            break;
        }
    }
    return true;
}

enum status quantity_parse(double *value, const char *text, enum quantity quantity,
                           const struct quantity_aid *aid, struct error *error)
{
    const struct quantity_row *row = &quantity_rows[quantity];
    struct quantity_case c = {row, aid, row->example, "", error};
    text_copy(c.shown, sizeof c.shown, text);
    char trimmed[128];
    if (!quantity_trim(trimmed, sizeof trimmed, text, quantity)) {
        return quantity_refuse(&c, "is too long");
    }
    if (quantity == QUANTITY_CLOCK) {
        return quantity_clock(value, trimmed, &c);
    }
    double number;
    double result = NAN;
    const char *at = trimmed;
    if (!quantity_take_number(&number, &at)) {
        return quantity_refuse(&c, "does not begin with a number");
    }
    if (!isfinite(number)) {
        return quantity_refuse(&c, "is too large a number");
    }
    const char *unit = quantity_unit_start(at);
    if (*unit == '\0') {
        if (!c.row->bare) {
            return quantity_refuse(&c, "has no unit");
        }
        *value = number;
        return STATUS_OK;
    }
    enum status status = quantity_with_unit(&result, number, unit, quantity, &c);
    if (status == STATUS_OK && !isfinite(result)) {
        return quantity_refuse(&c, "is too large a number");
    }
    if (status == STATUS_OK) {
        *value = result;
    }
    return status;
}

enum status quantity_unit(double *size, const char *unit, enum quantity quantity,
                          const char *shown, struct error *error)
{
    struct quantity_case c = {&quantity_rows[quantity], NULL, "", "", error};
    text_copy(c.shown, sizeof c.shown, shown);
    return *unit == '\0' ? quantity_refuse(&c, "has no unit")
                         : quantity_with_unit(size, 1, unit, quantity, &c);
}
