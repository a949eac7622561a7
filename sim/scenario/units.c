/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "units.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>
#include <threads.h>

#include <udunits2.h>

/* UDUNITS keeps `gal` for an acceleration, `oz` for a volume, `C` and `F` for charge and
 * capacitance. The US gallon is 231 cubic inches and the pound 0.45359237 kg by
 * definition (NIST Handbook 44, appendix C); kitchen measures are its binary parts. */
struct units_word {
    const char *word; /* compared without regard to case unless it is one letter */
    const char *means;
    int context; /* -1: anywhere */
    bool exact;  /* compare with regard to case */
};

static const struct units_word units_words[] = {
    {"gal", "(231 inch^3)", -1, false},
    {"gallon", "(231 inch^3)", -1, false},
    {"gallons", "(231 inch^3)", -1, false},
    {"qt", "(57.75 inch^3)", -1, false},
    {"quart", "(57.75 inch^3)", -1, false},
    {"quarts", "(57.75 inch^3)", -1, false},
    {"pt", "(28.875 inch^3)", -1, false},
    {"pint", "(28.875 inch^3)", -1, false},
    {"pints", "(28.875 inch^3)", -1, false},
    {"cup", "(14.4375 inch^3)", -1, false},
    {"cups", "(14.4375 inch^3)", -1, false},
    {"floz", "(1.8046875 inch^3)", -1, false},
    {"tbsp", "(0.90234375 inch^3)", -1, false},
    {"tablespoon", "(0.90234375 inch^3)", -1, false},
    {"tablespoons", "(0.90234375 inch^3)", -1, false},
    {"tsp", "(0.30078125 inch^3)", -1, false},
    {"teaspoon", "(0.30078125 inch^3)", -1, false},
    {"teaspoons", "(0.30078125 inch^3)", -1, false},
    {"oz", "(28.349523125 g)", -1, false},
    {"ounce", "(28.349523125 g)", -1, false},
    {"ounces", "(28.349523125 g)", -1, false},
    {"lb", "(453.59237 g)", -1, false},
    {"lbs", "(453.59237 g)", -1, false},
    {"pound", "(453.59237 g)", -1, false},
    {"pounds", "(453.59237 g)", -1, false},
    {"hrs", "h", -1, false},
    {"wk", "week", -1, false},
    {"wks", "week", -1, false},
    {"mM", "(mmol/L)", -1, true},
    {"uM", "(umol/L)", -1, true},
    {"meq", "mmol", -1, false},
    {"ueq", "umol", -1, false},
    {"eq", "mol", -1, false},
    {"degC", "degree_Celsius", UNITS_TEMPERATURE, false},
    {"degF", "degree_Fahrenheit", UNITS_TEMPERATURE, false},
    {"C", "degree_Celsius", UNITS_TEMPERATURE, false},
    {"F", "degree_Fahrenheit", UNITS_TEMPERATURE, false},
    {"degC", "K", UNITS_DIFFERENCE, false},
    {"degF", "(K/1.8)", UNITS_DIFFERENCE, false},
    {"C", "K", UNITS_DIFFERENCE, false},
    {"F", "(K/1.8)", UNITS_DIFFERENCE, false},
    {"EC", "(mS/cm)", UNITS_EC, false},
    {"ms", "mS", UNITS_EC, false},
    {"us", "uS", UNITS_EC, false},
    {"ds", "dS", UNITS_EC, false},
};

/* UDUNITS' grammar beyond units: origins and logarithms. */
static const char *const units_grammar[] = {"since", "after", "from", "ref", "re",
                                            "lg",    "ln",    "log",  "PER", "per"};

static const char *const units_vessels[] = {"gal", "qt",   "quart", "pt",  "pint",
                                            "cup", "floz", "tbsp",  "tab", "tsp",
                                            "tea", "mL",   "ml",    "L",   "l"};

static bool units_is_grammar(const char *word)
{
    for (size_t i = 0; i < sizeof units_grammar / sizeof *units_grammar; i++) {
        if (strcmp(word, units_grammar[i]) == 0) {
            return true;
        }
    }
    return false;
}

static bool units_is_vessel(const char *word)
{
    for (size_t i = 0; i < sizeof units_vessels / sizeof *units_vessels; i++) {
        size_t length = strlen(units_vessels[i]);
        if (strncmp(word, units_vessels[i], length) == 0 &&
            (length > 2 || word[length] == '\0')) {
            return true;
        }
    }
    return false;
}

static const char *units_meaning(const char *word, enum units_context context)
{
    for (size_t i = 0; i < sizeof units_words / sizeof *units_words; i++) {
        const struct units_word *known = &units_words[i];
        if (known->context >= 0 && known->context != (int)context) {
            continue;
        }
        if ((known->exact ? strcmp(word, known->word) : strcasecmp(word, known->word)) ==
            0) {
            return known->means;
        }
    }
    return word;
}

/* Signs beyond ASCII that stand in units: micro, Greek mu, degree, superscripts. */
struct units_sign {
    const char *sign, *plain;
};

static const struct units_sign units_signs[] = {
    {"\xc2\xb5", "u"}, {"\xce\xbc", "u"}, {"\xc2\xb0", "deg"},
    {"\xc2\xb2", "2"}, {"\xc2\xb3", "3"}, {"\xc2\xb7", "."},
};

/* Rewrites those signs in ASCII; false where any other byte beyond ASCII stands. */
static bool units_to_ascii(char *to, size_t size, const char *from)
{
    size_t used = 0;
    while (*from != '\0') {
        const struct units_sign *found = NULL;
        for (size_t i = 0; i < sizeof units_signs / sizeof *units_signs; i++) {
            if (strncmp(from, units_signs[i].sign, 2) == 0) {
                found = &units_signs[i];
            }
        }
        if (found == NULL && (unsigned char)*from >= 0x80) {
            return false;
        }
        char one[2] = {*from, '\0'};
        const char *plain = found != NULL ? found->plain : one;
        from += found != NULL ? 2 : 1;
        if (used + strlen(plain) + 1 > size) {
            return false;
        }
        memcpy(to + used, plain, strlen(plain));
        used += strlen(plain);
    }
    to[used] = '\0';
    return true;
}

static bool units_append(char *to, const char *text)
{
    size_t used = strlen(to);
    if (used + strlen(text) + 1 > UNITS_TEXT_SIZE) {
        return false;
    }
    memcpy(to + used, text, strlen(text) + 1);
    return true;
}

/* Takes one word from *at into word[32]; "fl oz" is one word. */
static bool units_take_word(char word[32], const char **at)
{
    size_t length = strspn(*at, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ_%");
    if (length >= 32) {
        return false;
    }
    memcpy(word, *at, length);
    word[length] = '\0';
    *at += length;
    if (strcasecmp(word, "fl") == 0) {
        const char *next = *at + strspn(*at, " .");
        if (strncasecmp(next, "oz", 2) == 0 && !isalpha((unsigned char)next[2])) {
            memcpy(word, "floz", 5);
            *at = next + 2;
        }
    }
    return true;
}

/* Takes a whole exponent that follows a word: 2, -1, ^2, ^-1. */
static bool units_take_exponent(char *to, const char **at)
{
    size_t length = **at == '^' ? 1 : 0;
    length += (*at)[length] == '-' ? 1 : 0;
    size_t digits = strspn(*at + length, "0123456789");
    if (digits == 0) {
        return length == 0;
    }
    if (digits > 2) {
        return false;
    }
    char exponent[8] = "^";
    size_t skip = **at == '^' ? 1 : 0;
    memcpy(exponent + 1, *at + skip, length + digits - skip);
    exponent[1 + length + digits - skip] = '\0';
    *at += length + digits;
    return units_append(to, exponent);
}

bool units_translate(struct units_text *to, const char *unit, enum units_context context)
{
    char ascii[UNITS_TEXT_SIZE];
    *to = (struct units_text){0};
    if (!units_to_ascii(ascii, sizeof ascii, unit)) {
        return false;
    }
    bool slash = ascii[0] == '/';
    if (slash && !units_append(to->text, "1")) {
        return false;
    }
    for (const char *at = ascii; *at != '\0';) {
        if (strchr(" ./*()", *at) != NULL) {
            char one[2] = {*at, '\0'};
            slash = slash || *at == '/';
            at++;
            if (!units_append(to->text, one)) {
                return false;
            }
            continue;
        }
        char word[32];
        if (!units_take_word(word, &at) || word[0] == '\0' || units_is_grammar(word)) {
            return false;
        }
        const char *meaning = units_meaning(word, context);
        size_t length = strlen(word);
        to->equivalents =
            to->equivalents ||
            (length >= 2 && strcasecmp(word + length - 2, "eq") == 0 && meaning != word);
        to->by_volume = to->by_volume || (!slash && units_is_vessel(word));
        if (!units_append(to->text, meaning) || !units_take_exponent(to->text, &at)) {
            return false;
        }
    }
    return true;
}

static once_flag units_loading = ONCE_FLAG_INIT;
static ut_system *units_system; /* written once, by units_load */

static void units_load(void)
{
    (void)ut_set_error_message_handler(ut_ignore);
    units_system = ut_read_xml(NULL);
}

/* What is typed at the bucket, worked out beforehand: reading UDUNITS' tables takes
 * longer than the rest of an answer. A test holds each row to UDUNITS. */
static const struct units_known {
    const char *from, *to;
    double times;
} units_known[] = {
    {"L", "L", 1},
    {"mL", "L", 1e-3},
    {"(231 inch^3)", "L", 3.785411784},
    {"(57.75 inch^3)", "L", 0.946352946},
    {"(14.4375 inch^3)", "L", 0.2365882365},
    {"mS/cm", "mS/cm", 1},
    {"uS/cm", "mS/cm", 1e-3},
    {"dS/m", "mS/cm", 1},
    {"cm", "cm", 1},
    {"g", "g", 1},
    {"g/L", "g/L", 1},
};

enum units_outcome units_convert(double *value, double number, const char *from,
                                 const char *to)
{
    for (size_t i = 0; i < sizeof units_known / sizeof *units_known; i++) {
        if (strcmp(from, units_known[i].from) == 0 &&
            strcmp(to, units_known[i].to) == 0) {
            *value = number * units_known[i].times;
            return UNITS_CONVERTED;
        }
    }
    return units_convert_by_tables(value, number, from, to);
}

enum units_outcome units_convert_by_tables(double *value, double number, const char *from,
                                           const char *to)
{
    call_once(&units_loading, units_load);
    if (units_system == NULL) {
        return UNITS_ABSENT;
    }
    ut_unit *source = ut_parse(units_system, from, UT_ASCII);
    ut_unit *target = ut_parse(units_system, to, UT_ASCII);
    cv_converter *converter = NULL;
    enum units_outcome outcome = UNITS_UNKNOWN;
    if (source != NULL && target != NULL) {
        outcome = UNITS_DIFFERENT;
        if (ut_are_convertible(source, target) != 0) {
            converter = ut_get_converter(source, target);
        }
    }
    /* UDUNITS also turns a unit into its reciprocal (s into Hz), where 0 has no image. */
    if (converter != NULL && isfinite(cv_convert_double(converter, 0))) {
        *value = cv_convert_double(converter, number);
        outcome = UNITS_CONVERTED;
    }
    if (converter != NULL) {
        cv_free(converter);
    }
    if (source != NULL) {
        ut_free(source);
    }
    if (target != NULL) {
        ut_free(target);
    }
    return outcome;
}
