/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A life cut in two is the same life, in 2000 scenarios drawn at random. The engine has
 * no way to go on from a state in the middle, so it is said in three ways: a shorter life
 * is the beginning of a longer one; hands that take over from a notebook carry on the
 * same life; and, where the plant has no state of its own, a second life that starts with
 * what the first one held arrives where the first one did. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/random_scenario.h"

static const uint64_t first_seed = 300001;
static const uint64_t scenarios = 2000;

static const double slack_d = 1e-9;

/* A second life takes other steps than the middle of a first, so both differ by their
 * errors: this many tolerances of the integrator at most (chosen). */
static const double astray = 500;

static bool same_state(const double a[STATE_COUNT], const double b[STATE_COUNT])
{
    bool same = true;
    for (int c = 0; c < STATE_COUNT; c++) {
        same = same && a[c] == b[c];
    }
    return same;
}

static bool same_row(const struct sample *a, const struct sample *b)
{
    return a->day_d == b->day_d && a->event == b->event && a->ion == b->ion &&
           a->stage == b->stage && a->ec_ms_cm == b->ec_ms_cm && a->ph == b->ph &&
           a->water_poured_l == b->water_poured_l &&
           a->stock_poured_l == b->stock_poured_l && a->drained_l == b->drained_l &&
           same_state(a->state, b->state);
}

/* A day on which the life is cut anyway: that of the visit in the middle, else the first
 * switch of the lamp where the plant feels one, else the end. */
static double cut_day(const struct random_life *lived)
{
    const struct trajectory *path = &lived->life->trajectory;
    if (path->visit_count > 0) {
        return path->visits[path->visit_count / 2].day_d;
    }
    const double end_d = lived->life->end_d;
    return plant_kind_of(lived->scenario->crop.kind)->feels_lamp
               ? fmin(room_next_switch(&lived->scenario->room, 0.1), end_d)
               : end_d;
}

/* To the last bit, all rows but the one that says `end`, which holds what the longer life
 * held just then. */
static bool shorter_is_the_beginning(const struct random_life *lived, char what[])
{
    static struct scenario shorter;
    struct life life;
    shorter = *lived->scenario;
    shorter.duration_d = cut_day(lived);
    random_scenario_live(&life, lived->seed, &shorter, lived->strategy);
    const struct trajectory *path = &lived->life->trajectory;
    const size_t last = life.trajectory.sample_count - 1;
    bool same = last < path->sample_count;
    size_t i = 0;
    for (; same && i < last; i++) {
        same = same_row(&path->samples[i], &life.trajectory.samples[i]);
    }
    const struct sample *end = &life.trajectory.samples[last];
    const struct sample *before = &life.trajectory.samples[last > 0 ? last - 1 : 0];
    if (same && last > 0 && before->day_d > end->day_d - slack_d) {
        same = same_state(before->state, end->state);
    }
    (void)snprintf(what, RANDOM_WHAT_SIZE,
                   "a life of %.6f d differs in row %zu, day %.6f", shorter.duration_d, i,
                   life.trajectory.samples[i].day_d);
    life_free(&life);
    return same;
}

enum {
    ENTRIES = 200
};

/* The first half of the visits from a notebook, the rest by the strategy. What a notebook
 * does not hold is acid and base; a drain of nothing is no renewal. */
static bool hands_take_over(const struct random_life *lived, char what[])
{
    const struct trajectory *path = &lived->life->trajectory;
    struct hands_entry entries[ENTRIES];
    const size_t count = path->visit_count / 2;
    assert_true(count < ENTRIES);
    if (lived->strategy->adjust.with != NULL) {
        return true;
    }
    for (size_t i = 0; i < count; i++) {
        const struct visit_record *visit = &path->visits[i];
        entries[i] = (struct hands_entry){
            visit->day_d, {visit->drained_l, visit->water_l, visit->stock_l}};
    }
    const struct hands_log log = {entries, count, lived->strategy};
    const struct hands hands = hands_log(&log);
    struct life life;
    struct error error = {0};
    bool same = life_run_by(&life, lived->scenario, lived->strategy, &hands, &error) ==
                    STATUS_OK &&
                life.trajectory.sample_count == path->sample_count;
    for (size_t i = 0; same && i < path->sample_count; i++) {
        same = same_row(&path->samples[i], &life.trajectory.samples[i]);
        (void)snprintf(what, RANDOM_WHAT_SIZE, "%zu entries; differs on day %.3f", count,
                       path->samples[i].day_d);
    }
    life_free(&life);
    return same;
}

/* The rest of a table's stages from a day on. */
static void shift_crop(struct crop *crop, const struct sample *from)
{
    double begins_d = 0;
    crop->root_start_cm = from->state[STATE_PLANT + PLANT_ROOT_DEPTH];
    crop->cut_count = 0; /* a table plant has no dry mass to lose */
    if (crop->kind != CROP_TABLE) {
        return;
    }
    for (size_t i = 0; i < from->stage; i++) {
        begins_d += crop->stages[i].lasts_d;
    }
    crop->stage_count -= from->stage;
    memmove(crop->stages, crop->stages + from->stage,
            crop->stage_count * sizeof *crop->stages);
    crop->stages[0].lasts_d -= from->day_d - begins_d;
}

/* From the row after the middle visit to the row before the next, or the end. */
static bool second_life_arrives(const struct random_life *lived, char what[])
{
    static struct scenario second;
    const struct trajectory *path = &lived->life->trajectory;
    const struct sample *from = NULL;
    const struct sample *to = NULL;
    for (size_t i = 0; i < path->sample_count && to == NULL; i++) {
        const struct sample *row = &path->samples[i];
        const bool ends = row->event == EVENT_BEFORE_VISIT || row->event == EVENT_END;
        to = from != NULL && ends ? row : NULL;
        if (row->day_d > cut_day(lived) - slack_d &&
            (row->event == EVENT_AFTER_VISIT || row->event == EVENT_RENEWAL) &&
            from == NULL) {
            from = row;
        }
    }
    if (lived->scenario->crop.kind == CROP_GROWN || from == NULL ||
        to->day_d - from->day_d < 1.0 / 24) {
        return true;
    }
    second = *lived->scenario;
    shift_crop(&second.crop, from);
    struct strategy idle = *lived->strategy;
    idle.stock = state_liquid(from->state);
    second.start_stock_share = 1;
    second.learned.start_stock_share = NAN;
    second.start_l = from->state[STATE_VOLUME];
    second.duration_d = to->day_d - from->day_d;
    const struct hands_log nobody = {0};
    const struct hands hands = hands_log(&nobody);
    struct life life;
    struct error error = {0};
    assert_int_equal(life_run_by(&life, &second, &idle, &hands, &error), STATUS_OK);
    const double *end = life.trajectory.samples[life.trajectory.sample_count - 1].state;
    double worst = 0;
    for (int c = 0; c <= STATE_ALKALINITY; c++) {
        worst = fmax(worst, fabs(end[c] - to->state[c]) / (fabs(to->state[c]) + 1));
    }
    life_free(&life);
    (void)snprintf(what, RANDOM_WHAT_SIZE, "from day %.3f to day %.3f: differs by %.3g",
                   from->day_d, to->day_d, worst);
    return worst < astray * second.numerics.rtol;
}

enum {
    SHORTER,
    HANDS,
    SECOND,
    CLAIMS
};

static struct random_claim claims[CLAIMS] = {
    [SHORTER] = {.holds = shorter_is_the_beginning},
    [HANDS] = {.holds = hands_take_over},
    [SECOND] = {.holds = second_life_arrives}};

static int live_them_all(void **state)
{
    (void)state;
    random_scenario_try(claims, CLAIMS, first_seed, scenarios);
    return 0;
}

static void a_shorter_life_is_the_beginning_of_a_longer(void **state)
{
    (void)state;
    random_scenario_judge(&claims[SHORTER]);
}

static void hands_that_take_over_half_way_carry_on_the_same_life(void **state)
{
    (void)state;
    random_scenario_judge(&claims[HANDS]);
}

static void a_second_life_goes_on_where_the_first_was_cut(void **state)
{
    (void)state;
    random_scenario_judge(&claims[SECOND]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_shorter_life_is_the_beginning_of_a_longer),
        cmocka_unit_test(hands_that_take_over_half_way_carry_on_the_same_life),
        cmocka_unit_test(a_second_life_goes_on_where_the_first_was_cut),
    };
    return cmocka_run_group_tests(tests, live_them_all, NULL);
}
