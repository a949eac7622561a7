/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/draw.h"

#include <math.h>
#include <stdlib.h>

#include "support/bench.h"
#include "support/close.h"

static struct draw drawn(size_t points, uint64_t seed)
{
    struct draw draw = {0};
    struct error error = {0};
    assert_int_equal(draw_make(&draw, points, seed, &error), STATUS_OK);
    return draw;
}

static void a_point_does_not_depend_on_how_many_are_drawn(void **state)
{
    (void)state;
    struct draw few = drawn(37, 9);
    struct draw many = drawn(412, 9);
    struct draw other = drawn(37, 10);
    for (size_t i = 0; i < (size_t)37 * DRAW_WIDTH; i++) {
        assert_close(few.first[i], many.first[i], 0, 0);
        assert_close(few.second[i], many.second[i], 0, 0);
    }
    assert_true(fabs(few.first[0] - other.first[0]) > 1e-6);
    draw_free(&few);
    draw_free(&many);
    draw_free(&other);
}

/* Means and deviations of 8,192 quasi-random points, far closer than chance would be. */
static void spreads_come_out_as_asked(void **state)
{
    (void)state;
    enum {
        POINTS = 8192
    };
    struct draw draw = drawn(POINTS, 3);
    struct uncertain uncertain = uncertain_defaults();
    static const struct {
        enum uncertain_input input;
        enum uncertain_shape shape;
        double spread, mean, deviation;
    } cases[] = {
        {UNCERTAIN_GROWTH, UNCERTAIN_LOGNORMAL, 0.23, 1, 0.23},
        {UNCERTAIN_EATING, UNCERTAIN_UNIFORM, 0.17, 1, 0.17},
        /* Cutting at 3 deviations leaves sqrt(1 - 6 phi(3)/0.9973) = 0.98659 of them. */
        {UNCERTAIN_AIR_TEMPERATURE, UNCERTAIN_NORMAL, 1.7, 0, 1.7 * 0.98659},
    };
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        double sum = 0;
        double squares = 0;
        uncertain.spread[cases[c].input] = cases[c].spread;
        uncertain.shape[cases[c].input] = cases[c].shape;
        for (size_t i = 0; i < POINTS; i++) {
            const double unit = draw.first[i * DRAW_WIDTH + (size_t)cases[c].input];
            const double value = draw_value(&uncertain, cases[c].input, unit);
            sum += value;
            squares += value * value;
        }
        const double mean = sum / POINTS;
        assert_close(mean, cases[c].mean, 0, 1e-3 * cases[c].spread);
        assert_close(sqrt(squares / POINTS - mean * mean), cases[c].deviation, 3e-3, 0);
    }
    draw_free(&draw);
}

/* The middle of every spread is the scenario itself, but for lognormal factors, whose
 * median lies below 1. */
static void the_middle_world_is_the_scenario(void **state)
{
    (void)state;
    static struct scenario scenario, world;
    double unit[DRAW_WIDTH];
    bench_shipped(&scenario, "renew-or-not");
    for (int i = 0; i < DRAW_WIDTH; i++) {
        unit[i] = 0.5;
        scenario.uncertain.shape[i] = UNCERTAIN_UNIFORM;
    }
    draw_world(&world, &scenario, unit);
    assert_close(world.room.ppfd_umol_m2_s, scenario.room.ppfd_umol_m2_s, 1e-14, 0);
    assert_close(world.bucket.full_l, scenario.bucket.full_l, 1e-14, 0);
    for (size_t k = 0; k < scenario.strategy_count; k++) {
        for (int i = 0; i < ION_COUNT; i++) {
            assert_close(world.strategies[k].stock.mmol_l[i],
                         scenario.strategies[k].stock.mmol_l[i], 1e-12, 1e-12);
        }
        assert_close(world.strategies[k].hand.pen_relative, 0, 0, 1e-15);
        assert_close(world.strategies[k].hand.missed, 0.05, 1e-12, 0);
    }
}

/* Both parts are scaled as wholes, so a drawn stock balances as well as the typed one. */
static void drawn_liquids_stay_neutral(void **state)
{
    (void)state;
    static struct scenario scenario, world;
    bench_shipped(&scenario, "renew-or-not");
    struct draw draw = drawn(64, 21);
    const struct liquid *typed = &scenario.strategies[2].stock;
    const double least = liquid_charge_error_percent(typed);
    for (size_t i = 0; i < draw.points; i++) {
        draw_world(&world, &scenario, draw.first + i * DRAW_WIDTH);
        const struct liquid *stock = &world.strategies[2].stock;
        assert_close(liquid_charge_error_percent(stock), least, 0, 0.05);
        assert_true(world.bucket.full_l <= shape_rim_l(&world.bucket) * (1 + 1e-12));
    }
    draw_free(&draw);
}

static void only_what_can_matter_is_an_input(void **state)
{
    (void)state;
    static struct scenario scenario;
    int list[DRAW_WIDTH];
    bench_shipped(&scenario, "no-plant");
    const size_t bare = draw_inputs(list, &scenario);
    for (size_t i = 0; i < bare; i++) {
        assert_true(list[i] != UNCERTAIN_GROWTH && list[i] != UNCERTAIN_DRINKING);
    }
    bench_shipped(&scenario, "renew-or-not");
    assert_int_equal(draw_inputs(list, &scenario), DRAW_WIDTH);
    scenario.uncertain.spread[UNCERTAIN_DOSE] = 0;
    scenario.uncertain.spread[UNCERTAIN_MISSED] = 0;
    assert_int_equal(draw_inputs(list, &scenario), DRAW_WIDTH - 1);
    scenario.uncertain.spread[UNCERTAIN_VISIT_TIME] = 0;
    assert_int_equal(draw_inputs(list, &scenario), DRAW_WIDTH - 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_point_does_not_depend_on_how_many_are_drawn),
        cmocka_unit_test(spreads_come_out_as_asked),
        cmocka_unit_test(the_middle_world_is_the_scenario),
        cmocka_unit_test(drawn_liquids_stay_neutral),
        cmocka_unit_test(only_what_can_matter_is_an_input),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
