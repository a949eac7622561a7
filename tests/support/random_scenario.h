/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Valid scenarios drawn at random: every kind of crop, fill, renewal, water and bucket,
 * lives of some days. One seed is one scenario, the same everywhere. */
#ifndef TESTS_SUPPORT_RANDOM_SCENARIO_H
#define TESTS_SUPPORT_RANDOM_SCENARIO_H

#include "pailcast/run/life.h"
#include "wording.h"

/* The text of scenario `seed`, to be freed. The wording changes how it is said, never
 * what. */
char *random_scenario_text(uint64_t seed, const struct wording *wording);

/* The same through a file and the reader; fails the test, printing seed and text, when
 * it is refused. */
void random_scenario_read(struct scenario *scenario, uint64_t seed,
                          const struct wording *wording);

/* One life of a scenario drawn. All borrowed. */
struct random_life {
    uint64_t seed;
    const struct scenario *scenario;
    const struct strategy *strategy;
    const struct life *life;
};

enum {
    RANDOM_WHAT_SIZE = 240
};

/* Something that is to hold of every life. */
struct random_claim {
    /* Whether it holds; if not, what[RANDOM_WHAT_SIZE] receives why. */
    bool (*holds)(const struct random_life *lived, char what[]);
    size_t lives, broken; /* tried; not found to hold */
    uint64_t seed;        /* of the first that broke it */
    char what[RANDOM_WHAT_SIZE];
};

/* Lives every strategy of the scenarios first ... first + scenarios - 1 and puts each
 * claim to it. A life that cannot be lived fails the test. */
void random_scenario_try(struct random_claim claims[], size_t count, uint64_t first,
                         uint64_t scenarios);

/* Fails the test, printing seed and text of the first scenario, where a claim was broken
 * or put to no life at all. */
void random_scenario_judge(const struct random_claim *claim);

/* Lives a strategy; fails the test, printing seed and text, when it cannot. */
void random_scenario_live(struct life *life, uint64_t seed,
                          const struct scenario *scenario,
                          const struct strategy *strategy);

#endif
