/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A scenario: plain, checked, in internal units; const once the reader has returned it.
 */
#ifndef PAILCAST_SCENARIO_SCENARIO_H
#define PAILCAST_SCENARIO_SCENARIO_H

#include <stddef.h>
#include <stdint.h>

#include "pailcast/base/status.h"
#include "pailcast/bucket/shape.h"
#include "pailcast/chem/liquid.h"
#include "pailcast/chem/recipe.h"
#include "pailcast/plant/crop.h"
#include "pailcast/plant/room.h"
#include "pailcast/scenario/uncertain.h"
#include "pailcast/visit/strategy.h"

enum {
    SCENARIO_STRATEGIES_MAX = 24,
    SCENARIO_WARNINGS_MAX = 16,
    SCENARIO_LINE_SIZE = 320
};

/* Levels a grower wants to stay within; INFINITY or 0 where none is set. */
struct scenario_limits {
    double ec_high_ms_cm, ec_low_ms_cm;
    double high_mmol_l[ION_COUNT]; /* "na", "cl", ...: INFINITY without a limit */
    double low_mmol_l[ION_COUNT];  /* "k_low", ...: nutrient counts as gone below */
    double ph_low, ph_high;
};

enum display_volume {
    DISPLAY_LITRE,
    DISPLAY_GALLON
};
enum display_temperature {
    DISPLAY_CELSIUS,
    DISPLAY_FAHRENHEIT
};
enum display_length {
    DISPLAY_CM,
    DISPLAY_INCH
};
enum display_ec {
    DISPLAY_MS_CM,
    DISPLAY_PPM500,
    DISPLAY_PPM700
};

/* Units for people; the files for machines always carry the internal ones. */
struct scenario_display {
    enum display_volume volume;
    enum display_temperature temperature;
    enum display_ec ec;
    enum display_length length;
};

enum scenario_method {
    METHOD_ADAMS,
    METHOD_BDF,
    METHOD_ONE_STEP
};

struct scenario_numerics {
    enum scenario_method method;
    double rtol; /* 1e-12 to 1e-3 */
};

/* What logbooks have taught about this bucket and plant, beside the crop's and the
 * bucket's own numbers. */
struct scenario_learned {
    struct crop_scales plant;
    double evaporation;       /* factor > 0 */
    double pen_offset_ms_cm;  /* what the grower's pen reads beyond the true EC */
    double start_stock_share; /* how strong the first filling really was, 0 to 2; NAN: as
                                 the scenario says */
    bool given;               /* the scenario has the group */
    char logbook[20];         /* fingerprint of the entries it was learned from, or "" */
    size_t entries;           /* how many they were */
};

struct scenario {
    char title[TEXT_NAME_SIZE];
    char stem[TEXT_NAME_SIZE]; /* file name without folder and ending */
    char start[16];            /* ISO date of day 0 at 00:00, or empty */
    double duration_d;
    double sample_every_d;
    struct shape bucket;
    double start_l; /* litres at day 0 */
    double evaporation_l_d;
    struct room room;
    struct crop crop;
    char water_name[TEXT_NAME_SIZE], stock_name[TEXT_NAME_SIZE];
    struct liquid water;
    struct liquid
        stock; /* as poured: the water with the recipe's salts in it, or as typed */
    struct liquid recipe;  /* of the stock: what its salts alone bring, per litre */
    struct recipe weighed; /* the same on the scale; empty where a stock was typed */
    double start_stock_share;
    struct scenario_learned learned;
    size_t strategy_count;
    struct strategy strategies[SCENARIO_STRATEGIES_MAX];
    struct scenario_limits limits;
    struct scenario_display display;
    struct scenario_numerics numerics;
    struct uncertain uncertain;
    uint64_t fingerprint; /* of the file's text, includes and all; 0 without a file */
    size_t warning_count; /* sentences about what was accepted but deserves a look */
    char warnings[SCENARIO_WARNINGS_MAX][SCENARIO_LINE_SIZE];
};

/* Sets every default of docs/scenario.md; nothing required is set yet. */
void scenario_defaults(struct scenario *scenario);

/* A copy to be changed and freed: a scenario is too big to lie on the stack of a thread
 * or of a user with a limit on it. NULL where there is no memory. */
struct scenario *scenario_copy(const struct scenario *scenario);

/* What no logbook has taught yet. */
struct scenario_learned scenario_unlearned(void);

/* Share of stock in the first filling: what was learned, or what the scenario says. */
double scenario_start_share(const struct scenario *scenario);

/* The liquid the bucket starts with: the strategy's own water and stock in that share, or
 * the scenario's where strategy is NULL. A share above 1 is a stronger stock, as far as
 * nothing of the water would have to be taken away for it. With the strategy's acid or
 * base, as at a visit. */
struct liquid scenario_start_liquid(const struct scenario *scenario,
                                    const struct strategy *strategy);

/* mmol of that acid or base in the whole filling; 0 where the strategy has none or pH is
 * within its limit without. */
double scenario_start_dose_mmol(const struct scenario *scenario,
                                const struct strategy *strategy);

#endif
