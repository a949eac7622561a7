/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parts of a random scenario: each draws its numbers and puts them into words. */
#ifndef TESTS_SUPPORT_RANDOM_PARTS_H
#define TESTS_SUPPORT_RANDOM_PARTS_H

#include <math.h>
#include <stdlib.h>

#include "random_liquid.h"
#include "wording.h"

/* What is drawn, in what words, and what later parts must know of earlier ones. */
struct random_draw {
    uint64_t seed;
    struct wording wording;
    double days;
    bool stock;    /* the scenario has one */
    int stages;    /* of the crop, named "stage 0", "stage 1", ... */
    double hurry;  /* L/d: about what leaves the bucket */
    double full_l; /* litres at the fill line */
};

static inline bool random_chance(struct random_draw *draw, double chance)
{
    return random_unit(&draw->seed) < chance;
}

static inline double random_draw(struct random_draw *draw, double low, double high)
{
    return random_between(&draw->seed, low, high);
}

/* One of 0 ... count - 1. */
static inline int random_pick(struct random_draw *draw, int count)
{
    return (int)(random_unit(&draw->seed) * count);
}

/* Spread evenly over decades. */
static inline double random_decades(struct random_draw *draw, double low, double high)
{
    return low * pow(high / low, random_unit(&draw->seed));
}

/* A time span: half of them whole quarters of a day, so that things coincide. */
static inline double random_days(struct random_draw *draw, double low, double high)
{
    const double days = random_draw(draw, low, high);
    return random_chance(draw, 0.5) ? ceil(4 * days) / 4 : days;
}

void random_liquids(struct wording_sheet *top, struct random_draw *draw);
void random_water(struct wording_sheet *sheet, struct random_draw *draw);
void random_recipe(struct wording_sheet *sheet, struct random_draw *draw);
void random_crop(struct wording_sheet *top, struct random_draw *draw);
void random_strategies(struct wording_sheet *top, struct random_draw *draw);

#endif
