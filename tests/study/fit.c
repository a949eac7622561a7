/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logbooks of invented buckets, whose truth is known, learned from. FIT_LOGBOOKS in the
 * environment asks for more of them and a table: make check-fit, make study-fit. */
#include "support/close.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

#include "pailcast/study/fit.h"
#include "pailcast/study/keep.h"
#include "support/bench.h"

static struct scenario scenario; /* as the grower wrote it */
static struct scenario truth;    /* as the bucket is */

static const struct fit_plan fortnight = {.ahead_d = 14};
static const struct fit_plan looking_back = {.ahead_d = 0};
static const double logged_d = 60;
static const double leak_from_d = 42.1;

struct tally {
    int covered[FIT_UNKNOWNS], identified[FIT_UNKNOWNS];
    int band_ec, band_volume, band_count;
    int alarmed, leaks_named, slips_alone, slips_held, count;
    double *drinking, *eating; /* absolute relative errors */
};

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

static double truth_of(int unknown)
{
    const double value[FIT_UNKNOWNS] = {
        truth.learned.plant.drinking, truth.learned.plant.eating,
        truth.learned.plant.growth,   scenario_start_share(&truth),
        truth.learned.evaporation,    truth.learned.pen_offset_ms_cm};
    return value[unknown];
}

/* A reading every third day for sixty days, and two weeks more that the fit is not shown.
 * leak_l_d: solution lost from leak_from_d on, once a day, which nobody notes. */
static void keep_truth(struct logbook *logbook, unsigned seed, double leak_l_d)
{
    enum {
        ENTRIES = 256
    };
    static struct hands_entry entries[ENTRIES];
    struct life life;
    bench_live(&life, &truth, 0);
    size_t count = 0;
    double leaked_l = 0;
    double day_d = leak_from_d;
    if (leak_l_d > 0) {
        /* The visits as they were, the grower replacing what is missing. */
        for (size_t i = 0; i < life.trajectory.visit_count; i++) {
            const struct visit_record *visit = &life.trajectory.visits[i];
            for (; day_d < visit->day_d && day_d < 51; day_d += 1) {
                entries[count++] = (struct hands_entry){day_d, {leak_l_d, 0, 0, 0}};
                leaked_l += leak_l_d;
            }
            entries[count++] = (struct hands_entry){
                visit->day_d,
                {visit->drained_l, visit->water_l + leaked_l, visit->stock_l, 0}};
            leaked_l = 0;
        }
        const struct hands_log log = {entries, count, NULL};
        const struct hands hands = hands_log(&log);
        life_free(&life);
        assert_int_equal(life_run_by(&life, &truth, &truth.strategies[0], &hands, NULL),
                         STATUS_OK);
        /* Only the visits are noted. */
        size_t kept = 0;
        for (size_t i = 0; i < life.trajectory.visit_count; i++) {
            if (life.trajectory.visits[i].drained_l != leak_l_d) {
                life.trajectory.visits[kept++] = life.trajectory.visits[i];
            }
        }
        life.trajectory.visit_count = kept;
    }
    assert_int_equal(keep_logbook(logbook, &life, &truth, &keep_noise_usual, seed, NULL),
                     STATUS_OK);
    life_free(&life);
}

static size_t rows_until(const struct logbook *logbook, double day_d)
{
    size_t rows = 0;
    while (rows < logbook->count && logbook->rows[rows].day_d <= day_d) {
        rows++;
    }
    return rows;
}

static void judge_forecast(struct tally *tally, const struct fit *fit,
                           const struct logbook *all)
{
    for (size_t i = fit->logbook->count; i < all->count; i++) {
        for (size_t k = 0; k < fit->moment_count; k++) {
            /* Bands are of moments at visits: the sample before the visit. */
            const struct fit_moment *day = &fit->moments[k];
            const struct logbook_row *row = &all->rows[i];
            if (fabs(day->day_d - row->day_d) < 1e-6) {
                tally->band_count++;
                tally->band_ec += row->ec_ms_cm >= day->ec_ms_cm.low &&
                                  row->ec_ms_cm <= day->ec_ms_cm.high;
                tally->band_volume += row->volume_l >= day->volume_l.low &&
                                      row->volume_l <= day->volume_l.high;
            }
        }
    }
}

/* Whether a leak is among the likely causes of something odd after it began. */
static bool leak_named(const struct fit *fit)
{
    for (size_t i = 0; i < fit->surprise_count; i++) {
        const struct fit_surprise *surprise = &fit->surprises[i];
        for (size_t c = 0; surprise->day_d > leak_from_d && c < surprise->cause_count;
             c++) {
            if (strstr(surprise->causes[c], "leak") != NULL) {
                return true;
            }
        }
    }
    return false;
}

/* One number of one entry written wrong: a decimal point of the EC, or a whole pH.
 * Whether it alone is set aside, and drinking held nevertheless. */
static void judge_slip(struct tally *tally, struct logbook *logbook, unsigned seed)
{
    const size_t row =
        (size_t)seed * 7 % (logbook->count - 2); /* two are read after it */
    const enum fit_kind kind = seed % 2 == 0 ? FIT_EC : FIT_PH;
    struct logbook_row *wrong = &logbook->rows[row];
    if (kind == FIT_EC) {
        wrong->ec_ms_cm *= 10;
    } else {
        wrong->ph -= 1;
    }
    struct fit fit;
    assert_int_equal(
        fit_run(&fit, &scenario, &scenario.strategies[0], logbook, &looking_back, NULL),
        STATUS_OK);
    bool alone = true;
    for (size_t i = 0; i < fit.readings; i++) {
        const struct fit_reading *reading = &fit.list[i];
        alone = alone && reading->aside == (reading->row == row && reading->kind == kind);
    }
    tally->slips_alone += alone;
    tally->slips_held += truth_of(FIT_DRINKING) >= fit.value[FIT_DRINKING].low &&
                         truth_of(FIT_DRINKING) <= fit.value[FIT_DRINKING].high;
    fit_free(&fit);
}

static void judge(struct tally *tally, unsigned seed)
{
    double z[FIT_UNKNOWNS];
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, seed);
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        z[k] = gsl_ran_gaussian(rng, 1);
    }
    gsl_rng_free(rng);
    fit_world(&truth, &scenario, z);
    struct logbook logbook;
    struct fit fit;
    keep_truth(&logbook, seed + 7000, 0);
    struct logbook shown = logbook;
    shown.count = rows_until(&logbook, logged_d);
    assert_int_equal(
        fit_run(&fit, &scenario, &scenario.strategies[0], &shown, &fortnight, NULL),
        STATUS_OK);
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        tally->identified[k] += fit.value[k].identifiable;
        tally->covered[k] += fit.value[k].identifiable &&
                             truth_of(k) >= fit.value[k].low &&
                             truth_of(k) <= fit.value[k].high;
    }
    tally->drinking[tally->count] =
        fabs(fit.value[FIT_DRINKING].estimate / truth_of(FIT_DRINKING) - 1);
    tally->eating[tally->count] =
        fabs(fit.value[FIT_EATING].estimate / truth_of(FIT_EATING) - 1);
    tally->alarmed += fit.surprise_count > 0;
    judge_forecast(tally, &fit, &logbook);
    fit_free(&fit);
    judge_slip(tally, &shown, seed);
    logbook_free(&logbook);

    keep_truth(&logbook, seed + 9000, 0.3);
    logbook.count = rows_until(&logbook, 51.5);
    assert_int_equal(
        fit_run(&fit, &scenario, &scenario.strategies[0], &logbook, &looking_back, NULL),
        STATUS_OK);
    tally->leaks_named += leak_named(&fit);
    tally->count++;
    fit_free(&fit);
    logbook_free(&logbook);
}

/* Whether so few of so many are within three standard deviations of that share. The
 * shares asked for are those of docs/model.md, less what makes them: intervals of 95 %
 * hold 90 % where unknowns are nearly one. */
static bool chance_allows(int found, int of, double share)
{
    return found >= of * share - 3 * sqrt(of * share * (1 - share));
}

static void print_tally(const struct tally *tally)
{
    print_message("%d logbooks\n%-20s %10s %8s\n", tally->count, "unknown", "identified",
                  "covered");
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        print_message("%-20s %10d %7.1f%%\n", fit_unknown_name[k], tally->identified[k],
                      100.0 * tally->covered[k] / fmax(tally->identified[k], 1));
    }
    print_message("median error: drinking %.1f %%, eating %.1f %%\n",
                  100 * tally->drinking[tally->count / 2],
                  100 * tally->eating[tally->count / 2]);
    print_message("90 %% bands over %d readings: EC %.1f %%, volume %.1f %%\n",
                  tally->band_count, 100.0 * tally->band_ec / tally->band_count,
                  100.0 * tally->band_volume / tally->band_count);
    print_message("leak of 0.3 L/d named within three readings: %.1f %%; logbooks with "
                  "a false alarm: %.1f %%\n",
                  100.0 * tally->leaks_named / tally->count,
                  100.0 * tally->alarmed / tally->count);
    print_message("one number written wrong: it alone set aside %.1f %%, drinking "
                  "covered %.1f %%\n",
                  100.0 * tally->slips_alone / tally->count,
                  100.0 * tally->slips_held / tally->count);
}

static void invented_buckets_are_learned_as_they_are(void **state)
{
    (void)state;
    const char *asked = getenv("FIT_LOGBOOKS");
    const long wanted = asked != NULL ? strtol(asked, NULL, 10) : 6;
    const int count = wanted > 0 && wanted < 10000 ? (int)wanted : 6;
    struct tally tally = {.drinking = calloc((size_t)count, sizeof(double)),
                          .eating = calloc((size_t)count, sizeof(double))};
    bench_shipped(&scenario, "first-bucket");
    scenario.strategies[0] = scenario.strategies[1];
    scenario.strategies[0].visit_every_d = 3;
    scenario.strategies[0].visit_at_h = 0;
    scenario.duration_d = logged_d + fortnight.ahead_d;
    for (int i = 0; i < count; i++) {
        judge(&tally, 311 + (unsigned)i);
    }
    qsort(tally.drinking, (size_t)count, sizeof(double), by_size);
    qsort(tally.eating, (size_t)count, sizeof(double), by_size);
    print_tally(&tally);
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        assert_true(chance_allows(tally.covered[k], tally.identified[k], 0.90));
    }
    assert_true(chance_allows(tally.band_ec, tally.band_count, 0.88));
    assert_true(chance_allows(tally.band_volume, tally.band_count, 0.88));
    assert_true(chance_allows(tally.leaks_named, count, 0.90));
    assert_true(chance_allows(count - tally.alarmed, count, 0.95));
    assert_true(chance_allows(tally.slips_alone, count, 0.95));
    assert_true(chance_allows(tally.slips_held, count, 0.90));
    assert_true(tally.identified[FIT_DRINKING] * 2 > count);
    assert_true(tally.drinking[count / 2] < 0.06);
    free(tally.drinking);
    free(tally.eating);
}

static void one_reading_rests_on_the_priors(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    struct logbook_row row = {0, 1.07, NAN, NAN, NAN, 0, 0, 0, NAN, 0};
    const struct logbook logbook = {.rows = &row, .count = 1};
    struct fit fit;
    assert_int_equal(
        fit_run(&fit, &scenario, &scenario.strategies[0], &logbook, &fortnight, NULL),
        STATUS_OK);
    assert_true(fit.priors_alone);
    assert_false(fit.value[FIT_DRINKING].identifiable);
    assert_close(fit.value[FIT_DRINKING].estimate, 1, 1e-3, 0);
    /* The prior's own interval: exp(-+1.96 x 0.25). */
    assert_close(fit.value[FIT_DRINKING].high, 1.632, 1e-3, 0);
    fit_free(&fit);
}

/* A spoonful on the floor, less than a hundredth of the bucket. */
static void a_reading_of_an_empty_first_filling_is_refused_with_its_day(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    scenario.start_l = 0.003 * scenario.bucket.full_l;
    struct logbook_row row = {0, 1.07, NAN, NAN, NAN, 0, 0, 0, NAN, 0};
    const struct logbook logbook = {.rows = &row, .count = 1};
    struct fit fit;
    struct error error = {0};
    assert_int_equal(
        fit_run(&fit, &scenario, &scenario.strategies[0], &logbook, &fortnight, &error),
        STATUS_INPUT);
    assert_non_null(strstr(error.text, "day 0: tended as noted, the bucket"));
    fit_free(&fit);
}

/* A first level that is off, then one far too low and a pH that no feed explains: the
 * scenario, three losses, two causes for the pH, and what may be wrong with any entry. */
static void no_cause_of_something_odd_is_left_out(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    struct logbook_row rows[] = {{0, NAN, NAN, 25.1, NAN, 0, 0, 0, NAN, 0},
                                 {2.7, NAN, NAN, 11.3, 9.7, 0, 0, 0, NAN, 0}};
    const struct logbook logbook = {.rows = rows, .count = 2};
    struct fit fit;
    assert_int_equal(
        fit_run(&fit, &scenario, &scenario.strategies[0], &logbook, &looking_back, NULL),
        STATUS_OK);
    assert_int_equal(fit.surprise_count, 2);
    const struct fit_surprise *last = &fit.surprises[1];
    assert_non_null(strstr(last->causes[0], "its first level was odd too"));
    assert_int_equal(last->cause_count, 7);
    assert_string_equal(last->causes[5], "check the pH pen in its buffers");
    assert_non_null(strstr(last->causes[6], "a slip of the pencil"));
    fit_free(&fit);
}

/* Progress of a fit as it was told. */
struct told {
    size_t calls, done, total;
    bool orderly; /* done rises and stays within total */
};

static void hear(void *context, size_t done, size_t total)
{
    struct told *told = context;
    told->orderly = told->orderly && done > told->done && done <= total;
    told->calls++;
    told->done = done;
    told->total = total;
}

static void progress_is_told_life_by_life_to_the_last(void **state)
{
    (void)state;
    bench_shipped(&scenario, "first-bucket");
    struct logbook_row rows[] = {{0, 1.07, NAN, NAN, NAN, 0, 0, 0, NAN, 0},
                                 {3, 1.09, NAN, NAN, NAN, 0, 0, 0, NAN, 0}};
    const struct logbook logbook = {.rows = rows, .count = 2};
    struct told told = {.orderly = true};
    const struct fit_plan plan = {1, hear, &told};
    struct fit fit;
    assert_int_equal(
        fit_run(&fit, &scenario, &scenario.strategies[0], &logbook, &plan, NULL),
        STATUS_OK);
    assert_true(told.orderly);
    assert_true(told.calls > FIT_LIVES);
    assert_int_equal(told.done, told.total);
    fit_free(&fit);
}

/* What the logbook's readings would be with the unknowns at z, over their noise, in the
 * order of the fit. Returns how many. */
static size_t expected_readings(double expected[], const double z[FIT_UNKNOWNS],
                                const struct logbook *logbook)
{
    enum {
        ENTRIES = 16
    };
    static struct hands_entry entries[ENTRIES];
    assert_true(logbook->count <= ENTRIES);
    for (size_t i = 0; i < logbook->count; i++) {
        const struct logbook_row *row = &logbook->rows[i];
        entries[i] = (struct hands_entry){
            row->day_d, {row->drained_l, row->water_l, row->stock_l, NAN}};
    }
    const struct hands_log log = {entries, logbook->count, NULL};
    const struct hands hands = hands_log(&log);
    struct life life;
    fit_world(&truth, &scenario, z);
    truth.numerics.rtol = 1e-9;
    assert_int_equal(life_run_by(&life, &truth, &truth.strategies[0], &hands, NULL),
                     STATUS_OK);
    size_t count = 0;
    for (size_t i = 0; i < logbook->count; i++) {
        const struct logbook_row *row = &logbook->rows[i];
        const struct visit_record *visit = &life.trajectory.visits[i];
        if (!isnan(row->ec_ms_cm)) {
            expected[count++] =
                (visit->ec_before_ms_cm + truth.learned.pen_offset_ms_cm) /
                keep_noise_usual.ec_ms_cm;
        }
        if (!isnan(row->level_cm)) {
            expected[count++] = shape_level_cm(&truth.bucket, visit->volume_before_l) /
                                keep_noise_usual.level_cm;
        }
        if (!isnan(row->ph)) {
            expected[count++] = visit->ph_before / keep_noise_usual.ph;
        }
    }
    life_free(&life);
    return count;
}

/* Slopes of a fit at its end against differences of lives: within 1e-3 of the largest of
 * an unknown (found: 1.4e-4 over all shipped scenarios). */
static void assert_slopes(struct strategy_adjust adjust)
{
    static double up[3 * 16];
    static double down[3 * 16];
    bench_shipped(&scenario, "first-bucket");
    scenario.strategies[0] = scenario.strategies[1];
    scenario.strategies[0].adjust = adjust;
    scenario.duration_d = 42;
    const double z[FIT_UNKNOWNS] = {0.71, -0.28, 0.43, 0.17, -0.54, 0.39};
    fit_world(&truth, &scenario, z);
    struct logbook logbook;
    keep_truth(&logbook, 19, 0);
    logbook.rows[2].ec_ms_cm = NAN;
    logbook.rows[3].level_cm = logbook.rows[3].volume_l = NAN;
    logbook.rows[5].ph = NAN;
    const struct fit_plan plan = {0};
    struct fit fit;
    assert_int_equal(
        fit_run(&fit, &scenario, &scenario.strategies[0], &logbook, &plan, NULL),
        STATUS_OK);
    assert_true(fit.answer.converged);
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        const double h = 3e-3;
        double at[FIT_UNKNOWNS];
        for (int j = 0; j < FIT_UNKNOWNS; j++) {
            at[j] = fit.answer.x[j] + (j == k ? h : 0);
        }
        assert_int_equal(expected_readings(up, at, &logbook), fit.readings);
        at[k] -= 2 * h;
        (void)expected_readings(down, at, &logbook);
        double largest = 0;
        for (size_t i = 0; i < fit.readings; i++) {
            largest = fmax(largest, fabs(up[i] - down[i]) / (2 * h));
        }
        assert_true(largest > 0.5);
        for (size_t i = 0; i < fit.readings; i++) {
            assert_close(fit.answer.slope[i * FIT_UNKNOWNS + (size_t)k],
                         (up[i] - down[i]) / (2 * h), 0, 1e-3 * largest);
        }
        for (size_t i = 0; i < FIT_UNKNOWNS; i++) {
            const size_t prior = (fit.readings + i) * FIT_UNKNOWNS + (size_t)k;
            assert_close(fit.answer.slope[prior], i == (size_t)k, 0, 0);
        }
    }
    fit_free(&fit);
    logbook_free(&logbook);
}

static void its_slopes_are_those_of_its_lives(void **state)
{
    (void)state;
    assert_slopes((struct strategy_adjust){0});
}

/* How much acid the first filling takes follows from its strength. */
static void its_slopes_go_through_the_acid_of_the_first_filling(void **state)
{
    (void)state;
    assert_slopes((struct strategy_adjust){salt_by_formula("HNO3"), 6.1, 5.6});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(invented_buckets_are_learned_as_they_are),
        cmocka_unit_test(one_reading_rests_on_the_priors),
        cmocka_unit_test(a_reading_of_an_empty_first_filling_is_refused_with_its_day),
        cmocka_unit_test(no_cause_of_something_odd_is_left_out),
        cmocka_unit_test(progress_is_told_life_by_life_to_the_last),
        cmocka_unit_test(its_slopes_are_those_of_its_lives),
        cmocka_unit_test(its_slopes_go_through_the_acid_of_the_first_filling),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
