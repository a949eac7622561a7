/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logbooks with a slip of the pencil, and with what only looks like one. */
#include "support/close.h"

#include <math.h>
#include <string.h>

#include "pailcast/study/fit.h"
#include "pailcast/study/keep.h"
#include "support/bench.h"

static struct scenario scenario;

static const struct fit_plan looking_back = {.ahead_d = 0};

/* Two months of a bucket that drinks more and eats less than its crop. */
static void keep(struct logbook *logbook)
{
    const double z[FIT_UNKNOWNS] = {0.62, -0.41, 0.33, 0.28, -0.37, 0.24};
    static struct scenario truth;
    struct life life;
    bench_shipped(&scenario, "first-bucket");
    scenario.strategies[0] = scenario.strategies[1];
    scenario.duration_d = 62.3;
    fit_world(&truth, &scenario, z);
    bench_live(&life, &truth, 0);
    assert_int_equal(keep_logbook(logbook, &life, &truth, &keep_noise_usual, 23, NULL),
                     STATUS_OK);
    life_free(&life);
    assert_int_equal(logbook->count, 21);
}

static void learn(struct fit *fit, const struct logbook *logbook)
{
    assert_int_equal(
        fit_run(fit, &scenario, &scenario.strategies[0], logbook, &looking_back, NULL),
        STATUS_OK);
}

static size_t aside_count(const struct fit *fit)
{
    size_t count = 0;
    for (size_t i = 0; i < fit->readings; i++) {
        count += fit->list[i].aside;
    }
    return count;
}

static bool remarked(const struct fit *fit, const char *words)
{
    for (size_t i = 0; i < fit->remark_count; i++) {
        if (strstr(fit->remarks[i], words) != NULL) {
            return true;
        }
    }
    return false;
}

/* A lost decimal point: what is learned is what is learned without that reading. */
static void a_slip_is_learned_from_as_if_it_were_not_there(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit spoiled;
    struct fit without;
    keep(&logbook);
    const double right_ms_cm = logbook.rows[9].ec_ms_cm;
    logbook.rows[9].ec_ms_cm = 10 * right_ms_cm;
    learn(&spoiled, &logbook);
    logbook.rows[9].ec_ms_cm = NAN;
    learn(&without, &logbook);
    assert_int_equal(aside_count(&spoiled), 1);
    assert_int_equal(aside_count(&without), 0);
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        assert_close(spoiled.value[k].low, without.value[k].low, 1e-3, 1e-4);
        assert_close(spoiled.value[k].estimate, without.value[k].estimate, 1e-3, 1e-4);
        assert_close(spoiled.value[k].high, without.value[k].high, 1e-3, 1e-4);
    }
    assert_true(spoiled.value[FIT_DRINKING].identifiable);
    assert_true(remarked(&spoiled, "Set aside, as no bucket explains it"));
    assert_true(remarked(&spoiled, ": EC on day "));
    fit_free(&spoiled);
    fit_free(&without);
    logbook_free(&logbook);
}

/* It is told with how far off it was, and the pencil is its first cause. */
static void a_slip_is_the_only_surprise_and_the_pencil_its_first_cause(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    logbook.rows[13].ph -= 2; /* a tenth is noise */
    learn(&fit, &logbook);
    assert_int_equal(fit.surprise_count, 1);
    const struct fit_surprise *surprise = &fit.surprises[0];
    assert_close(surprise->day_d, logbook.rows[13].day_d, 0, 0);
    assert_true(surprise->aside[FIT_PH] && !surprise->aside[FIT_EC]);
    assert_non_null(strstr(surprise->what, "pH lower than expected, by "));
    assert_true(surprise->cause_count > 1);
    assert_non_null(strstr(surprise->causes[0], "a slip of the pencil"));
    assert_non_null(
        strstr(surprise->causes[surprise->cause_count - 1], "the pH pen in its buffers"));
    size_t odd = 0;
    for (size_t i = 0; i < fit.readings; i++) {
        odd += fit_is_odd(&fit, i);
        if (fit.list[i].aside) {
            assert_int_equal(fit.list[i].row, 13);
            assert_int_equal(fit.list[i].kind, FIT_PH);
            assert_close(fit_residual(&fit, i), -20, 0.2, 0);
        }
    }
    assert_int_equal(odd, 1);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* The last readings of a kind may be the first sign of something: two later ones must
 * gainsay what is set aside. */
static void what_no_later_readings_gainsay_is_kept(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    for (size_t back = 1; back <= 3; back++) {
        keep(&logbook);
        logbook.rows[logbook.count - back].ec_ms_cm *= 0.4;
        learn(&fit, &logbook);
        assert_int_equal(aside_count(&fit), back == 3);
        assert_true(fit.surprise_count > 0);
        fit_free(&fit);
        logbook_free(&logbook);
    }
}

/* Three tenths of the bucket leak out on day 30; the level is read at every fifth visit,
 * twice before and twice after. */
static void of_what_is_seldom_read_nothing_is_set_aside(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    for (size_t i = 0; i < logbook.count; i++) {
        struct logbook_row *row = &logbook.rows[i];
        row->volume_l = NAN;
        row->level_cm = i % 5 == 0 ? row->level_cm : NAN;
    }
    logbook.rows[10].level_cm -= 7;
    learn(&fit, &logbook);
    assert_int_equal(aside_count(&fit), 0);
    assert_true(fit.surprise_count > 0);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* A pH pen read after the dose at every sixth visit is no slip of the pencil. */
static void what_comes_back_again_and_again_is_not_set_aside(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    for (size_t i = 2; i < 18; i += 6) {
        logbook.rows[i].ph += 1.3;
    }
    learn(&fit, &logbook);
    assert_int_equal(aside_count(&fit), 0);
    fit_free(&fit);
    logbook_free(&logbook);
}

static void several_slips_apart_are_all_found(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    logbook.rows[0].ec_ms_cm *= 10;
    logbook.rows[7].level_cm += 4;
    logbook.rows[7].volume_l = NAN;
    logbook.rows[11].ec_ms_cm += 0.6;
    logbook.rows[11].ph = 5.1;
    learn(&fit, &logbook);
    assert_int_equal(aside_count(&fit), 4);
    assert_true(fit.misfit < 1.5);
    assert_true(remarked(&fit, "EC on day 0"));
    fit_free(&fit);
    logbook_free(&logbook);
}

/* Something that goes on, here a pen that reads higher from one day on, or water that
 * came in, is no slip: all readings count, and the intervals widen. */
static void what_goes_on_is_not_set_aside(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    for (size_t i = 12; i < 15; i++) {
        logbook.rows[i].ec_ms_cm += 0.9;
    }
    learn(&fit, &logbook);
    assert_int_equal(aside_count(&fit), 0);
    assert_false(remarked(&fit, "Set aside"));
    assert_true(remarked(&fit, "all intervals are widened"));
    assert_true(fit.surprise_count > 0);
    fit_free(&fit);
    logbook_free(&logbook);
}

/* With few readings one cannot say which of them is wrong. */
static void of_few_readings_none_is_set_aside(void **state)
{
    (void)state;
    struct logbook logbook;
    struct fit fit;
    keep(&logbook);
    logbook.count = 4; /* of three readings each */
    logbook.rows[2].ec_ms_cm *= 10;
    learn(&fit, &logbook);
    assert_int_equal(fit.readings, 12);
    assert_int_equal(aside_count(&fit), 0);
    fit_free(&fit);
    logbook_free(&logbook);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_slip_is_learned_from_as_if_it_were_not_there),
        cmocka_unit_test(a_slip_is_the_only_surprise_and_the_pencil_its_first_cause),
        cmocka_unit_test(what_no_later_readings_gainsay_is_kept),
        cmocka_unit_test(of_what_is_seldom_read_nothing_is_set_aside),
        cmocka_unit_test(what_comes_back_again_and_again_is_not_set_aside),
        cmocka_unit_test(several_slips_apart_are_all_found),
        cmocka_unit_test(what_goes_on_is_not_set_aside),
        cmocka_unit_test(of_few_readings_none_is_set_aside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
