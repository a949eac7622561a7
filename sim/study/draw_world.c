/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/base/hash.h"
#include "pailcast/base/number.h"
#include "pailcast/study/draw.h"

/* The values of all inputs at one point. */
struct draw_values {
    double of[DRAW_WIDTH];
};

/* A drawn room stays within what the scenario reader accepts. */
static void draw_world_room(struct room *room, const struct draw_values *value)
{
    const double shift_c = value->of[UNCERTAIN_AIR_TEMPERATURE];
    struct room_air *const airs[] = {&room->day, &room->night};
    room->ppfd_umol_m2_s *= value->of[UNCERTAIN_LIGHT];
    for (int i = 0; i < 2; i++) {
        airs[i]->temperature_c = number_clamp(airs[i]->temperature_c + shift_c, 0, 50);
        airs[i]->humidity =
            number_clamp(airs[i]->humidity + value->of[UNCERTAIN_HUMIDITY], 0.01, 1);
    }
    room->water_temperature_c = number_clamp(
        room->water_temperature_c + value->of[UNCERTAIN_WATER_TEMPERATURE], 1, 40);
}

/* Drinking changes litres alone: what a table plant eats by the litre is put right, so
 * that it eats the same in a day. */
static void draw_world_table(struct crop *crop, const struct draw_values *value)
{
    const double drinking = value->of[UNCERTAIN_DRINKING];
    for (size_t i = 0; i < crop->stage_count; i++) {
        struct crop_stage *stage = &crop->stages[i];
        stage->drinks_l_d *= drinking;
        for (int k = 0; k < ION_COUNT; k++) {
            stage->eats_mmol_l[k] *= value->of[UNCERTAIN_EATING] / drinking;
        }
        stage->follows[ION_NA] *= value->of[UNCERTAIN_SALT_UPTAKE];
        stage->follows[ION_CL] *= value->of[UNCERTAIN_SALT_UPTAKE];
    }
}

static void draw_world_grown(struct crop_growth *growth, const struct draw_values *value)
{
    growth->stomatal_scale /= value->of[UNCERTAIN_DRINKING];
    growth->light_use_g_mol *= value->of[UNCERTAIN_GROWTH];
    growth->start_mass_g *= value->of[UNCERTAIN_START_MASS];
    growth->salinity_threshold_ms_cm *= value->of[UNCERTAIN_SALT_TOLERANCE];
    growth->selectivity[ION_NA] *= value->of[UNCERTAIN_SALT_UPTAKE];
    growth->selectivity[ION_CL] *= value->of[UNCERTAIN_SALT_UPTAKE];
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        growth->tissue_mmol_g[i][0] *= value->of[UNCERTAIN_EATING];
        growth->tissue_mmol_g[i][1] *= value->of[UNCERTAIN_EATING];
    }
}

/* What the water holds and what the stock adds to it, each times its own factor. Both
 * parts are neutral, so the sum is. */
static void draw_world_liquids(struct liquid *water, struct liquid *stock,
                               const struct draw_values *value)
{
    const double minerals = value->of[UNCERTAIN_WATER];
    const double dose = value->of[UNCERTAIN_DOSE];
    for (int i = 0; i < ION_COUNT; i++) {
        const double added = stock->mmol_l[i] - water->mmol_l[i];
        water->mmol_l[i] *= minerals;
        stock->mmol_l[i] = fmax(water->mmol_l[i] + dose * added, 0);
    }
    const double added_meq_l = stock->alkalinity_meq_l - water->alkalinity_meq_l;
    water->alkalinity_meq_l *= minerals;
    stock->alkalinity_meq_l = water->alkalinity_meq_l + dose * added_meq_l;
}

static struct strategy_hand draw_world_hand(const struct uncertain *uncertain,
                                            const struct draw_values *value,
                                            const double unit[DRAW_WIDTH])
{
    return (struct strategy_hand){
        .seed = (uint64_t)(unit[DRAW_VISITS] * hash_words),
        .missed = uncertain->spread[UNCERTAIN_MISSED],
        .late_d = uncertain->spread[UNCERTAIN_VISIT_TIME],
        .pen_relative = value->of[UNCERTAIN_PEN],
    };
}

static void draw_world_bucket(struct scenario *world, double factor)
{
    const double rim_l = shape_rim_l(&world->bucket);
    const double full_l = fmin(world->bucket.full_l * factor, rim_l);
    world->start_l *= full_l / world->bucket.full_l;
    world->bucket.full_l = full_l;
}

void draw_world(struct scenario *world, const struct scenario *scenario,
                const double unit[DRAW_WIDTH])
{
    struct draw_values value;
    for (int i = 0; i < DRAW_VISITS; i++) {
        value.of[i] = draw_value(&scenario->uncertain, (enum uncertain_input)i, unit[i]);
    }
    *world = *scenario;
    draw_world_room(&world->room, &value);
    draw_world_bucket(world, value.of[UNCERTAIN_FILL_LINE]);
    world->evaporation_l_d *= value.of[UNCERTAIN_EVAPORATION];
    if (world->crop.kind == CROP_TABLE) {
        draw_world_table(&world->crop, &value);
    } else if (world->crop.kind == CROP_GROWN) {
        draw_world_grown(&world->crop.growth, &value);
    }
    draw_world_liquids(&world->water, &world->stock, &value);
    for (size_t i = 0; i < world->strategy_count; i++) {
        struct strategy *strategy = &world->strategies[i];
        draw_world_liquids(&strategy->water, &strategy->stock, &value);
        strategy->hand = draw_world_hand(&scenario->uncertain, &value, unit);
    }
}
