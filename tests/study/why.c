/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include <dirent.h>

#include "pailcast/scenario/catalog.h"
#include "pailcast/study/why.h"
#include "support/bench.h"
#include "support/random_liquid.h"
#include "why_simple.h"

/* Parts are to add up within 1 %. The quadrature refines itself until an hour's parts fit
 * to 1e-6, so a whole stretch is held to a hundred times that. */
static const double closes = 1e-4;

static double ec_of(const struct liquid *liquid)
{
    const struct pen pen =
        pen_at(scenario.room.water_temperature_c, scenario.room.root_co2_ppm);
    return pen_read(&pen, liquid).ec_ms_cm;
}

static struct liquid stronger(const struct liquid *liquid, double times)
{
    struct liquid made = *liquid;
    for (int i = 0; i < ION_COUNT; i++) {
        made.mmol_l[i] *= times;
    }
    made.alkalinity_meq_l *= times;
    return made;
}

/* dEC / dln(strength), by differences of the fourth order over 2 %. */
static double ec_by_strength(const struct liquid *liquid)
{
    const double h = 0.01;
    double ec[4];
    const double at[4] = {-2, -1, 1, 2};
    for (int i = 0; i < 4; i++) {
        const struct liquid made = stronger(liquid, exp(at[i] * h));
        ec[i] = ec_of(&made);
    }
    return (ec[0] - 8 * ec[1] + 8 * ec[2] - ec[3]) / (12 * h);
}

/* All parts but those of the mask are exactly nothing. */
static void nothing_but(const struct why_interval *interval, unsigned mask)
{
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        if ((mask & (1U << i)) == 0) {
            assert_close(interval->tally.part[i], 0, 0, 1e-12);
        }
    }
}

static void what_eats_all_it_drinks_leaves_ec_where_it_was(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    (void)simple(4.37, 17.3, &start);
    stage()->drinks_l_d = 2.31;
    for (int i = 0; i < ION_COUNT; i++) {
        stage()->follows[i] = 1;
    }
    struct why why = asked(0, 4.37);
    const struct why_interval *whole = &why.intervals[0];
    const double drunk = 2.31 * 4.37;
    const double expected = ec_by_strength(&start) * log(17.3 / (17.3 - drunk));
    assert_close(whole->ec_to_ms_cm, whole->ec_from_ms_cm, exact, 0);
    assert_close(whole->tally.part[WHY_DRINKING], expected, exact, 0);
    assert_close(whole->tally.part[WHY_EATING], -expected, exact, 0);
    nothing_but(whole, 1U << WHY_DRINKING | 1U << WHY_EATING | 1U << WHY_OTHER);
    /* No alkalinity was there to change. */
    assert_close(whole->tally.part[WHY_OTHER], 0, 0, 1e-9);
    assert_close(whole->eaten_share, 1, exact, 0);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(whole->ion[i].ratio, 1, exact, 0);
        assert_close(whole->ion[i].eaten_mmol_l, start.mmol_l[i], exact, 0);
    }
    why_free(&why);
}

static void with_alkalinity_three_parts_cancel(void **state)
{
    (void)state;
    struct liquid start = salts;
    start.alkalinity_meq_l = 0.83;
    start.mmol_l[ION_NA] += 1.31;
    start = balanced(start);
    (void)simple(4.37, 17.3, &start);
    stage()->drinks_l_d = 2.31;
    for (int i = 0; i < ION_COUNT; i++) {
        stage()->follows[i] = 1;
    }
    struct why why = asked(0, 4.37);
    const double *part = why.intervals[0].tally.part;
    assert_close(why.intervals[0].ec_to_ms_cm, why.intervals[0].ec_from_ms_cm, exact, 0);
    assert_true(part[WHY_OTHER] < -0.005);
    assert_close(part[WHY_EATING] + part[WHY_OTHER], -part[WHY_DRINKING], exact, 0);
    why_free(&why);
}

static void a_plant_that_eats_nothing_raises_ec_by_drinking_alone(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    (void)simple(3.19, 13.7, &start);
    stage()->drinks_l_d = 1.73;
    struct why why = asked(0, 3.19);
    const struct liquid end = stronger(&start, 13.7 / (13.7 - 1.73 * 3.19));
    const struct why_interval *whole = &why.intervals[0];
    assert_close(whole->tally.part[WHY_DRINKING], ec_of(&end) - ec_of(&start), exact, 0);
    assert_close(whole->eaten_share, 0, 0, 1e-12);
    nothing_but(whole, 1U << WHY_DRINKING);
    why_free(&why);
}

static void evaporation_alone_is_evaporation(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    (void)simple(21.7, 11.9, &start);
    scenario.evaporation_l_d = 0.137;
    struct why why = asked(0, 21.7);
    const struct liquid end = stronger(&start, 11.9 / (11.9 - 0.137 * 21.7));
    const struct why_interval *whole = &why.intervals[0];
    assert_close(whole->tally.part[WHY_EVAPORATION], ec_of(&end) - ec_of(&start), exact,
                 0);
    assert_close(whole->tally.evaporated_l, 0.137 * 21.7, 1e-9, 0);
    assert_true(isnan(whole->eaten_share));
    nothing_but(whole, 1U << WHY_EVAPORATION);
    why_free(&why);
}

static void plant_and_air_share_a_rise_by_their_litres(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    (void)simple(5.3, 14.1, &start);
    scenario.evaporation_l_d = 0.41;
    stage()->drinks_l_d = 1.23;
    struct why why = asked(0, 5.3);
    const double *part = why.intervals[0].tally.part;
    assert_close(part[WHY_EVAPORATION] / part[WHY_DRINKING], 0.41 / 1.23, exact, 0);
    why_free(&why);
}

static void a_plain_water_fill_is_water_and_nothing_else(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    struct strategy *strategy = simple(7.1, 18.3, &start);
    scenario.start_l = 7.31;
    strategy->visit_every_d = 6.7;
    strategy->water = (struct liquid){0};
    struct why why = asked(0, 7.1);
    const struct liquid end = stronger(&start, 7.31 / 18.3);
    assert_int_equal(why.interval_count, 3);
    assert_close(why.intervals[0].tally.part[WHY_WATER], ec_of(&end) - ec_of(&start),
                 1e-9, 0);
    assert_close(why.intervals[0].tally.water_l, 18.3 - 7.31, 1e-12, 0);
    nothing_but(&why.intervals[0], 1U << WHY_WATER);
    assert_close(why.intervals[1].to_d, 6.7, 1e-12, 0);
    assert_close(why.intervals[1].ec_before_ms_cm, ec_of(&start), 1e-9, 0);
    assert_close(why.intervals[1].ec_to_ms_cm, ec_of(&end), 1e-9, 0);
    nothing_but(&why.intervals[2], 0);
    why_free(&why);
}

/* Pours of both at once, whichever is named water: the split does not hang on order. */
static void water_and_stock_trade_places(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    const struct liquid weak = stronger(&start, 0.31);
    const struct liquid strong = stronger(&start, 1.9);
    double part[2][WHY_PART_COUNT];
    for (int swapped = 0; swapped < 2; swapped++) {
        struct strategy *strategy = simple(3.1, 18.3, &start);
        scenario.start_l = 6.17;
        strategy->visit_every_d = 2.9;
        strategy->fill.rule = fill_rule_by_name("mix");
        strategy->fill.stock_share = swapped ? 1 - 0.37 : 0.37;
        strategy->water = swapped ? strong : weak;
        strategy->stock = swapped ? weak : strong;
        /* The first fill is made of these. */
        scenario.start_stock_share = swapped ? 0.42 : 1 - 0.42;
        struct why why = asked(0, 3.1);
        memcpy(part[swapped], why.intervals[0].tally.part, sizeof part[swapped]);
        assert_true(why.intervals[0].closure < 1e-9);
        why_free(&why);
    }
    assert_true(part[0][WHY_WATER] < -0.1);
    assert_true(part[0][WHY_STOCK] > 0.1);
    assert_close(part[1][WHY_STOCK], part[0][WHY_WATER], 1e-9, 0);
    assert_close(part[1][WHY_WATER], part[0][WHY_STOCK], 1e-9, 0);
}

static void a_renewal_is_one_cause(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    struct strategy *strategy = simple(9.3, 15.7, &start);
    stage()->drinks_l_d = 1.11;
    strategy->visit_every_d = 4.5;
    strategy->renew_every_d = 8.7;
    strategy->fill.rule = fill_rule_by_name("mix");
    strategy->fill.stock_share = 0.7;
    strategy->renew_stock_share = 0.9;
    strategy->water = stronger(&start, 0.07);
    scenario.start_stock_share = 1;
    struct why why = asked(0, 9.3);
    const struct why_interval *second = &why.intervals[2];
    assert_int_equal(why.interval_count, 4);
    assert_int_equal(second->tally.renewals, 1);
    assert_close(second->tally.part[WHY_RENEWAL],
                 second->ec_to_ms_cm - second->ec_before_ms_cm, 1e-9, 0);
    assert_close(second->tally.drained_l, 15.7 - 4.5 * 1.11, 1e-6, 0);
    assert_close(second->tally.renewal_water_l, 0.1 * 15.7, 1e-6, 0);
    nothing_but(second, 1U << WHY_DRINKING | 1U << WHY_RENEWAL);
    nothing_but(&why.intervals[1],
                1U << WHY_DRINKING | 1U << WHY_WATER | 1U << WHY_STOCK);
    why_free(&why);
}

/* A first filling that needs none, half a bucket; then hard water, and acid against it.
 * Nothing is drunk. */
static void acid_at_a_visit_is_other(void **state)
{
    (void)state;
    struct liquid first = salts;
    first.alkalinity_meq_l = 0.02;
    first = balanced(first);
    struct liquid hard = first;
    hard.alkalinity_meq_l += 3.1;
    hard.mmol_l[ION_CA] += 1.55;
    struct strategy *strategy = simple(2.3, 15.7, &first);
    scenario.start_l = 9.2;
    scenario.start_stock_share = 1;
    strategy->water = balanced(hard);
    strategy->visit_every_d = 2.1;
    strategy->adjust = (struct strategy_adjust){salt_by_formula("HNO3"), 6.4, 5.8};
    assert_close(scenario_start_dose_mmol(&scenario, strategy), 0, 0, 0);
    struct why why = asked(0, 2.3);
    const struct why_interval *whole = &why.intervals[0];
    const struct liquid mixed = liquid_mix(&strategy->water, &first, 9.2 / 15.7);
    assert_true(fabs(whole->tally.part[WHY_OTHER]) > 0.01);
    assert_close(whole->tally.part[WHY_OTHER], whole->ec_to_ms_cm - ec_of(&mixed), 1e-6,
                 1e-9);
    assert_true(whole->tally.poured_mmol[ION_NO3] > 10);
    nothing_but(whole, 1U << WHY_WATER | 1U << WHY_OTHER);
    why_free(&why);
}

static void check_closures(const struct why *why, const char *name)
{
    double sum[WHY_PART_COUNT] = {0};
    for (size_t i = 0; i < why->interval_count; i++) {
        if (!(why->intervals[i].closure < closes)) {
            print_error("%s, %s, stretch %zu: %.2e unexplained\n", name,
                        why->strategy->name, i, why->intervals[i].closure);
            fail();
        }
        for (int part = 0; i > 0 && part < WHY_PART_COUNT; part++) {
            sum[part] += why->intervals[i].tally.part[part];
        }
        if (i > 1) {
            assert_close(why->intervals[i].ec_from_ms_cm,
                         why->intervals[i - 1].ec_to_ms_cm, 0, 0);
        }
    }
    for (int part = 0; why->interval_count > 1 && part < WHY_PART_COUNT; part++) {
        assert_close(sum[part], why->intervals[0].tally.part[part], 1e-9, 1e-9);
    }
}

static void parts_add_up_in_every_shipped_scenario(void **state)
{
    (void)state;
    char path[1024];
    struct error error = {0};
    int lives = 0;
    (void)snprintf(path, sizeof path, "%s/scenarios", catalog_folder());
    DIR *folder = opendir(path);
    assert_non_null(folder);
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        char name[256];
        char *dot = strrchr(entry->d_name, '.');
        if (dot == NULL || strcmp(dot, ".cfg") != 0) {
            continue;
        }
        (void)snprintf(name, sizeof name, "%.*s", (int)(dot - entry->d_name),
                       entry->d_name);
        bench_shipped(&scenario, name);
        for (size_t k = 0; k < scenario.strategy_count; k++) {
            struct why why;
            assert_int_equal(why_run(&why, &scenario, &scenario.strategies[k], 0,
                                     scenario.duration_d, &error),
                             STATUS_OK);
            check_closures(&why, name);
            why_free(&why);
            lives++;
        }
    }
    (void)closedir(folder);
    assert_true(lives >= 25);
}

static void random_life(uint64_t *seed)
{
    static const char *const rules[] = {"water", "stock", "mix", "aim"};
    const struct liquid feed = random_feed(seed);
    const struct liquid start = stronger(&feed, 12 / (1 + ec_of(&feed) * 12));
    struct strategy *strategy =
        simple(random_between(seed, 15, 60), random_between(seed, 6, 40), &start);
    scenario.start_l = scenario.bucket.full_l * random_between(seed, 0.5, 1);
    scenario.evaporation_l_d = random_between(seed, 0, 0.1);
    scenario.start_stock_share = random_unit(seed);
    stage()->drinks_l_d = scenario.bucket.full_l * random_between(seed, 0.01, 0.15);
    for (int i = 0; i < ION_COUNT; i++) {
        stage()->eats_mmol_l[i] =
            i % 2 == 0 ? start.mmol_l[i] * random_between(seed, 0, 1.2) : 0;
        stage()->follows[i] = i % 2 == 1 ? random_between(seed, 0, 1.5) : 0;
    }
    strategy->water = stronger(&start, random_between(seed, 0, 0.3));
    strategy->fill.rule = fill_rule_by_name(rules[(int)(4 * random_unit(seed))]);
    strategy->fill.stock_share = random_unit(seed);
    strategy->fill.aim_ec_ms_cm = random_between(seed, 0.5, 2.5);
    strategy->visit_every_d = random_between(seed, 0.3, 5);
    strategy->renew_every_d =
        random_unit(seed) < 0.5 ? INFINITY : random_between(seed, 4, 20);
    strategy->renew_share = random_between(seed, 0.2, 1);
    if (random_unit(seed) < 0.4) {
        strategy->adjust = (struct strategy_adjust){salt_by_formula("HNO3"), 6.5, 5.9};
    }
}

static void parts_add_up_in_random_lives_between_random_days(void **state)
{
    (void)state;
    uint64_t seed = UINT64_C(0x9e3779b97f4a7c15);
    for (int trial = 0; trial < 60; trial++) {
        random_life(&seed);
        const double from_d = random_between(&seed, 0.05, 0.6) * scenario.duration_d;
        const double to_d = random_between(&seed, 0.7, 1) * scenario.duration_d;
        struct why why = asked(from_d, to_d);
        assert_close(why.intervals[0].from_d, from_d, 1e-12, 0);
        assert_close(why.intervals[0].to_d, to_d, 1e-12, 0);
        check_closures(&why, "random");
        why_free(&why);
    }
}

/* A stretch may be cut anywhere, on a visit and between: the parts of both add up. */
static void two_stretches_add_up_to_one(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    const double cuts[] = {30.25, 31.417, 36.75};
    for (size_t k = 0; k < 3; k++) {
        struct why whole = asked(21.3, 44.1);
        struct why before = asked(21.3, cuts[k]);
        struct why after = asked(cuts[k], 44.1);
        const struct why_interval *first = &before.intervals[0];
        const struct why_interval *second = &after.intervals[0];
        assert_close(first->ec_to_ms_cm, second->ec_from_ms_cm, 1e-12, 0);
        assert_int_equal(first->tally.visits + second->tally.visits,
                         whole.intervals[0].tally.visits);
        for (int i = 0; i < WHY_PART_COUNT; i++) {
            assert_close(first->tally.part[i] + second->tally.part[i],
                         whole.intervals[0].tally.part[i], 1e-4, 1e-6);
        }
        why_free(&whole);
        why_free(&before);
        why_free(&after);
    }
}

static void a_day_between_samples_is_met_exactly(void **state)
{
    (void)state;
    const struct liquid start = balanced(salts);
    (void)simple(9, 13.7, &start);
    stage()->drinks_l_d = 0.73;
    struct why why = asked(2.71828, 6.28319);
    const struct liquid from = stronger(&start, 13.7 / (13.7 - 0.73 * 2.71828));
    const struct liquid to = stronger(&start, 13.7 / (13.7 - 0.73 * 6.28319));
    assert_close(why.intervals[0].ec_from_ms_cm, ec_of(&from), 1e-8, 0);
    assert_close(why.intervals[0].ec_to_ms_cm, ec_of(&to), 1e-8, 0);
    assert_close(why.intervals[0].tally.drunk_l, 0.73 * (6.28319 - 2.71828), 1e-7, 0);
    why_free(&why);
}

static void a_bucket_run_dry_is_split_all_the_same(void **state)
{
    (void)state;
    struct liquid start = balanced(salts);
    start = stronger(&start, 0.05);
    (void)simple(30, 6.1, &start);
    scenario.crop.root_start_cm = 1000;
    stage()->drinks_l_d = 0.9;
    struct why why = asked(0, 30);
    const struct why_interval *whole = &why.intervals[0];
    assert_true(whole->tally.drunk_l > 4);
    assert_true(whole->closure < closes);
    assert_true(isfinite(whole->ec_to_ms_cm));
    why_free(&why);
}

/* Last of all: a process once asked to stop lives no more. */
static void a_stop_is_told_and_leaves_what_there_is(void **state)
{
    (void)state;
    struct why why;
    struct error error = {0};
    bench_shipped(&scenario, "first-bucket");
    life_request_stop();
    assert_int_equal(why_run(&why, &scenario, &scenario.strategies[1], 0, 30, &error),
                     STATUS_STOPPED);
    assert_int_equal(why.interval_count, 1);
    assert_close(why.intervals[0].to_d, 0, 0, 0);
    assert_close(why.intervals[0].closure, 0, 0, 0);
    nothing_but(&why.intervals[0], 0);
    why_free(&why);
    assert_int_equal(why_run(&why, &scenario, &scenario.strategies[1], 7, 30, &error),
                     STATUS_STOPPED);
    assert_int_equal(why.interval_count, 0);
    why_free(&why);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_eats_all_it_drinks_leaves_ec_where_it_was),
        cmocka_unit_test(with_alkalinity_three_parts_cancel),
        cmocka_unit_test(a_plant_that_eats_nothing_raises_ec_by_drinking_alone),
        cmocka_unit_test(evaporation_alone_is_evaporation),
        cmocka_unit_test(plant_and_air_share_a_rise_by_their_litres),
        cmocka_unit_test(a_plain_water_fill_is_water_and_nothing_else),
        cmocka_unit_test(water_and_stock_trade_places),
        cmocka_unit_test(a_renewal_is_one_cause),
        cmocka_unit_test(acid_at_a_visit_is_other),
        cmocka_unit_test(parts_add_up_in_every_shipped_scenario),
        cmocka_unit_test(parts_add_up_in_random_lives_between_random_days),
        cmocka_unit_test(two_stretches_add_up_to_one),
        cmocka_unit_test(a_day_between_samples_is_met_exactly),
        cmocka_unit_test(a_bucket_run_dry_is_split_all_the_same),
        cmocka_unit_test(a_stop_is_told_and_leaves_what_there_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
