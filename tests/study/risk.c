/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/risk_sum.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <gsl/gsl_cdf.h>

#include "pailcast/report/risk.h"
#include "pailcast/study/journal.h"
#include "support/bench.h"
#include "support/close.h"
#include "support/scratch.h"

static struct scenario scenario;

static struct risk_plan plan_of(size_t lives, size_t base, int jobs)
{
    return (struct risk_plan){.lives = lives,
                              .seed = 11,
                              .base = base,
                              .part = 1,
                              .parts = 1,
                              .jobs = jobs,
                              .scenario_path = "somewhere/first-bucket.cfg"};
}

static void small_scenario(void)
{
    bench_shipped(&scenario, "first-bucket");
    scenario.duration_d = 17;
    scenario.strategy_count = 3;
}

static char *json_of(const struct risk *risk)
{
    struct risk_sum *sum = NULL;
    struct error error = {0};
    struct scratch_text text;
    assert_int_equal(risk_sum_up(&sum, risk, &error), STATUS_OK);
    scratch_open(&text);
    assert_int_equal(risk_json_write(text.out, sum, &error), STATUS_OK);
    free(sum);
    return scratch_close(&text);
}

/* Lives the plan and returns its JSON. */
static char *story_of(const struct risk_plan *plan)
{
    struct risk risk = {0};
    struct error error = {0};
    assert_int_equal(risk_open(&risk, &scenario, plan, &error), STATUS_OK);
    assert_int_equal(risk_live(&risk, &error), STATUS_OK);
    assert_int_equal(risk.lived_count, risk.worlds);
    char *json = json_of(&risk);
    risk_free(&risk);
    return json;
}

static void threads_change_no_byte(void **state)
{
    (void)state;
    small_scenario();
    char *one = NULL;
    for (int jobs = 1; jobs <= 4; jobs++) {
        const struct risk_plan plan = plan_of(13, 3, jobs);
        char *json = story_of(&plan);
        if (one == NULL) {
            one = json;
            continue;
        }
        assert_string_equal(json, one);
        free(json);
    }
    struct risk_plan plan = plan_of(13, 3, 2);
    plan.seed = 12;
    char *other = story_of(&plan);
    assert_true(strcmp(other, one) != 0);
    free(other);
    free(one);
}

static void any_life_can_be_lived_alone(void **state)
{
    (void)state;
    small_scenario();
    const struct risk_plan plan = plan_of(9, 2, 1);
    struct risk all = {0};
    struct error error = {0};
    assert_int_equal(risk_open(&all, &scenario, &plan, &error), STATUS_OK);
    assert_int_equal(risk_live(&all, &error), STATUS_OK);
    for (size_t world = 0; world < all.worlds; world += 5) {
        struct risk_plan single = plan;
        single.parts = all.worlds;
        single.part = world + 1;
        struct risk one = {0};
        assert_int_equal(risk_open(&one, &scenario, &single, &error), STATUS_OK);
        assert_int_equal(risk_live(&one, &error), STATUS_OK);
        assert_int_equal(one.lived_count, 1);
        assert_memory_equal(risk_values(&one, world, 2), risk_values(&all, world, 2),
                            OUTCOME_WIDTH * sizeof(float));
        risk_free(&one);
    }
    risk_free(&all);
}

/* The journal cut at many places, as a kill would leave it, and gone on with. */
static void a_kill_at_any_byte_loses_only_the_torn_record(void **state)
{
    (void)state;
    small_scenario();
    struct scratch scratch = scratch_make();
    char path[SCRATCH_PATH_SIZE + 16];
    (void)snprintf(path, sizeof path, "%s/j", scratch.folder);
    struct risk_plan plan = plan_of(6, 1, 1);
    plan.journal = path;
    char *whole = story_of(&plan);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    static char bytes[1 << 20];
    const size_t size = fread(bytes, 1, sizeof bytes, file);
    (void)fclose(file);
    const size_t head = (size_t)(strchr(bytes, '\n') - bytes) + 1;
    plan.resume = true;
    for (int cut = -3; cut < 12; cut++) {
        /* Within the head too: it was then being written. */
        const size_t keep = cut < 0 ? (size_t)(-1 - cut) * (head - 1) / 2
                                    : head + (size_t)cut * (size - head) / 11;
        file = fopen(path, "wb");
        assert_non_null(file);
        assert_int_equal(fwrite(bytes, 1, keep, file), keep);
        if (cut > 0 && cut % 3 == 2 && keep < size) {
            (void)fputs("torn", file);
        }
        (void)fclose(file);
        char *again = story_of(&plan);
        assert_string_equal(again, whole);
        free(again);
    }
    free(whole);
    scratch_remove(&scratch);
}

static void another_study_is_refused_in_one_line(void **state)
{
    (void)state;
    static const struct {
        const char *what, *says;
    } cases[] = {
        {"scenario", "another scenario"}, {"lives", "another --lives"},
        {"seed", "another --seed"},       {"days", "another --days"},
        {"part", "is part 1 of 1"},       {"version", "begun by version"},
        {"text", "no journal"},           {"older", "keeps other numbers of a life"}};
    struct scratch scratch = scratch_make();
    char path[SCRATCH_PATH_SIZE + 16];
    (void)snprintf(path, sizeof path, "%s/j", scratch.folder);
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        small_scenario();
        struct risk_plan plan = plan_of(3, 0, 1);
        plan.journal = path;
        free(story_of(&plan));
        plan.resume = true;
        char *kept = scratch_read(&scratch, "j");
        if (c == 0) {
            scenario.fingerprint++;
        } else if (c == 1) {
            plan.lives = 4;
        } else if (c == 2) {
            plan.seed++;
        } else if (c == 3) {
            scenario.duration_d += 1;
        } else if (c == 4) {
            plan.parts = 2;
        } else {
            static const char *const words[] = {"version=", "pailcast", "study-"};
            static const size_t places[] = {8, 0, 6};
            strstr(kept, words[c - 5])[places[c - 5]] = "xx2"[c - 5];
            FILE *file = fopen(path, "r+b");
            assert_non_null(file);
            (void)fputs(kept, file);
            (void)fclose(file);
        }
        struct risk risk = {0};
        struct error error = {0};
        assert_int_equal(risk_open(&risk, &scenario, &plan, &error), STATUS_OK);
        assert_int_equal(risk_live(&risk, &error), STATUS_INPUT);
        assert_int_equal(error.count, 1);
        if (strstr(error.text, cases[c].says) == NULL) {
            fail_msg("%s gave: %s", cases[c].what, error.text);
        }
        risk_free(&risk);
        free(kept);
    }
    scratch_remove(&scratch);
}

static void parts_join_to_the_same_bytes(void **state)
{
    (void)state;
    small_scenario();
    struct scratch scratch = scratch_make();
    static char paths[3][SCRATCH_PATH_SIZE + 16];
    const char *list[3];
    struct risk_plan plan = plan_of(10, 2, 1);
    char *whole = story_of(&plan);
    for (size_t i = 0; i < 3; i++) {
        (void)snprintf(paths[i], sizeof paths[i], "%s/p%zu", scratch.folder, i);
        list[2 - i] = paths[i];
        struct risk part = {0};
        struct error error = {0};
        struct risk_plan share = plan;
        share.part = i + 1;
        share.parts = 3;
        share.journal = paths[i];
        assert_int_equal(risk_open(&part, &scenario, &share, &error), STATUS_OK);
        assert_int_equal(risk_live(&part, &error), STATUS_OK);
        risk_free(&part);
    }
    struct risk joined = {0};
    struct error error = {0};
    assert_int_equal(risk_open(&joined, &scenario, &plan, &error), STATUS_OK);
    assert_int_equal(risk_merge(&joined, list, 2, &error), STATUS_INPUT);
    assert_non_null(strstr(error.text, "are in none of these parts"));
    assert_int_equal(risk_merge(&joined, list, 1, &error), STATUS_INPUT);
    assert_non_null(strstr(error.text, "stands twice"));
    risk_free(&joined);
    assert_int_equal(risk_open(&joined, &scenario, &plan, &error), STATUS_OK);
    assert_int_equal(risk_merge(&joined, list, 3, &error), STATUS_OK);
    char *json = json_of(&joined);
    assert_string_equal(json, whole);
    free(json);
    free(whole);
    risk_free(&joined);
    scratch_remove(&scratch);
}

/* A bucket without plant or visits loses e f t litres, f lognormal with mean 1: its
 * volume has known quantiles, and 8 lives in 10 of another seed lie within the band. */
static void bands_cover_a_closed_form(void **state)
{
    (void)state;
    const double e = 0.187, cv = 0.31;
    bench_shipped(&scenario, "no-plant");
    scenario.strategy_count = 1;
    scenario.duration_d = 26;
    scenario.strategies[0].visit_every_d = 4000;
    scenario.evaporation_l_d = e;
    scenario.start_l = 17.3;
    static struct scenario plain;
    scenario_defaults(&plain);
    scenario.limits = plain.limits;
    for (int i = 0; i < UNCERTAIN_COUNT; i++) {
        scenario.uncertain.spread[i] = i == UNCERTAIN_EVAPORATION ? cv : 0;
    }
    struct risk_plan plan = plan_of(1500, 0, 2);
    struct risk risk = {0};
    struct risk_sum *sum = NULL;
    struct error error = {0};
    assert_int_equal(risk_open(&risk, &scenario, &plan, &error), STATUS_OK);
    assert_int_equal(risk_live(&risk, &error), STATUS_OK);
    assert_int_equal(risk_sum_up(&sum, &risk, &error), STATUS_OK);
    assert_close(risk.grid_step_d * (double)(risk.grid_count - 1), 26, 1e-9, 0);
    const double s = sqrt(log1p(cv * cv));
    for (size_t i = 1; i < risk.grid_count; i++) {
        const double day_d = (double)i * risk.grid_step_d;
        const struct risk_spread *band = &sum->rows[0].band[OUTCOME_CURVE_VOLUME][i];
        const double share[] = {0.9, 0.5, 0.1};
        const double found[] = {band->p10, band->p50, band->p90};
        for (int q = 0; q < 3; q++) {
            const double f = exp(s * gsl_cdf_ugaussian_Pinv(share[q]) - 0.5 * s * s);
            assert_close(17.3 - found[q], e * day_d * f, 5e-3, 2e-6 * 17.3);
        }
    }
    const struct risk_spread last =
        sum->rows[0].band[OUTCOME_CURVE_VOLUME][risk.grid_count - 1];
    struct risk_plan again = plan_of(1500, 0, 2);
    struct risk other = {0};
    again.seed = 999;
    assert_int_equal(risk_open(&other, &scenario, &again, &error), STATUS_OK);
    assert_int_equal(risk_live(&other, &error), STATUS_OK);
    size_t within = 0;
    for (size_t i = 0; i < 1500; i++) {
        const double litres =
            other.curves[i * OUTCOME_CURVES * other.grid_count +
                         OUTCOME_CURVE_VOLUME * other.grid_count + other.grid_count - 1];
        within += litres >= last.p10 && litres <= last.p90;
    }
    /* Four standard errors of a share of 0.8 among 1,500 at random. */
    assert_close((double)within / 1500, 0.8, 0, 4 * sqrt(0.16 / 1500));
    free(sum);
    risk_free(&risk);
    risk_free(&other);
}

/* EC of a bucket in which nothing happens, at a point of the draw, without any life. */
static double still_ec(const double unit[DRAW_WIDTH])
{
    static struct scenario world;
    draw_world(&world, &scenario, unit);
    const struct pen pen =
        pen_at(world.room.water_temperature_c, world.room.root_co2_ppm);
    const struct liquid liquid = scenario_start_liquid(&world, &world.strategies[0]);
    return pen_read(&pen, &liquid).ec_ms_cm;
}

/* What matters for the last EC of a still bucket, water and dose being uncertain, is what
 * Saltelli's scheme finds for the function itself; and it is nearly additive. */
static void what_matters_is_that_of_the_function_itself(void **state)
{
    (void)state;
    enum {
        ROWS = 200
    };
    bench_shipped(&scenario, "renew-or-not");
    scenario.crop = crop_defaults(CROP_NONE);
    scenario.strategies[0] = scenario.strategies[2]; /* hard water */
    scenario.strategy_count = 1;
    scenario.duration_d = 2;
    scenario.evaporation_l_d = 0;
    scenario.strategies[0].visit_every_d = 4000;
    for (int i = 0; i < UNCERTAIN_COUNT; i++) {
        const bool spreads = i == UNCERTAIN_WATER || i == UNCERTAIN_DOSE;
        scenario.uncertain.spread[i] = spreads ? 0.2 : 0;
    }
    const struct risk_plan plan = plan_of(ROWS, ROWS, 2);
    struct risk risk = {0};
    struct risk_sum *sum = NULL;
    struct error error = {0};
    assert_int_equal(risk_open(&risk, &scenario, &plan, &error), STATUS_OK);
    assert_int_equal(risk.input_count, 2);
    assert_int_equal(risk_live(&risk, &error), STATUS_OK);
    assert_int_equal(risk_sum_up(&sum, &risk, &error), STATUS_OK);
    double together = 0;
    for (size_t k = 0; k < 2; k++) {
        double f[3][ROWS];
        for (size_t r = 0; r < ROWS; r++) {
            const double *first = risk.draw.first + r * DRAW_WIDTH;
            const double *second = risk.draw.second + r * DRAW_WIDTH;
            double mixed[DRAW_WIDTH];
            memcpy(mixed, first, sizeof mixed);
            mixed[risk.inputs[k]] = second[risk.inputs[k]];
            f[0][r] = still_ec(first);
            f[1][r] = still_ec(second);
            f[2][r] = still_ec(mixed);
        }
        const struct sobol_index own = sobol_of(f[0], f[1], f[2], ROWS);
        const struct sobol_index *found = &sum->rows[0].matters[3][k];
        assert_int_equal(risk_targets[3], OUTCOME_EC_LAST);
        /* Outcomes are kept in single precision. */
        assert_close(found->first, own.first, 0, 1e-4);
        assert_close(found->total, own.total, 0, 1e-4);
        assert_close(found->total_error, own.total_error, 0, 1e-4);
        assert_true(own.total > 0.01);
        together += own.total;
    }
    assert_close(together, 1, 0, 0.15);
    free(sum);
    risk_free(&risk);
}

/* Hyndman & Fan's type 7 of 1, 2, 4, 8, 16: positions 0.4, 2 and 3.6. */
static void quantiles_are_type_seven(void **state)
{
    (void)state;
    float value[] = {8, 1, 16, 4, 2};
    const struct risk_spread spread = risk_sum_spread(value, 5);
    assert_close(spread.p10, 1.4, 1e-6, 0);
    assert_close(spread.p50, 4, 1e-6, 0);
    assert_close(spread.p90, 12.8, 1e-6, 0);
}

/* Without any uncertainty all lives are one, and differences to the first are exact. */
static void certain_lives_are_all_alike(void **state)
{
    (void)state;
    small_scenario();
    memset(scenario.uncertain.spread, 0, sizeof scenario.uncertain.spread);
    const struct risk_plan plan = plan_of(4, 2, 1);
    struct risk risk = {0};
    struct risk_sum *sum = NULL;
    struct error error = {0};
    assert_int_equal(risk_open(&risk, &scenario, &plan, &error), STATUS_OK);
    assert_int_equal(risk.worlds, 4);
    assert_int_equal(risk_live(&risk, &error), STATUS_OK);
    assert_int_equal(risk_sum_up(&sum, &risk, &error), STATUS_OK);
    struct life life = {0};
    scenario.numerics.rtol = 1e-9;
    bench_live(&life, &scenario, 1);
    const struct sample *last = bench_sample(&life, 17);
    const struct risk_row *row = &sum->rows[1];
    assert_close(row->amount[OUTCOME_DRUNK].p10, last->state[STATE_DRUNK], 2e-5, 0);
    assert_close(row->amount[OUTCOME_DRUNK].p90, last->state[STATE_DRUNK], 2e-5, 0);
    assert_close(row->amount[OUTCOME_EC_LAST].p50, last->ec_ms_cm, 2e-5, 0);
    assert_close(row->difference[OUTCOME_SALT_POURED].p50,
                 row->amount[OUTCOME_SALT_POURED].p50 -
                     sum->rows[0].amount[OUTCOME_SALT_POURED].p50,
                 1e-5, 1e-5);
    life_free(&life);
    free(sum);
    risk_free(&risk);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(threads_change_no_byte),
        cmocka_unit_test(any_life_can_be_lived_alone),
        cmocka_unit_test(a_kill_at_any_byte_loses_only_the_torn_record),
        cmocka_unit_test(another_study_is_refused_in_one_line),
        cmocka_unit_test(parts_join_to_the_same_bytes),
        cmocka_unit_test(bands_cover_a_closed_form),
        cmocka_unit_test(what_matters_is_that_of_the_function_itself),
        cmocka_unit_test(quantiles_are_type_seven),
        cmocka_unit_test(certain_lives_are_all_alike),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
