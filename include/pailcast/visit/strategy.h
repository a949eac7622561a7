/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a grower has decided to do at visits. */
#ifndef PAILCAST_VISIT_STRATEGY_H
#define PAILCAST_VISIT_STRATEGY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "pailcast/base/text.h"
#include "pailcast/chem/ion.h"
#include "pailcast/chem/recipe.h"
#include "pailcast/chem/salt.h"

enum {
    STRATEGY_AWAY_MAX = 16,
    STRATEGY_STAGES_MAX = 16
};

struct fill_rule;

/* One way of filling: the rule and its settings. */
struct strategy_fill {
    const struct fill_rule *rule;
    double stock_share;  /* mix: 0-1 */
    double aim_ec_ms_cm; /* aim; NAN for the other rules */
    double pour_l; /* litres asked for at each visit; INFINITY: up to the fill line */
};

/* From this growth stage on, fill this way. */
struct strategy_stage {
    size_t from_stage; /* index into the crop's stages */
    struct strategy_fill fill;
};

struct strategy_away {
    double from_d, to_d; /* no visits in [from, to) */
};

/* Acid or base at a visit when pH has left (low, high): dose to `to_ph`. */
struct strategy_adjust {
    const struct salt *with; /* NULL: never */
    double above_ph;         /* act above this (acid) or below it (base) */
    double to_ph;
};

/* How far the hand is from the plan. All zero: as planned. */
struct strategy_hand {
    uint64_t seed;       /* of the visits' chances */
    double missed;       /* chance that a visit is not made, 0 to below 1 */
    double late_d;       /* standard deviation of a visit's moment from the planned one */
    double pen_relative; /* what the EC pen shows too much, as a share */
};

struct strategy {
    char name[TEXT_NAME_SIZE];
    char water_name[TEXT_NAME_SIZE], stock_name[TEXT_NAME_SIZE];
    struct liquid water;   /* what it pours; the scenario's unless it brings its own */
    struct liquid stock;   /* this water with the recipe in it, or as typed */
    struct liquid recipe;  /* of the stock: what its salts alone bring, per litre */
    struct recipe weighed; /* the same on the scale; empty where a stock was typed */
    double visit_every_d;  /* > 0 */
    double visit_at_h;     /* clock hour, 0-24; visits at k x every + at, k >= 1 */
    struct strategy_fill fill;
    size_t stage_count;
    struct strategy_stage stages[STRATEGY_STAGES_MAX];
    double renew_every_d;                 /* INFINITY: never */
    double renew_above_ec_ms_cm;          /* INFINITY: never */
    double renew_above_mmol_l[ION_COUNT]; /* INFINITY: never; needs a test of that ion */
    double renew_share;                   /* 0-1 of the volume drained */
    double renew_stock_share; /* of the fresh solution; NAN: as at the first fill, or
                                 by the rule where the fill aims at an EC */
    struct strategy_adjust adjust;
    size_t away_count;
    struct strategy_away away[STRATEGY_AWAY_MAX];
    struct strategy_hand hand;
};

/* Defaults: water every third day at midnight, never renew. */
struct strategy strategy_defaults(void);

/* First visit later than day_d that is not in a time away and, where the hand is not
 * sure, not missed. Pure: which visits are missed or late follows from the hand's seed.
 */
double strategy_next_visit(const struct strategy *strategy, double day_d);

/* The same after a visit that somebody noted at noted_d: what was planned within half an
 * interval after it, a day at most, it was itself. */
double strategy_visit_after(const struct strategy *strategy, double noted_d);

/* The filling in force at a growth stage (index into the crop's stages): that of the last
 * entry of stages[] already reached, else the strategy's own. Borrowed. */
const struct strategy_fill *strategy_fill_at(const struct strategy *strategy,
                                             size_t stage);

#endif
