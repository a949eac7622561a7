/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The textbook solutions of salt build-up, met by the whole program from scenario file to
 * CSV. Notation: V volume, T litres drunk a day, c_w concentration of the top-up, u
 * uptake per litre drunk, p uptake as a share of concentration, W litres drunk in all.
 * Forms 1 and 2 are those of Carmassi et al. 2005 (J. Plant Nutr. 28:431, from memory and
 * derivable); the others follow from the same balance V dC/dW = c_w - u by hand. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/program.h"

static const double exact = 1e-6;

struct trial {
    char folder[256];
    struct program_csv csv;
};

/* Runs a table plant in a straight bucket: crop, water, stock and strategy as given. */
static struct trial trial_run(const char *days, const char *stage, const char *water,
                              const char *stock, const char *strategy)
{
    struct trial trial;
    char text[4096];
    program_folder(trial.folder);
    (void)snprintf(
        text, sizeof text,
        "title = \"closed form\"; duration = \"%s\"; sample_every = \"1 d\";\n"
        "bucket = { full = \"20 L\"; height = \"60 cm\"; top_diameter = \"25 cm\";"
        " net_pot_depth = \"2 cm\"; start = \"20 L\"; };\n"
        "crop = { kind = \"table\"; name = \"t\"; stages = ( { name = \"s\"; %s } "
        "); };\n"
        "water = { %s }; stock = { %s }; start_stock_share = 1;\n"
        "numerics = { rtol = 1e-10; };\n"
        "strategies = ( { name = \"it\"; %s } );\n",
        days, stage, water, stock, strategy);
    program_write(trial.folder, "trial.cfg", text);
    if (program_run(trial.folder, "run trial.cfg --quiet --out o") != 0) {
        char *said = program_read(trial.folder, "stderr");
        print_error("%s\n", said);
        free(said);
        fail();
    }
    trial.csv = program_csv_read(trial.folder, "o/it.csv");
    return trial;
}

static void trial_end(struct trial *trial)
{
    program_csv_free(&trial->csv);
    program_clean(trial->folder);
}

static double trial_at(const struct trial *trial, double day_d, const char *event,
                       const char *column)
{
    return program_csv_at(&trial->csv, program_csv_row(&trial->csv, day_d, event),
                          column);
}

#define SALTY(c) "na = \"" c " mmol/L\"; cl = \"" c " mmol/L\";"

/* 1. Never renewed, constant uptake: C = C0 + (c_w - u) W / V. */
static void what_is_left_behind_grows_in_a_straight_line(void **state)
{
    (void)state;
    struct trial trial = trial_run("90 d", "drinks = \"1 L/d\";", SALTY("2"), SALTY("2"),
                                   "fill = \"water\"; visit_every = \"1 d\";");
    const double days[] = {10, 30, 60, 90};
    const double expected[] = {3, 5, 8, 11};
    for (int i = 0; i < 4; i++) {
        assert_close(trial_at(&trial, days[i], "after visit", "na_mmol_L"), expected[i],
                     exact, 0);
    }
    trial_end(&trial);
    trial = trial_run("60 d",
                      "drinks = \"1.3 L/d\"; eats = { k = \"0.85 mmol/L\"; cl = "
                      "\"0.85 mmol/L\"; };",
                      "k = \"1.37 mmol/L\"; cl = \"1.37 mmol/L\";",
                      "k = \"2.9 mmol/L\"; cl = \"2.9 mmol/L\";",
                      "fill = \"water\"; visit_every = \"3 d\";");
    assert_close(trial_at(&trial, 60, "after visit", "k_mmol_L"),
                 2.9 + (1.37 - 0.85) * 1.3 * 60 / 20, exact, 0);
    trial_end(&trial);
}

/* C after n visits, each after d litres drunk from V, with uptake p C: between visits n
 * is proportional to V^p, so C' = C (1 - d/V)^p + c_w d/V. */
static double followed(double c0, double c_w, double p, double d_over_v, int visits)
{
    double c = c0;
    for (int i = 0; i < visits; i++) {
        c = c * pow(1 - d_over_v, p) + c_w * d_over_v;
    }
    return c;
}

static double followed_by_program(const char *every, const char *event)
{
    char strategy[128];
    (void)snprintf(strategy, sizeof strategy, "fill = \"water\"; visit_every = \"%s\";",
                   every);
    struct trial trial = trial_run("60 d",
                                   "drinks = \"1 L/d\"; follows = { na = 0.1; cl = "
                                   "0.1; };",
                                   SALTY("2"), SALTY("2"), strategy);
    const double c = trial_at(&trial, 60, event, "na_mmol_L");
    trial_end(&trial);
    return c;
}

/* The value at no interval at all, from intervals of four, two and one hour (Richardson:
 * errors of first and second order cancel). */
static double continuous(double four, double two, double one)
{
    return (8 * one - 6 * two + four) / 3;
}

/* 2. Never renewed, uptake p C: C = c_w/p + (C0 - c_w/p) exp(-p W/V) when topped up
 * without pause; 6.665 mmol/L on day 60. Visits a day apart have an exact solution of
 * their own, and those of half the interval extrapolate (Richardson) to the continuous
 * one. */
static void what_is_taken_in_proportion_nears_its_limit(void **state)
{
    (void)state;
    assert_close(followed_by_program("1 d", "after visit"), followed(2, 2, 0.1, 0.05, 60),
                 exact, 0);
    const double limit = 20 + (2 - 20.) * exp(-0.1 * 60 / 20);
    assert_close(continuous(followed_by_program("4 h", "after visit"),
                            followed_by_program("2 h", "after visit"),
                            followed_by_program("1 h", "after visit")),
                 limit, exact, 0);
    assert_close(limit, 6.665, 1e-4, 0);
}

/* 3. With drain D beside drinking T: C_inf = c_w + (T/D)(c_w - u), time constant V/D,
 * when both go on without pause; at visits a day apart: the balance of one day by hand.
 */
static double drained_by_program(const char *every, double share)
{
    char strategy[256];
    (void)snprintf(
        strategy, sizeof strategy,
        "fill = \"water\"; visit_every = \"%s\"; renew_every = \"%s\"; renew_share "
        "= %.17g; renew_stock_share = 0;",
        every, every, share);
    struct trial trial = trial_run("60 d",
                                   "drinks = \"1 L/d\"; eats = { na = \"0.4 mmol/L\"; "
                                   "cl = \"0.4 mmol/L\"; };",
                                   SALTY("2"), SALTY("2"), strategy);
    const double c = trial_at(&trial, 60, "after renewal", "na_mmol_L");
    trial_end(&trial);
    return c;
}

static void draining_holds_build_up_at_its_balance(void **state)
{
    (void)state;
    const double c_w = 2, u = 0.4, v = 20, drunk = 1, drain = 0.5;
    double c = 2;
    for (int day = 0; day < 60; day++) {
        const double salt = c * v - u * drunk;
        const double kept = 1 - drain / (v - drunk);
        c = (salt * kept + c_w * (drunk + drain)) / v;
    }
    assert_close(drained_by_program("1 d", drain / (v - drunk)), c, exact, 0);
    /* Twice as often, half as much each time, toward the continuous solution. */
    const double limit = c_w + drunk / drain * (c_w - u);
    const double h = 1. / 24;
    const double reached =
        continuous(drained_by_program("4 h", 4 * h * drain / (v - 4 * h * drunk)),
                   drained_by_program("2 h", 2 * h * drain / (v - 2 * h * drunk)),
                   drained_by_program("1 h", h * drain / (v - h * drunk)));
    assert_close(reached, limit + (2 - limit) * exp(-drain * 60 / v), exact, 0);
}

/* 4. The leaching fraction that holds C_max: phi = (c_w - u)/(C_max - u) of all water
 * given. c_w = 2, u = 0: 0.25 holds 8 mmol/L. Measured where the drained water carries
 * C_max. */
static void the_leaching_fraction_holds_the_level_it_promises(void **state)
{
    (void)state;
    const double phi = 0.25, drunk = 1, v = 20;
    const double drain = phi / (1 - phi) * drunk;
    char strategy[256];
    (void)snprintf(
        strategy, sizeof strategy,
        "fill = \"water\"; visit_every = \"1 d\"; renew_every = \"1 d\"; renew_share "
        "= %.17g; renew_stock_share = 0;",
        drain / (v - drunk));
    struct trial trial =
        trial_run("3000 d", "drinks = \"1 L/d\";", SALTY("2"), SALTY("8"), strategy);
    assert_close(trial_at(&trial, 3000, "before visit", "na_mmol_L"), 2 / phi, exact, 0);
    trial_end(&trial);
}

/* 5. Full renewal every n days: peak C_fresh + (c_w - u) T n / V: 2.7, 3.4, 4.1 mmol/L
 * after 7, 14, 21 days (in a bucket filled to the line, so after the top-up of the day
 * before and the last day's drinking undone: read at the line). */
static void full_renewal_bounds_the_peak(void **state)
{
    (void)state;
    const int every[] = {7, 14, 21};
    const double peak[] = {2.7, 3.4, 4.1};
    for (int i = 0; i < 3; i++) {
        char strategy[256];
        (void)snprintf(strategy, sizeof strategy,
                       "fill = \"water\"; visit_every = \"1 d\"; renew_every = \"%d d\";",
                       every[i]);
        struct trial trial =
            trial_run("84 d", "drinks = \"1 L/d\";", SALTY("2"), SALTY("2"), strategy);
        const double before = trial_at(&trial, 2 * every[i], "before visit", "na_mmol_L");
        /* 19 L at this concentration, topped to 20 L with 2 mmol/L. */
        assert_close((before * 19 + 2) / 20, peak[i], exact, 0);
        assert_close(trial_at(&trial, 2 * every[i], "after renewal", "na_mmol_L"), 2,
                     exact, 0);
        trial_end(&trial);
    }
}

/* 6. A fraction f renewed every n days, gain d = (c_w - u) T n / V: steady peak C_fresh +
 * d/f, trough C_fresh + d (1-f)/f: 25 % weekly 4.8 and 4.1 mmol/L, with the bucket kept
 * at its line without pause. Shorter and shorter intervals extrapolate to that. */
static void renewed_in_part(const char *every, double *peak, double *trough)
{
    char strategy[256];
    (void)snprintf(strategy, sizeof strategy,
                   "fill = \"water\"; visit_every = \"%s\"; renew_every = \"7 d\"; "
                   "renew_share = 0.25;",
                   every);
    struct trial trial =
        trial_run("420 d", "drinks = \"1 L/d\";", SALTY("2"), SALTY("2"), strategy);
    *peak = trial_at(&trial, 420, "before visit", "na_mmol_L");
    *trough = trial_at(&trial, 420, "after renewal", "na_mmol_L");
    trial_end(&trial);
}

static void partial_renewal_settles_between_trough_and_peak(void **state)
{
    (void)state;
    const char *const every[] = {"4 h", "2 h", "1 h"};
    double peak[3], trough[3];
    for (int i = 0; i < 3; i++) {
        renewed_in_part(every[i], &peak[i], &trough[i]);
    }
    assert_close(continuous(peak[0], peak[1], peak[2]), 2 + 0.7 / 0.25, exact, 0);
    assert_close(continuous(trough[0], trough[1], trough[2]), 2 + 0.7 * 0.75 / 0.25,
                 exact, 0);
}

/* 7. No top-up: C = C0 V0 / (V0 - W) for u = 0; constant for u = C; dC/dW = (C - u)/V. */
static void a_bucket_left_alone_concentrates(void **state)
{
    (void)state;
    struct trial trial = trial_run(
        "14 d",
        "drinks = \"1.1 L/d\"; eats = { k = \"3.1 mmol/L\"; no3 = \"4.7 mmol/L\"; };",
        SALTY("1"),
        "k = \"3.1 mmol/L\"; no3 = \"3.1 mmol/L\"; na = \"2.3 mmol/L\"; cl = \"2.3 "
        "mmol/L\";",
        "fill = \"water\"; visit_every = \"60 d\";");
    const double left = 20 - 1.1 * 9;
    assert_close(trial_at(&trial, 9, NULL, "volume_L"), left, exact, 0);
    assert_close(trial_at(&trial, 9, NULL, "na_mmol_L"), 2.3 * 20 / left, exact, 0);
    assert_close(trial_at(&trial, 9, NULL, "k_mmol_L"), 3.1, exact, 0);
    assert_close(trial_at(&trial, 9, NULL, "no3_mmol_L"), 4.7 + (3.1 - 4.7) * 20 / left,
                 exact, 0);
    trial_end(&trial);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_left_behind_grows_in_a_straight_line),
        cmocka_unit_test(what_is_taken_in_proportion_nears_its_limit),
        cmocka_unit_test(draining_holds_build_up_at_its_balance),
        cmocka_unit_test(the_leaching_fraction_holds_the_level_it_promises),
        cmocka_unit_test(full_renewal_bounds_the_peak),
        cmocka_unit_test(partial_renewal_settles_between_trough_and_peak),
        cmocka_unit_test(a_bucket_left_alone_concentrates),
    };
    return cmocka_run_group_tests_name("closed forms", tests, NULL, NULL);
}
