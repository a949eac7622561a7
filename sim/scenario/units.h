/* SPDX-License-Identifier: GPL-3.0-or-later */
/* UDUNITS-2 behind two calls, with the words growers use put in front of its own. */
#ifndef SIM_SCENARIO_UNITS_H
#define SIM_SCENARIO_UNITS_H

#include <stdbool.h>
#include <stddef.h>

enum {
    UNITS_TEXT_SIZE = 512
};

/* Words that mean something else in another place: C is a degree only of temperature. */
enum units_context {
    UNITS_PLAIN,
    UNITS_TEMPERATURE, /* C and F are temperatures */
    UNITS_DIFFERENCE,  /* C and F are temperature differences */
    UNITS_EC,          /* ms and us are taken as mS and uS */
};

/* A unit in UDUNITS' words. */
struct units_text {
    char text[UNITS_TEXT_SIZE];
    bool equivalents; /* meq or eq was used; text then says mmol or mol */
    bool by_volume;   /* a spoon, cup or other vessel, or mL, stands before a slash */
};

/* Translates a grower's unit. False where it holds anything but words with whole
 * exponents joined by blanks, points, slashes, stars and brackets. */
bool units_translate(struct units_text *to, const char *unit, enum units_context context);

enum units_outcome {
    UNITS_CONVERTED,
    UNITS_UNKNOWN,   /* UDUNITS does not know the unit */
    UNITS_DIFFERENT, /* it measures something else */
    UNITS_ABSENT     /* UDUNITS' own tables are not installed */
};

/* Converts number from one unit (translated) to another (in UDUNITS' words). Not for
 * several threads at once: UDUNITS' parser is not. The commonest pairs are answered
 * without UDUNITS, all of them by it in units_convert_by_tables. */
enum units_outcome units_convert(double *value, double number, const char *from,
                                 const char *to);
enum units_outcome units_convert_by_tables(double *value, double number, const char *from,
                                           const char *to);

#endif
