/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant as measured: in each stage it drinks so many litres a day and takes up, per
 * litre drunk, `eats` mmol of an ion plus `follows` times the ion's concentration. */
#include <math.h>
#include <string.h>

#include "pailcast/base/moment.h"
#include "pailcast/base/number.h"
#include "plants.h"

/* Below this concentration the last of an ion is taken ever more slowly, mmol/L (chosen:
 * the order of half-saturation constants). */
static const double table_floor_mmol_l = 0.05;

static void table_start(double state[PLANT_STATE_COUNT], const struct crop *crop)
{
    memset(state, 0, sizeof(double) * PLANT_STATE_COUNT);
    state[PLANT_ROOT_DEPTH] = crop->root_start_cm;
}

static void table_prepare(struct plant_setting *setting, const struct crop *crop,
                          const struct room *room, bool lamp_on)
{
    (void)crop;
    (void)room;
    (void)lamp_on;
    *setting = (struct plant_setting){0};
}

static size_t table_stage(const struct crop *crop, const double state[PLANT_STATE_COUNT],
                          double day_d)
{
    (void)state;
    double begins = 0;
    size_t stage = 0;
    while (stage + 1 < crop->stage_count) {
        begins += crop->stages[stage].lasts_d;
        if (day_d < begins - moment_slack_d) {
            break;
        }
        stage++;
    }
    return stage;
}

static double table_next_change(const struct crop *crop, double day_d)
{
    double begins = 0;
    for (size_t stage = 0; stage + 1 < crop->stage_count; stage++) {
        begins += crop->stages[stage].lasts_d;
        if (begins > day_d + moment_slack_d) {
            return begins;
        }
    }
    return INFINITY;
}

static void table_rates(double rate[PLANT_STATE_COUNT], struct plant_exchange *exchange,
                        const double state[PLANT_STATE_COUNT], size_t stage_index,
                        const struct crop *crop, const struct plant_setting *setting,
                        const struct plant_medium *medium, bool ideal)
{
    (void)state;
    (void)setting;
    const struct crop_stage *stage = &crop->stages[stage_index];
    memset(rate, 0, sizeof(double) * PLANT_STATE_COUNT);
    const double wet = ideal ? 1 : medium->wet;
    exchange->drunk_l_d = stage->drinks_l_d * wet;
    exchange->grown_g_d = 0;
    for (int i = 0; i < ION_COUNT; i++) {
        double c = medium->mmol_l[i];
        double eaten = stage->eats_mmol_l[i] * number_switch(c / table_floor_mmol_l);
        exchange->uptake_mmol_d[i] =
            (eaten + stage->follows[i] * c) * exchange->drunk_l_d;
    }
}

const struct plant_kind table_plant = {
    .start = table_start,
    .prepare = table_prepare,
    .rates = table_rates,
    .stage = table_stage,
    .next_change = table_next_change,
};
