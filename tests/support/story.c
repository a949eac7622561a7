/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "story.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "pailcast/visit/fill.h"

const double story_duration_d = 93.5;

static const double story_step_d = 0.25;
static const double story_visit_every_d = 3;
static const double story_visit_at_d = 0.75;
static const double story_full_l = 18.7;
static const double story_lost_d = 71.3;

static const char story_water_name[] = "hard_tap";
static const char story_stock_name[] = "fruiting_full";
static const struct liquid story_water = {
    .mmol_l = {0.31, 0, 0, 0.12, 1.93, 0.47, 0.61, 1.27, 0.83}, .alkalinity_meq_l = 3.41};
static const struct liquid story_stock = {
    .mmol_l = {9.7, 0.9, 1.23, 4.6, 3.9, 1.51, 1.72, 1.31, 0.87},
    .alkalinity_meq_l = 0.57};
/* mmol taken up per litre drunk */
static const double story_eats[ION_COUNT] = {9.1,  0.85, 1.17, 5.9, 2.1,
                                             1.03, 0.71, 0.09, 0.17};
static const int story_charge[ION_COUNT] = {1, 1, 1, 1, 2, 2, 2, 1, 1};

/* About 0.062 mS/cm per meq/L of positive and negative charge: an invented pen. */
static double story_ec(const struct sample *sample)
{
    double meq = fabs(sample->state[STATE_ALKALINITY]);
    for (size_t i = 0; i < ION_COUNT; i++) {
        meq += story_charge[i] * sample->state[STATE_ION + i];
    }
    return 0.062 * meq / sample->state[STATE_VOLUME];
}

static void story_measure(struct sample *sample)
{
    double volume_l = sample->state[STATE_VOLUME];
    sample->ec_ms_cm = story_ec(sample);
    sample->ph = 6.1 + 0.31 * sample->state[STATE_ALKALINITY] / volume_l;
    sample->level_cm = 2.03 * volume_l;
    sample->stage = sample->day_d < 31 ? 0 : 1;
}

static void story_add(struct life *life, struct sample *now, enum event event,
                      enum ion ion)
{
    struct trajectory *path = &life->trajectory;
    story_measure(now);
    now->event = event;
    now->ion = ion;
    path->samples[path->sample_count++] = *now;
}

static void story_pour(struct sample *now, const struct liquid *liquid, double litres)
{
    now->state[STATE_VOLUME] += litres;
    now->state[STATE_ALKALINITY] += litres * liquid->alkalinity_meq_l;
    for (size_t i = 0; i < ION_COUNT; i++) {
        now->state[STATE_ION + i] += litres * liquid->mmol_l[i];
    }
}

static void story_drain(struct sample *now, double litres)
{
    double kept = 1 - litres / now->state[STATE_VOLUME];
    now->state[STATE_VOLUME] *= kept;
    now->state[STATE_ALKALINITY] *= kept;
    for (size_t i = 0; i < ION_COUNT; i++) {
        now->state[STATE_ION + i] *= kept;
    }
    now->drained_l += litres;
}

static void story_live(struct sample *now, double days)
{
    double drunk_l = days * (0.21 + 2.3 / (1 + exp(-0.09 * (now->day_d - 47.3))));
    drunk_l = fmin(drunk_l, fmax(0, 0.3 * now->state[STATE_VOLUME]));
    now->day_d += days;
    now->state[STATE_VOLUME] -= drunk_l + 0.017 * days;
    now->state[STATE_DRUNK] += drunk_l;
    now->state[STATE_EVAPORATED] += 0.017 * days;
    for (size_t i = 0; i < ION_COUNT; i++) {
        double eaten = fmin(drunk_l * story_eats[i], 0.5 * now->state[STATE_ION + i]);
        now->state[STATE_ION + i] -= eaten;
        now->state[STATE_UPTAKE + i] += eaten;
    }
    now->state[STATE_PLANT + PLANT_DRY_MASS] += 3.1 * drunk_l;
    now->state[STATE_PLANT + PLANT_ROOT_MASS] += 0.37 * drunk_l;
    now->state[STATE_PLANT + PLANT_LEAF_AREA] += 0.011 * drunk_l;
    now->state[STATE_PLANT + PLANT_ROOT_DEPTH] = fmin(21, 2 + 0.7 * now->day_d);
}

static void story_visit(struct life *life, struct sample *now, bool renew,
                        double stock_share)
{
    struct trajectory *path = &life->trajectory;
    struct visit_record visit = {.day_d = now->day_d,
                                 .ec_before_ms_cm = story_ec(now),
                                 .ph_before = now->ph,
                                 .volume_before_l = now->state[STATE_VOLUME]};
    story_add(life, now, EVENT_BEFORE_VISIT, ION_COUNT);
    if (renew) {
        visit.drained_l = now->state[STATE_VOLUME];
        visit.renewal = (struct renew_plan){
            .reason = RENEW_CALENDAR, .ion = ION_COUNT, .drain_l = visit.drained_l};
        story_drain(now, 0.999 * visit.drained_l);
        life->ledger.renewals++;
    }
    double room_l = story_full_l - now->state[STATE_VOLUME];
    visit.stock_l = room_l * stock_share;
    visit.water_l = room_l - visit.stock_l;
    story_pour(now, &story_water, visit.water_l);
    story_pour(now, &story_stock, visit.stock_l);
    now->water_poured_l += visit.water_l;
    now->stock_poured_l += visit.stock_l;
    life->ledger.salt_poured_g += 0.29 * visit.water_l + 1.53 * visit.stock_l;
    life->ledger.visits++;
    story_add(life, now, renew ? EVENT_RENEWAL : EVENT_AFTER_VISIT, ION_COUNT);
    visit.ec_after_ms_cm = now->ec_ms_cm;
    visit.ph_after = now->ph;
    visit.volume_after_l = now->state[STATE_VOLUME];
    path->visits[path->visit_count++] = visit;
}

static void story_first_days(struct life_first_days *first)
{
    first->ec_high = first->ec_low = first->ph_high = first->ph_low = NAN;
    first->roots_dry = first->bucket_empty = first->plant_lost = NAN;
    for (size_t i = 0; i < ION_COUNT; i++) {
        first->ion_high[i] = first->nutrient_low[i] = NAN;
    }
}

static void story_watch(struct life *life, struct sample *now,
                        const struct scenario_limits *limits)
{
    double potassium = now->state[STATE_ION + ION_K] / now->state[STATE_VOLUME];
    double sodium = now->state[STATE_ION + ION_NA] / now->state[STATE_VOLUME];
    if (isnan(life->first.nutrient_low[ION_K]) && potassium < limits->low_mmol_l[ION_K]) {
        life->first.nutrient_low[ION_K] = now->day_d;
        story_add(life, now, EVENT_NUTRIENT_LOW, ION_K);
    }
    if (isnan(life->first.ion_high[ION_NA]) && sodium > limits->high_mmol_l[ION_NA]) {
        life->first.ion_high[ION_NA] = now->day_d;
        story_add(life, now, EVENT_ION_HIGH, ION_NA);
    }
    if (isnan(life->first.ec_high) && story_ec(now) > limits->ec_high_ms_cm) {
        life->first.ec_high = now->day_d;
        story_add(life, now, EVENT_EC_HIGH, ION_COUNT);
    }
}

static void story_fill(struct life *life, const struct scenario *scenario,
                       double stock_share, double renew_every_d, double end_d)
{
    enum {
        ROOM = 1024
    };
    life->trajectory.samples = calloc(ROOM, sizeof *life->trajectory.samples);
    life->trajectory.visits = calloc(ROOM, sizeof *life->trajectory.visits);
    life->trajectory.sample_room = life->trajectory.visit_room = ROOM;
    if (life->trajectory.samples == NULL || life->trajectory.visits == NULL) {
        abort();
    }
    story_first_days(&life->first);
    struct sample now = {0};
    story_pour(&now, &story_water, 0.5 * story_full_l);
    story_pour(&now, &story_stock, 0.5 * story_full_l);
    now.state[STATE_PLANT + PLANT_DRY_MASS] = 0.83;
    story_add(life, &now, EVENT_START, ION_COUNT);
    double renewed_d = 0;
    while (now.day_d + story_step_d < end_d) {
        story_live(&now, story_step_d);
        story_watch(life, &now, &scenario->limits);
        if (fmod(now.day_d, story_visit_every_d) == story_visit_at_d && now.day_d > 3) {
            bool renew = now.day_d - renewed_d >= renew_every_d;
            renewed_d = renew ? now.day_d : renewed_d;
            story_visit(life, &now, renew, stock_share);
        } else {
            story_add(life, &now, EVENT_NONE, ION_COUNT);
        }
    }
    story_live(&now, end_d - now.day_d);
    story_add(life, &now, end_d < story_duration_d ? EVENT_PLANT_LOST : EVENT_END,
              ION_COUNT);
    life->end_d = end_d;
    life->balance = (struct ledger_balance){
        .water_rel = 3.1e-13, .worst_ion_rel = 7.7e-12, .charge_rel = 2.9e-13};
    life->balance.ion_rel[ION_MG] = 7.7e-12;
    life->effort =
        (struct life_effort){.rate_calls = 10411, .steps = 5203, .restarts = 219};
}

static void story_judge(struct compare_row *row, const struct story *story)
{
    const struct trajectory *path = &row->life.trajectory;
    const struct sample *last = &path->samples[path->sample_count - 1];
    row->ec_min = INFINITY;
    for (size_t i = 0; i < path->sample_count; i++) {
        double ec = path->samples[i].ec_ms_cm;
        double sodium = path->samples[i].state[STATE_ION + ION_NA] /
                        path->samples[i].state[STATE_VOLUME];
        row->ec_min = fmin(row->ec_min, ec);
        row->ec_max = fmax(row->ec_max, ec);
        row->ec_mean += ec / (double)path->sample_count;
        row->sodium_max_mmol_l = fmax(row->sodium_max_mmol_l, sodium);
        row->sodium_last_mmol_l = sodium;
    }
    row->ec_last = last->ec_ms_cm;
    row->complete = row->life.end_d >= story_duration_d;
    row->nutrient_low_d = row->life.first.nutrient_low[ION_K];
    row->nutrient_low = isnan(row->nutrient_low_d) ? ION_COUNT : ION_K;
    row->dry_mass_g = last->state[STATE_PLANT + PLANT_DRY_MASS];
    row->growth_index = row->dry_mass_g / 371.3;
    row->absence = (struct absence){.visit_d = 86.3,
                                    .dry_d = 93.4,
                                    .limit = {INFINITY, "EC", "pass its limit"},
                                    .anyway = {INFINITY, "EC", "pass its limit"}};
    row->useful_ec_ms_cm = 0.62 * row->ec_last;
    row->ballast_ec_ms_cm = 0.38 * row->ec_last;
    row->advice_count = 2;
    (void)snprintf(row->advice[0], sizeof row->advice[0],
                   "Day 48: drain 7.3 L and refill with stock; topping up with water "
                   "alone can no longer bring potassium above %g mmol/L, while EC still "
                   "looks right at 1.9 mS/cm.",
                   story->scenario.limits.low_mmol_l[ION_K]);
    (void)snprintf(row->advice[1], sizeof row->advice[1],
                   "Pour about 5.5 L every third day from day 60 on.");
}

static struct strategy story_strategy(const char *name, double share,
                                      double renew_every_d)
{
    struct strategy strategy = {.visit_every_d = story_visit_every_d,
                                .visit_at_h = 24 * story_visit_at_d,
                                .fill = {.rule = fill_rule_by_name("mix"),
                                         .stock_share = share,
                                         .aim_ec_ms_cm = NAN,
                                         .pour_l = INFINITY},
                                .renew_every_d = renew_every_d,
                                .renew_above_ec_ms_cm = INFINITY,
                                .renew_share = 1,
                                .renew_stock_share = NAN};
    for (size_t i = 0; i < ION_COUNT; i++) {
        strategy.renew_above_mmol_l[i] = INFINITY;
    }
    (void)snprintf(strategy.name, sizeof strategy.name, "%s", name);
    (void)snprintf(strategy.water_name, sizeof strategy.water_name, "%s",
                   story_water_name);
    (void)snprintf(strategy.stock_name, sizeof strategy.stock_name, "%s",
                   story_stock_name);
    strategy.water = story_water;
    strategy.stock = story_stock;
    for (size_t i = 0; i < ION_COUNT; i++) {
        strategy.recipe.mmol_l[i] =
            fmax(story_stock.mmol_l[i] - story_water.mmol_l[i], 0);
    }
    return strategy;
}

static void story_set(struct scenario *scenario)
{
    (void)snprintf(
        scenario->title, sizeof scenario->title,
        "Hard water, `touch pwned` & \"quotes\" it's <script>alert(1)</script> "
        "Kübel naïve");
    (void)snprintf(scenario->stem, sizeof scenario->stem, "hard-water-story");
    (void)snprintf(scenario->start, sizeof scenario->start, "2031-03-09");
    (void)snprintf(scenario->water_name, sizeof scenario->water_name, "%s",
                   story_water_name);
    (void)snprintf(scenario->stock_name, sizeof scenario->stock_name, "%s",
                   story_stock_name);
    scenario->duration_d = story_duration_d;
    scenario->sample_every_d = story_step_d;
    scenario->bucket = (struct shape){story_full_l, 37.3, 30.1, 26.3, 9.1};
    scenario->start_l = story_full_l;
    scenario->evaporation_l_d = 0.017;
    scenario->room.root_co2_ppm = 1000;
    scenario->room.water_temperature_c = 21.7;
    scenario->water = story_water;
    scenario->stock = story_stock;
    scenario->start_stock_share = 0.5;
    scenario->crop.kind = CROP_GROWN;
    scenario->crop.stage_count = 2;
    (void)snprintf(scenario->crop.name, sizeof scenario->crop.name, "tomato");
    (void)snprintf(scenario->crop.stages[0].name, TEXT_NAME_SIZE, "leafy, young");
    (void)snprintf(scenario->crop.stages[1].name, TEXT_NAME_SIZE, "=fruiting");
    scenario->limits = (struct scenario_limits){
        .ec_high_ms_cm = 2.6, .ec_low_ms_cm = 0.8, .ph_low = 0, .ph_high = INFINITY};
    for (size_t i = 0; i < ION_COUNT; i++) {
        scenario->limits.high_mmol_l[i] = INFINITY;
    }
    scenario->limits.high_mmol_l[ION_NA] = 6;
    scenario->limits.low_mmol_l[ION_K] = 0.35;
    scenario->warning_count = 1;
    (void)snprintf(scenario->warnings[0], SCENARIO_LINE_SIZE,
                   "the stock is short of 0.6 meq/L of <anions>; pH may fall");
    scenario->strategy_count = STORY_ROWS;
    scenario->strategies[0] = story_strategy(
        "Never renew; half stock $(touch pwned) `touch pwned`", 0.5, INFINITY);
    scenario->strategies[1] =
        story_strategy("Renew monthly & \"fill\" with 50 % mix", 0.5, 30);
    scenario->strategies[2] = story_strategy("Süßwasser <b>nur</b> it's", 0, INFINITY);
}

struct story *story_tell(void)
{
    struct story *story = calloc(1, sizeof *story);
    if (story == NULL) {
        abort();
    }
    story_set(&story->scenario);
    struct compare *compare = &story->compare;
    compare->scenario = &story->scenario;
    compare->row_count = STORY_ROWS;
    for (size_t i = 0; i < STORY_ROWS; i++) {
        struct compare_row *row = &compare->rows[i];
        row->strategy = &story->scenario.strategies[i];
        story_fill(&row->life, &story->scenario, row->strategy->fill.stock_share,
                   row->strategy->renew_every_d,
                   i == STORY_LOST ? story_lost_d : story_duration_d);
        story_judge(row, story);
    }
    story_fill(&compare->unstressed, &story->scenario, 0.5, 10, story_duration_d);
    for (size_t i = 0; i < compare->unstressed.trajectory.sample_count; i++) {
        compare->unstressed.trajectory.samples[i].state[STATE_PLANT + PLANT_DRY_MASS] *=
            1.13;
    }
    compare->unstressed.trajectory.visit_count = 0;
    compare->best = STORY_RENEWED;
    (void)snprintf(compare->verdict, sizeof compare->verdict,
                   "Renew monthly: it keeps EC under 2.6 mS/cm and loses 3 %% of growth, "
                   "for 61 L dumped; without renewal potassium runs out while EC looks "
                   "right & nothing <shows>.");
    return story;
}

static void story_free_life(struct life *life)
{
    free(life->trajectory.samples);
    free(life->trajectory.visits);
}

void story_free(struct story *story)
{
    if (story == NULL) {
        return;
    }
    for (size_t i = 0; i < story->compare.row_count; i++) {
        story_free_life(&story->compare.rows[i].life);
    }
    story_free_life(&story->compare.unstressed);
    free(story);
}
