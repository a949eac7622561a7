/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a finished study says: bands, chances, days, differences and what matters. */
#ifndef PAILCAST_STUDY_RISK_SUM_H
#define PAILCAST_STUDY_RISK_SUM_H

#include "pailcast/study/risk.h"
#include "pailcast/study/sobol.h"

enum {
    RISK_TARGETS = 4, /* outcomes asked what matters for them */
    RISK_LINE_SIZE = 1000
};

/* A strategy is safe when at most this share of lives meets trouble, and grows well when
 * the median growth is at least this (chosen; tune asks for the same). */
extern const double risk_verdict_trouble, risk_verdict_growth;

/* Tenth, half and nine tenths of the lives lie below. */
struct risk_spread {
    double p10, p50, p90;
};

/* Share of lives, with the 95 % interval of Wilson 1927. */
struct risk_chance {
    double share, low, high;
    double median_d; /* day, among the lives it happened to; NAN if to none */
};

struct risk_row {
    const struct strategy *strategy;
    struct risk_chance chance[OUTCOME_DAYS];
    double left[OUTCOME_DAYS]; /* share of lives in which it is so right after the last
                                * visit */
    struct risk_spread amount[OUTCOME_COUNT];     /* from OUTCOME_DAYS on */
    struct risk_spread difference[OUTCOME_COUNT]; /* to the first strategy, same world */
    struct risk_spread band[OUTCOME_CURVES][RISK_GRID_MAX];
    double quiet[RISK_GRID_MAX]; /* share of lives without need of action so far */
    struct sobol_index matters[RISK_TARGETS]
                              [DRAW_WIDTH]; /* by position in risk->inputs */
    char next[RISK_LINE_SIZE]; /* a step against its chief trouble; "" where it is safe */
};

struct risk_sum {
    const struct risk *risk; /* borrowed */
    size_t row_count;
    struct risk_row rows[SCENARIO_STRATEGIES_MAX];
    size_t best;                         /* row to recommend */
    bool equal[SCENARIO_STRATEGIES_MAX]; /* it, and those the lives do not tell from it */
    char verdict[RISK_LINE_SIZE];        /* which to use, or that none is safe */
};

/* The outcomes asked what matters for them. */
extern const enum outcome_code risk_targets[RISK_TARGETS];

/* Of a finished study; allocated, release with free. STATUS_MEMORY. */
enum status risk_sum_up(struct risk_sum **sum, const struct risk *risk,
                        struct error *error) STATUS_MUST_CHECK;

/* Quantiles by linear interpolation between order statistics (type 7 of Hyndman & Fan
 * 1996); sorts value[count]. */
struct risk_spread risk_sum_spread(float value[], size_t count);

#endif
