/* SPDX-License-Identifier: GPL-3.0-or-later */
/* "5 gal", "78 degF", "2 tsp", "1.9 mS/cm": text with a unit to a number in internal
 * units. */
#ifndef PAILCAST_SCENARIO_QUANTITY_H
#define PAILCAST_SCENARIO_QUANTITY_H

#include <stdbool.h>

#include "pailcast/base/status.h"

/* What is measured; each has one internal unit. */
enum quantity {
    QUANTITY_VOLUME,      /* L */
    QUANTITY_LENGTH,      /* cm */
    QUANTITY_AREA,        /* m2 */
    QUANTITY_TIME,        /* d */
    QUANTITY_CLOCK,       /* "18:00" to hours; 0-24 */
    QUANTITY_TEMPERATURE, /* degC */
    QUANTITY_WARMTH,      /* a difference of temperatures, K */
    QUANTITY_SHARE,       /* "45 %" or a bare number 0-1, to 0-1 */
    QUANTITY_EC,          /* mS/cm at 25 degC; "ppm500", "ppm700" accepted */
    QUANTITY_FLOW,        /* L/d */
    QUANTITY_ION, /* mmol/L; "meq/L" needs a charge, "mg/L" a molar mass: see below */
    QUANTITY_ALKALINITY,   /* meq/L; "mg/L" is taken as CaCO3 (50.043 mg/meq) */
    QUANTITY_DOSE,         /* g/L; "mmol/L" needs a molar mass, "tsp/gal" a density */
    QUANTITY_MASS,         /* g */
    QUANTITY_LIGHT,        /* umol/m2/s */
    QUANTITY_ILLUMINANCE,  /* lux */
    QUANTITY_CO2,          /* ppm */
    QUANTITY_TISSUE,       /* mmol/g */
    QUANTITY_THERMAL_TIME, /* degC d */
    QUANTITY_LIGHT_USE,    /* g/mol */
    QUANTITY_LEAF_SPREAD,  /* m2/g */
    QUANTITY_ROOT_SPEED,   /* cm/d */
    QUANTITY_RATE,         /* 1/d */
    QUANTITY_DENSITY,      /* g/mL */
    QUANTITY_PH,           /* bare number */
    QUANTITY_NUMBER,       /* bare number, no unit */
    QUANTITY_COUNT
};

/* What a unit may need to be converted: zero where unknown. */
struct quantity_aid {
    double molar_mass; /* g/mol, for mg/L of an ion and mmol/L of a salt */
    int charge;        /* for meq/L */
    double g_ml;       /* bulk density, for doses by volume */
};

enum {
    QUANTITY_RANGE_SIZE = 160
};

/* Internal units as a person writes them: "0 degC to 40 degC"; shares in percent too. */
void quantity_range(char to[QUANTITY_RANGE_SIZE], double low, double high,
                    enum quantity quantity);

/* Parses text into *value (finite) or returns STATUS_INPUT with a sentence without file
 * and line: what is wrong and which units are accepted. aid may be NULL. */
enum status quantity_parse(double *value, const char *text, enum quantity quantity,
                           const struct quantity_aid *aid,
                           struct error *error) STATUS_MUST_CHECK;

/* How large one unit is, "gal", "uS/cm", "ppm500", in internal units (above 0, finite),
 * or STATUS_INPUT with a sentence that begins with `shown`, where the unit stands. Not
 * for temperatures, whose units differ in their zero. */
enum status quantity_unit(double *size, const char *unit, enum quantity quantity,
                          const char *shown, struct error *error) STATUS_MUST_CHECK;

#endif
