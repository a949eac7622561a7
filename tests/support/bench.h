/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scenarios for tests of whole lives: shipped ones, and crops put into a given room. */
#ifndef TESTS_SUPPORT_BENCH_H
#define TESTS_SUPPORT_BENCH_H

#include "pailcast/study/compare.h"

/* Reads scenarios/NAME.cfg of the source tree; fails the test when it cannot. */
void bench_shipped(struct scenario *scenario, const char *name);

/* A shipped crop in a warm dry room on a shipped water, one strategy aiming at an EC at
 * visits; fails the test when it cannot be read. */
struct bench_plan {
    const char *crop, *water, *recipe;
    double days, full_l, ppfd, lamp_hours, humidity, visit_every_d, aim_ec_ms_cm,
        stock_share;
};
void bench_crop(struct scenario *scenario, const struct bench_plan *plan);

/* Lives a strategy of the scenario; fails the test when it cannot. Free with life_free.
 */
void bench_live(struct life *life, const struct scenario *scenario, size_t strategy);

/* Lives and compares all strategies of the scenario; fails the test when it cannot. Give
 * back with bench_let_go. */
struct compare *bench_compare(const struct scenario *scenario);
void bench_let_go(struct compare *compare);

/* The last sample at or before a day. Borrowed. */
const struct sample *bench_sample(const struct life *life, double day_d);

#endif
