/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is not known for sure about plant, room, water, pen, pour and hand, and how far it
 * spreads. */
#ifndef PAILCAST_SCENARIO_UNCERTAIN_H
#define PAILCAST_SCENARIO_UNCERTAIN_H

#include <stdbool.h>

#include "pailcast/scenario/quantity.h"

/* What an input spreads as. */
enum uncertain_kind {
    UNCERTAIN_FACTOR, /* a multiplier about 1; spread = coefficient of variation */
    UNCERTAIN_SHIFT,  /* something added, about 0; spread = standard deviation */
    UNCERTAIN_CHANCE  /* of each visit: the spread is the chance, or a visit's own */
};

/* code, key, words, kind, quantity of the spread, largest spread, default spread.
 * Defaults: docs/sources.md. Order matters to results: each row has its own dimension of
 * the quasi-random numbers. */
#define UNCERTAIN_LIST(X)                                                                \
    X(UNCERTAIN_LIGHT, "light", "light at the plant", UNCERTAIN_FACTOR, QUANTITY_SHARE,  \
      0.5, 0.1)                                                                          \
    X(UNCERTAIN_AIR_TEMPERATURE, "air_temperature", "air temperature", UNCERTAIN_SHIFT,  \
      QUANTITY_WARMTH, 8, 1.5)                                                           \
    X(UNCERTAIN_HUMIDITY, "humidity", "air humidity", UNCERTAIN_SHIFT, QUANTITY_SHARE,   \
      0.25, 0.06)                                                                        \
    X(UNCERTAIN_WATER_TEMPERATURE, "water_temperature", "water temperature",             \
      UNCERTAIN_SHIFT, QUANTITY_WARMTH, 8, 1)                                            \
    X(UNCERTAIN_DRINKING, "drinking", "the plant's thirst", UNCERTAIN_FACTOR,            \
      QUANTITY_SHARE, 0.5, 0.15)                                                         \
    X(UNCERTAIN_EATING, "eating", "the plant's hunger", UNCERTAIN_FACTOR,                \
      QUANTITY_SHARE, 0.5, 0.1)                                                          \
    X(UNCERTAIN_GROWTH, "growth", "the plant's vigour", UNCERTAIN_FACTOR,                \
      QUANTITY_SHARE, 0.5, 0.12)                                                         \
    X(UNCERTAIN_START_MASS, "start_mass", "size of the transplant", UNCERTAIN_FACTOR,    \
      QUANTITY_SHARE, 0.5, 0.25)                                                         \
    X(UNCERTAIN_SALT_UPTAKE, "salt_uptake", "sodium and chloride taken up",              \
      UNCERTAIN_FACTOR, QUANTITY_SHARE, 0.5, 0.3)                                        \
    X(UNCERTAIN_SALT_TOLERANCE, "salt_tolerance", "salt tolerance", UNCERTAIN_FACTOR,    \
      QUANTITY_SHARE, 0.5, 0.15)                                                         \
    X(UNCERTAIN_EVAPORATION, "evaporation", "evaporation", UNCERTAIN_FACTOR,             \
      QUANTITY_SHARE, 0.5, 0.25)                                                         \
    X(UNCERTAIN_WATER, "water", "minerals in the water", UNCERTAIN_FACTOR,               \
      QUANTITY_SHARE, 0.5, 0.15)                                                         \
    X(UNCERTAIN_DOSE, "dose", "strength of the stock", UNCERTAIN_FACTOR, QUANTITY_SHARE, \
      0.5, 0.05)                                                                         \
    X(UNCERTAIN_FILL_LINE, "fill_line", "where the pour stops", UNCERTAIN_FACTOR,        \
      QUANTITY_SHARE, 0.2, 0.03)                                                         \
    X(UNCERTAIN_PEN, "pen", "error of the EC pen", UNCERTAIN_SHIFT, QUANTITY_SHARE, 0.2, \
      0.03)                                                                              \
    X(UNCERTAIN_VISIT_TIME, "visit_time", "moment of each visit", UNCERTAIN_CHANCE,      \
      QUANTITY_TIME, 7, 0.125)                                                           \
    X(UNCERTAIN_MISSED, "missed_visits", "missed visits", UNCERTAIN_CHANCE,              \
      QUANTITY_SHARE, 0.9, 0.05)

enum uncertain_input {
#define UNCERTAIN_ENUM(code, key, words, kind, quantity, most, spread) code,
    UNCERTAIN_LIST(UNCERTAIN_ENUM)
#undef UNCERTAIN_ENUM
    UNCERTAIN_COUNT
};

enum uncertain_shape {
    UNCERTAIN_LOGNORMAL, /* factors only; mean 1 */
    UNCERTAIN_NORMAL,    /* cut off at three standard deviations */
    UNCERTAIN_UNIFORM,   /* within sqrt(3) standard deviations */
    UNCERTAIN_SHAPES
};

struct uncertain_row {
    const char *key, *words;
    enum uncertain_kind kind;
    enum quantity quantity;
    double most; /* largest spread accepted, internal unit */
    double spread;
};

extern const struct uncertain_row uncertain_table[UNCERTAIN_COUNT];
extern const char *const uncertain_shape_words[UNCERTAIN_SHAPES];

struct uncertain {
    double spread[UNCERTAIN_COUNT]; /* 0: certain */
    enum uncertain_shape shape[UNCERTAIN_COUNT];
};

/* The defaults of the table: factors lognormal, shifts normal. */
struct uncertain uncertain_defaults(void);

#endif
