/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bucket so simple that what it does is known in closed form, and asked why. Include
 * after support/close.h. */
#ifndef TESTS_STUDY_WHY_SIMPLE_H
#define TESTS_STUDY_WHY_SIMPLE_H

#include <math.h>

#include "pailcast/study/why.h"
#include "pailcast/visit/fill.h"

/* Parts against closed forms: the error of the integrator at rtol 1e-10 and of the
 * quadrature. */
static const double exact = 2e-6;

static struct scenario scenario;

/* Charges balance with no alkalinity: what is taken in proportion leaves it at zero. */
static const struct liquid salts = {
    .mmol_l = {8.43, 0.61, 1.17, 4.79, 2.31, 1.13, 1.24, 0.37, 0.29}};

static inline struct liquid balanced(struct liquid liquid)
{
    liquid.mmol_l[ION_CL] += liquid_charge_meq_l(&liquid);
    assert_true(liquid.mmol_l[ION_CL] >= 0);
    assert_close(liquid_charge_meq_l(&liquid), 0, 0, 1e-12);
    return liquid;
}

/* A table plant in a straight bucket that nobody visits; callers change the rest. */
static inline struct strategy *simple(double days, double full_l,
                                      const struct liquid *start)
{
    scenario_defaults(&scenario);
    scenario.duration_d = days;
    scenario.bucket = (struct shape){full_l, 61.3, 26.7, 26.7, 1.9};
    scenario.start_l = full_l;
    scenario.water = *start;
    scenario.stock = *start;
    scenario.numerics.rtol = 1e-10;
    scenario.crop = crop_defaults(CROP_TABLE);
    scenario.crop.stage_count = 1;
    scenario.crop.stages[0].lasts_d = INFINITY;
    scenario.crop.stages[0].drinks_l_d = 0;
    scenario.strategy_count = 1;
    struct strategy *strategy = &scenario.strategies[0];
    *strategy = strategy_defaults();
    strategy->fill.rule = fill_rule_by_name("water");
    strategy->visit_every_d = 10 * days;
    strategy->water = *start;
    strategy->stock = *start;
    return strategy;
}

static inline struct crop_stage *stage(void)
{
    return &scenario.crop.stages[0];
}

static inline struct why asked(double from_d, double to_d)
{
    struct why why;
    struct error error = {0};
    if (why_run(&why, &scenario, &scenario.strategies[0], from_d, to_d, &error) !=
        STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
    assert_true(why.interval_count > 0);
    return why;
}

#endif
