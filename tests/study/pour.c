/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/chem/carbonate.h"
#include "pailcast/scenario/reader.h"
#include "pailcast/study/outage.h"
#include "pailcast/study/pour.h"

/* A small generator of fixed sequence, so that runs repeat. */
static double drawn(double low, double high)
{
    static uint64_t state = 88172645463325252ULL;
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return low + (high - low) * (double)(state >> 11) / 9007199254740992.0;
}

static struct pour_case case_of(double volume_l, double full_l, double ec, double aim,
                                double water_ec, double stock_ec)
{
    const struct pour_kit kit = pour_kit_by_pen();
    const struct pour_readings readings = {.volume_l = volume_l,
                                           .full_l = full_l,
                                           .ec_ms_cm = ec,
                                           .aim_ec_ms_cm = aim,
                                           .water_ec_ms_cm = water_ec,
                                           .stock_ec_ms_cm = stock_ec,
                                           .ph = NAN};
    return pour_case_of(&kit, &readings);
}

/* Thousands of visits drawn at random: what is poured and drained fits the bucket,
 * nothing is negative, and the aim is reached whenever it is said to be. */
static void any_plan_fits_the_bucket_and_keeps_its_word(void **state)
{
    (void)state;
    int outcomes[4] = {0};
    for (int i = 0; i < 3000; i++) {
        const double full = drawn(3, 60);
        const double volume = full * drawn(0.02, 1);
        const double aim = drawn(0.3, 3.2);
        const struct pour_case now =
            case_of(volume, full, drawn(0.2, 5), aim, drawn(0.02, 0.8), drawn(0.9, 4));
        const struct pour_plan plan = pour_plan_of(&now);
        outcomes[plan.outcome]++;
        assert_true(plan.drain_l >= 0 && plan.water_l >= 0 && plan.stock_l >= 0 &&
                    plan.salt_l >= 0);
        assert_true(plan.drain_l <= volume + 1e-9);
        assert_close(volume - plan.drain_l + plan.water_l + plan.stock_l, full, 1e-6, 0);
        const double read =
            pour_ec_ms_cm(&now, plan.drain_l, plan.water_l, plan.stock_l, plan.salt_l);
        assert_close(read, plan.ec_after_ms_cm, 1e-6, 0);
        if (plan.outcome == POUR_REACHED) {
            assert_true(plan.drain_l <= 0 && plan.salt_l <= 0);
            assert_close(read, aim, 0.005, 0);
        } else if (plan.outcome == POUR_TOO_STRONG) {
            assert_true(plan.ec_poured_ms_cm > aim);
            assert_close(read, aim, 0.005, 0);
        } else if (plan.outcome == POUR_TOO_WEAK) {
            assert_true(plan.ec_poured_ms_cm < aim);
        }
    }
    for (int outcome = POUR_REACHED; outcome <= POUR_TOO_WEAK; outcome++) {
        assert_true(outcomes[outcome] > 100);
    }
}

/* The same by ions: buckets that drifted away from any feed, hard waters, stocks of odd
 * recipes, known by the proportions of their ions and read by a pen. */
static void by_ions_too_a_plan_keeps_its_word(void **state)
{
    (void)state;
    int outcomes[4] = {0};
    for (int i = 0; i < 2000; i++) {
        struct pour_kit kit = pour_kit_by_pen();
        struct liquid *odd[] = {&kit.bucket, &kit.water, &kit.stock};
        for (int k = 0; k < 3; k++) {
            for (int ion = 0; ion < ION_COUNT; ion++) {
                odd[k]->mmol_l[ion] = drawn(0, ion == ION_P ? 2 : 6);
            }
            odd[k]->alkalinity_meq_l = 0;
            const double charge = liquid_charge_meq_l(odd[k]);
            odd[k]->mmol_l[charge > 0 ? ION_CL : ION_K] += fabs(charge);
        }
        kit.has_stock = true;
        const double full = drawn(3, 60);
        const struct pour_readings readings = {
            .volume_l = full * drawn(0, 1),
            .full_l = full,
            .ec_ms_cm = drawn(0.2, 5),
            .aim_ec_ms_cm = drawn(0.3, 3.2),
            .water_ec_ms_cm = drawn(0.02, 0.8),
            .stock_ec_ms_cm = drawn(0.9, 4),
            .ph = NAN,
        };
        const struct pour_case now = pour_case_of(&kit, &readings);
        const struct pour_plan plan = pour_plan_of(&now);
        struct pour_step steps[POUR_STEPS_MAX];
        const size_t count = pour_steps_of(steps, &now, &plan, 0);
        outcomes[plan.outcome]++;
        assert_true(plan.drain_l >= 0 && plan.water_l >= 0 && plan.stock_l >= 0 &&
                    plan.salt_l >= 0);
        assert_close(readings.volume_l - plan.drain_l + plan.water_l + plan.stock_l, full,
                     1e-9, 0);
        if (plan.outcome == POUR_WATER_TOO_STRONG) {
            assert_true(plan.ec_after_ms_cm > readings.aim_ec_ms_cm);
        } else {
            assert_close(plan.ec_after_ms_cm, readings.aim_ec_ms_cm, 0.005, 0);
        }
        assert_true((plan.outcome == POUR_TOO_STRONG) == (plan.drain_l > 0));
        assert_true((plan.outcome == POUR_TOO_WEAK) == (plan.salt_l > 0));
        assert_true(count == 0 || fabs(steps[count - 1].holds_l - full) < 1e-6 * full);
    }
    for (int outcome = POUR_REACHED; outcome <= POUR_TOO_WEAK; outcome++) {
        assert_true(outcomes[outcome] > 50);
    }
}

/* What the curve is for: halves of a strong bucket and pure water read more than half,
 * since EC rises slower than salt. Hoagland no. 1: full strength 2.15, half 1.14 (middle
 * of five computations). */
static void a_half_of_a_strong_bucket_reads_more_than_half(void **state)
{
    (void)state;
    const struct pour_case now = case_of(9.5, 19, 2.15, 1.0, NAN, NAN);
    const double half = pour_ec_ms_cm(&now, 0, 9.5, 0, 0);
    assert_close(half, 1.14, 0.02, 0);
}

/* Mixing by hand: concentrations of a water, a stock and what is in the bucket. */
static void a_pour_mixes_as_a_balance_says(void **state)
{
    (void)state;
    const struct pour_case now = case_of(7.3, 18.9, 2.31, 1.7, 0.21, 2.05);
    struct liquid mixed = {0};
    const double water = 4.45, stock = 7.15;
    for (int i = 0; i < ION_COUNT; i++) {
        mixed.mmol_l[i] = (now.bucket.mmol_l[i] * 7.3 + now.water.mmol_l[i] * water +
                           now.stock.mmol_l[i] * stock) /
                          18.9;
    }
    mixed.alkalinity_meq_l =
        (now.bucket.alkalinity_meq_l * 7.3 + now.water.alkalinity_meq_l * water +
         now.stock.alkalinity_meq_l * stock) /
        18.9;
    assert_close(pour_ec_ms_cm(&now, 0, water, stock, 0),
                 pen_read(&now.pen, &mixed).ec_ms_cm, 1e-9, 0);
}

/* Drain x of V, fill up with pure water: every concentration falls to (V - x)/full. */
static void drain_and_fill_follow_their_closed_form(void **state)
{
    (void)state;
    const struct pour_case now = case_of(16.2, 18.9, 3.4, 1.5, 0.0, 2.0);
    const struct pour_plan plan = pour_plan_of(&now);
    assert_int_equal(plan.outcome, POUR_TOO_STRONG);
    struct liquid left = now.bucket;
    const double kept = (16.2 - plan.drain_l) / 18.9;
    for (int i = 0; i < ION_COUNT; i++) {
        left.mmol_l[i] *= kept;
    }
    left.alkalinity_meq_l *= kept;
    assert_close(pen_read(&now.pen, &left).ec_ms_cm, 1.5, 0.005, 0);
    assert_close(plan.stock_l, 0, 0, 0);
}

static void the_feed_of_the_pen_is_the_shipped_one(void **state)
{
    (void)state;
    struct error error = {0};
    char name[TEXT_NAME_SIZE];
    struct liquid shipped = {0};
    double weighed_g_l;
    struct recipe recipe = {0};
    assert_int_equal(reader_recipe(&shipped, &recipe, name, "fruiting_full", &error),
                     STATUS_OK);
    const struct liquid feed = pour_kit_feed(&weighed_g_l);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(feed.mmol_l[i], shipped.mmol_l[i], 1e-6, 0);
    }
    assert_true(weighed_g_l > liquid_salt_g_l(&feed));
}

static void each_liquid_reads_what_the_pen_said_of_it(void **state)
{
    (void)state;
    const struct pour_case now = case_of(9.1, 18.9, 2.31, 1.7, 0.21, 2.05);
    assert_close(pen_read(&now.pen, &now.bucket).ec_ms_cm, 2.31, 1e-3, 0);
    assert_close(pen_read(&now.pen, &now.water).ec_ms_cm, 0.21, 1e-3, 0);
    assert_close(pen_read(&now.pen, &now.stock).ec_ms_cm, 2.05, 1e-3, 0);
}

/* 3.0 before and 1.16 after a fill with pure water: about 0.39 full, with about 0.61 of
 * what a full bucket at 1.9 would hold (common practice, no source). */
static void two_readings_tell_how_full_the_bucket_was(void **state)
{
    (void)state;
    const struct pour_kit kit = pour_kit_by_pen();
    const struct pour_guess guess = pour_guess_of(&kit, 3.0, 1.16, 0, 1.9, 0);
    assert_close(guess.filled, 0.39, 0, 0.005);
    assert_close(guess.salt_left, 0.61, 0, 0.005);
    const struct pour_guess vague = pour_guess_of(&kit, 3.0, 1.16, 0, 1.9, 0.1);
    assert_true(vague.filled_low < guess.filled && guess.filled < vague.filled_high);
    assert_true(guess.filled_by_curve < guess.filled);
}

static void steps_weaken_first_and_add_up(void **state)
{
    (void)state;
    const struct pour_case now = case_of(7.4, 19, 3.0, 1.9, 0.15, 1.95);
    const struct pour_plan plan = pour_plan_of(&now);
    struct pour_step steps[POUR_STEPS_MAX];
    const size_t count = pour_steps_of(steps, &now, &plan, 0);
    double water = 0, stock = 0;
    assert_int_equal(steps[0].act, POUR_WATER);
    for (size_t i = 0; i < count; i++) {
        water += steps[i].act == POUR_WATER ? steps[i].amount_l : 0;
        stock += steps[i].act == POUR_STOCK ? steps[i].amount_l : 0;
    }
    assert_close(water, plan.water_l, 1e-9, 0);
    assert_close(stock, plan.stock_l, 1e-9, 0);
    assert_close(steps[count - 1].holds_l, 19, 1e-9, 0);
    assert_close(steps[count - 1].reads_ms_cm, plan.ec_after_ms_cm, 1e-6, 0);
}

/* A bucket of 3.0 thinned to 1.87 by water: the stock, 1.95, then moves the pen by 0.03
 * in all. An empty bucket filled with stock alone reads the same after either half. */
static void what_the_pen_cannot_tell_apart_is_poured_at_once(void **state)
{
    (void)state;
    struct pour_step steps[POUR_STEPS_MAX];
    struct pour_case now = case_of(7.4, 19, 3.0, 1.9, 0.15, 1.95);
    struct pour_plan plan = pour_plan_of(&now);
    assert_int_equal(pour_steps_of(steps, &now, &plan, 0), 2);
    assert_close(steps[1].amount_l, plan.stock_l, 1e-12, 0);
    now = case_of(0, 19, NAN, 1.95, 0.15, 1.95);
    plan = pour_plan_of(&now);
    assert_int_equal(pour_steps_of(steps, &now, &plan, 0), 1);
    now = case_of(7.4, 19, 1.1, 1.5, 0.15, 1.95);
    plan = pour_plan_of(&now);
    assert_int_equal(pour_steps_of(steps, &now, &plan, 0), 3);
    const double moved = steps[2].reads_ms_cm - steps[1].reads_ms_cm;
    assert_int_equal(pour_steps_of(steps, &now, &plan, 0.99 * moved), 3);
    assert_int_equal(pour_steps_of(steps, &now, &plan, 1.01 * moved), 2);
}

static void a_worse_pen_leaves_more_open(void **state)
{
    (void)state;
    const struct pour_kit kit = pour_kit_by_pen();
    const struct pour_readings readings = {7.4, 19, 3.0, 1.9, 0.15, 1.95, NAN};
    const struct pour_case now = pour_case_of(&kit, &readings);
    const struct pour_plan plan = pour_plan_of(&now);
    const struct pour_range fine = pour_range_of(&kit, &readings, &plan, 0.02);
    const struct pour_range coarse = pour_range_of(&kit, &readings, &plan, 0.1);
    assert_true(fine.water_low_l < plan.water_l && plan.water_l < fine.water_high_l);
    assert_true(coarse.water_high_l - coarse.water_low_l >
                fine.water_high_l - fine.water_low_l);
    assert_true(fine.ec_low_ms_cm < 1.9 && fine.ec_high_ms_cm > 1.9);
}

/* A bucket of hard water and feed, a strategy that takes acid at 6.4 down to 6. */
static struct pour_kit kit_with_acid(void)
{
    struct pour_kit kit = pour_kit_by_pen();
    salt_dissolve(&kit.water, salt_by_formula("KHCO3"), 0.31);
    kit.bucket = liquid_mix(&kit.bucket, &kit.water, 0.5);
    kit.adjust = (struct strategy_adjust){salt_by_formula("HNO3"), 6.4, 6.0};
    return kit;
}

static void the_bucket_reads_what_both_pens_said(void **state)
{
    (void)state;
    const struct pour_kit kit = kit_with_acid();
    for (double ph = 4.3; ph < 8; ph += 0.9) {
        for (double ec = 0.7; ec < 4; ec += 0.7) {
            const struct liquid liquid = pour_kit_read(&kit.bucket, ec, ph, &kit.pen);
            const struct pen_reading read = pen_read(&kit.pen, &liquid);
            assert_close(read.ec_ms_cm, ec, 1e-6, 0);
            assert_close(read.ph, ph, 0, 1e-3);
        }
    }
    const struct liquid same = pour_kit_read(&kit.bucket, NAN, NAN, &kit.pen);
    assert_memory_equal(&same, &kit.bucket, sizeof same);
}

/* The dose, stirred into the mixture by hand, brings the pH asked for; a mole of acid
 * takes an equivalent of alkalinity. HNO3 is 63.012 g/mol (IUPAC 2021, abridged). */
static void acid_is_told_for_what_the_pour_leaves(void **state)
{
    (void)state;
    const struct pour_kit kit = kit_with_acid();
    const struct pour_readings readings = {6.3, 11.7, 2.1, 1.6, NAN, 1.95, 6.9};
    const struct pour_case now = pour_case_of(&kit, &readings);
    const struct pour_plan plan = pour_plan_of(&now);
    const struct pour_ph ph = pour_ph_of(&now, &plan);
    struct liquid mixed =
        pour_mixed(&now, plan.drain_l, plan.water_l, plan.stock_l, plan.salt_l);
    assert_close(ph.before, 6.9, 0, 1e-3);
    assert_close(ph.poured, pen_read(&kit.pen, &mixed).ph, 1e-12, 0);
    assert_true(ph.poured > 6.9); /* hard water */
    assert_close(ph.after, 6, 0, 1e-2);
    assert_close(ph.dose_g, ph.dose_mmol * 63.012e-3, 1e-9, 0);
    const double asked_meq_l =
        mixed.alkalinity_meq_l -
        speciation_alkalinity_at(&mixed, 6, &kit.pen.equilibrium, kit.pen.co2_ppm);
    assert_close(ph.dose_mmol / 11.7, asked_meq_l, 0.02, 0);
    salt_dissolve(&mixed, kit.adjust.with, ph.dose_g / 11.7);
    assert_close(pen_read(&kit.pen, &mixed).ph, ph.after, 1e-9, 0);
}

/* The acid of the fact above meets bicarbonate, which is CO2 until it has left: the pen
 * reads far less at once. A base without carbonate takes up CO2 and reads more at once;
 * bicarbonate brings its own and gives it off. */
static void the_pen_reads_otherwise_until_carbon_dioxide_has_settled(void **state)
{
    (void)state;
    struct pour_kit kit = kit_with_acid();
    const struct pour_readings hard = {6.3, 11.7, 2.1, 1.6, NAN, 1.95, 6.9};
    struct pour_case now = pour_case_of(&kit, &hard);
    struct pour_plan plan = pour_plan_of(&now);
    struct pour_ph ph = pour_ph_of(&now, &plan);
    struct liquid mixed =
        pour_mixed(&now, plan.drain_l, plan.water_l, plan.stock_l, plan.salt_l);
    const struct speciation before =
        speciation_solve(&mixed, &kit.pen.equilibrium, kit.pen.co2_ppm);
    salt_dissolve(&mixed, kit.adjust.with, ph.dose_g / 11.7);
    const struct speciation closed =
        carbonate_closed(&mixed, &kit.pen.equilibrium, carbonate_mol_l(&before));
    assert_close(ph.at_once, closed.ph, 1e-9, 0);
    assert_true(ph.at_once < ph.after - 0.3);
    assert_close(ph.ec_at_once_ms_cm, ph.ec_after_ms_cm, 0.01, 0);

    const struct pour_readings acid = {6.3, 11.7, 2.1, 1.6, NAN, 1.95, 4.1};
    kit.water = (struct liquid){0};
    kit.adjust = (struct strategy_adjust){salt_by_formula("KOH"), 5.6, 7.4};
    now = pour_case_of(&kit, &acid);
    plan = pour_plan_of(&now);
    ph = pour_ph_of(&now, &plan);
    assert_true(ph.dose_mmol > 0 && ph.at_once > ph.after + 0.05);
    kit.adjust.with = salt_by_formula("KHCO3");
    now = pour_case_of(&kit, &acid);
    ph = pour_ph_of(&now, &plan);
    assert_true(ph.dose_mmol > 0 && ph.at_once < ph.after - 0.05);
}

static void below_the_limit_of_the_strategy_no_acid_is_asked_for(void **state)
{
    (void)state;
    struct pour_kit kit = kit_with_acid();
    kit.water = (struct liquid){0};
    const struct pour_readings readings = {6.3, 11.7, 2.1, 1.6, NAN, 1.95, 5.7};
    const struct pour_case now = pour_case_of(&kit, &readings);
    const struct pour_plan plan = pour_plan_of(&now);
    const struct pour_ph ph = pour_ph_of(&now, &plan);
    assert_true(ph.poured < 6.4);
    assert_close(ph.dose_mmol, 0, 0, 0);
    assert_close(ph.after, ph.poured, 1e-12, 0);
    assert_close(ph.at_once, ph.poured, 0, 1e-6);
}

/* V DO / respiration, with the saturation of Benson & Krause 1984: 8.74 mg/L at 22 degC.
 */
static void the_oxygen_reserve_is_volume_over_respiration(void **state)
{
    (void)state;
    const struct outage outage = outage_of(12.7, 22, 18.4);
    const struct outage twice = outage_of(2 * 12.7, 22, 18.4);
    assert_close(outage.saturation_mg_l, 8.74, 0, 0.02);
    assert_close(twice.reserve_h, 2 * outage.reserve_h, 1e-9, 0);
    assert_close(outage.empty_h / outage.reserve_h,
                 outage.saturation_mg_l / (outage.saturation_mg_l - outage_floor_mg_l),
                 1e-9, 0);
    assert_true(isinf(outage_of(12.7, 22, 0).reserve_h));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_plan_fits_the_bucket_and_keeps_its_word),
        cmocka_unit_test(by_ions_too_a_plan_keeps_its_word),
        cmocka_unit_test(a_half_of_a_strong_bucket_reads_more_than_half),
        cmocka_unit_test(a_pour_mixes_as_a_balance_says),
        cmocka_unit_test(drain_and_fill_follow_their_closed_form),
        cmocka_unit_test(the_feed_of_the_pen_is_the_shipped_one),
        cmocka_unit_test(each_liquid_reads_what_the_pen_said_of_it),
        cmocka_unit_test(two_readings_tell_how_full_the_bucket_was),
        cmocka_unit_test(steps_weaken_first_and_add_up),
        cmocka_unit_test(what_the_pen_cannot_tell_apart_is_poured_at_once),
        cmocka_unit_test(a_worse_pen_leaves_more_open),
        cmocka_unit_test(the_bucket_reads_what_both_pens_said),
        cmocka_unit_test(acid_is_told_for_what_the_pour_leaves),
        cmocka_unit_test(the_pen_reads_otherwise_until_carbon_dioxide_has_settled),
        cmocka_unit_test(below_the_limit_of_the_strategy_no_acid_is_asked_for),
        cmocka_unit_test(the_oxygen_reserve_is_volume_over_respiration),
    };
    return cmocka_run_group_tests_name("pour", tests, NULL, NULL);
}
