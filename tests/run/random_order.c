/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order in which keys, ions and strategies stand in a scenario changes no bit of what
 * comes of it, in 2000 scenarios drawn at random, each read from its text. */
#include "support/close.h"

#include <stdio.h>

#include "random_retold.h"

static const uint64_t first_seed = 400001;
static const uint64_t scenarios = 2000;

static bool order_changes_not_a_bit(const struct random_life *lived, char what[])
{
    static struct retold retold;
    const struct wording mixed = {.shuffle = lived->seed};
    const struct trajectory *path = &lived->life->trajectory;
    struct life life;
    retold_live(&life, lived, &mixed, &retold);
    bool same = life.trajectory.sample_count == path->sample_count;
    for (size_t i = 0; same && i < path->sample_count; i++) {
        same = retold_difference(&path->samples[i], &life.trajectory.samples[i]) == 0;
        (void)snprintf(what, RANDOM_WHAT_SIZE, "another life by day %.3f",
                       path->samples[i].day_d);
    }
    life_free(&life);
    return same;
}

enum {
    CLAIMS = 1
};

static struct random_claim claims[CLAIMS] = {{.holds = order_changes_not_a_bit}};

static int live_them_all(void **state)
{
    (void)state;
    random_scenario_try(claims, CLAIMS, first_seed, scenarios);
    return 0;
}

static void order_of_keys_and_strategies_changes_no_bit(void **state)
{
    (void)state;
    random_scenario_judge(&claims[0]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(order_of_keys_and_strategies_changes_no_bit),
    };
    return cmocka_run_group_tests(tests, live_them_all, NULL);
}
