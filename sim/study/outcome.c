/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/outcome.h"

#include <math.h>

/* A study's spread hides an error of 1e-4 many times over; tests/run/lean.c holds
 * the shipped scenarios to that against CVODE at 1e-8. */
static const double outcome_rtol_factor = 5;
static const double outcome_rtol_most = 1e-4;

const struct outcome_row outcome_table[OUTCOME_COUNT] = {
#define OUTCOME_ROW(code, key, words) [code] = {key, words},
    OUTCOME_LIST(OUTCOME_ROW)
#undef OUTCOME_ROW
};

const char *const outcome_curve_keys[OUTCOME_CURVES] = {
#define OUTCOME_CURVE_KEY(code, key) [code] = key,
    OUTCOME_CURVE_LIST(OUTCOME_CURVE_KEY)
#undef OUTCOME_CURVE_KEY
};

/* Earliest of the days that were reached; fmin passes NAN over. */
static double outcome_earliest(const double day_d[ION_COUNT], int but)
{
    double first_d = NAN;
    for (int i = 0; i < ION_COUNT; i++) {
        first_d = i == but ? first_d : fmin(first_d, day_d[i]);
    }
    return first_d;
}

/* lost_d: of the plant, which no visit brings back. */
static void outcome_days(float value[OUTCOME_DAYS], const struct life_first_days *days,
                         double lost_d)
{
    value[OUTCOME_EC_HIGH] = (float)days->ec_high;
    value[OUTCOME_EC_LOW] = (float)days->ec_low;
    value[OUTCOME_SODIUM_HIGH] = (float)days->ion_high[ION_NA];
    value[OUTCOME_ION_HIGH] = (float)outcome_earliest(days->ion_high, ION_NA);
    value[OUTCOME_NUTRIENT_LOW] = (float)outcome_earliest(days->nutrient_low, -1);
    value[OUTCOME_PH_HIGH] = (float)days->ph_high;
    value[OUTCOME_PH_LOW] = (float)days->ph_low;
    value[OUTCOME_ROOTS_DRY] = (float)days->roots_dry;
    value[OUTCOME_LOST] = (float)lost_d;
    value[OUTCOME_ACTION] = NAN;
    for (int i = 0; i < OUTCOME_ACTION; i++) {
        value[OUTCOME_ACTION] = fminf(value[OUTCOME_ACTION], value[i]);
    }
}

static const struct sample *outcome_last(const struct life *life)
{
    return &life->trajectory.samples[life->trajectory.sample_count - 1];
}

void outcome_of(float value[OUTCOME_WIDTH], const struct life *life,
                const struct life *unstressed, double duration_d)
{
    const struct sample *last = outcome_last(life);
    const double *best = outcome_last(unstressed)->state;
    const enum state measure = best[STATE_GROWN] > 0 ? STATE_GROWN : STATE_DRUNK;
    const struct ledger *ledger = &life->ledger;
    outcome_days(value, &life->first, life->first.plant_lost);
    outcome_days(value + OUTCOME_LEFT, &life->left, life->first.plant_lost);
    value[OUTCOME_GROWTH_INDEX] =
        best[measure] > 0 ? (float)(last->state[measure] / best[measure]) : 1;
    value[OUTCOME_DRY_MASS] = (float)last->state[STATE_PLANT + PLANT_DRY_MASS];
    value[OUTCOME_DRUNK] = (float)last->state[STATE_DRUNK];
    value[OUTCOME_EVAPORATED] = (float)last->state[STATE_EVAPORATED];
    value[OUTCOME_WATER_POURED] = (float)last->water_poured_l;
    value[OUTCOME_STOCK_POURED] = (float)last->stock_poured_l;
    value[OUTCOME_DRAINED] = (float)last->drained_l;
    value[OUTCOME_SALT_POURED] = (float)ledger->salt_poured_g;
    value[OUTCOME_VISITS] = (float)ledger->visits;
    value[OUTCOME_RENEWALS] = (float)ledger->renewals;
    value[OUTCOME_EC_LAST] = (float)last->ec_ms_cm;
    value[OUTCOME_QUIET] = fminf(value[OUTCOME_ACTION], (float)duration_d);
}

void outcome_curves(float value[], size_t grid_count, const struct life *life)
{
    const struct trajectory *path = &life->trajectory;
    for (size_t i = 0; i < grid_count && i < path->sample_count; i++) {
        const struct sample *sample = &path->samples[i];
        value[OUTCOME_CURVE_EC * grid_count + i] = (float)sample->ec_ms_cm;
        value[OUTCOME_CURVE_VOLUME * grid_count + i] = (float)sample->state[STATE_VOLUME];
        value[OUTCOME_CURVE_SODIUM * grid_count + i] =
            (float)state_liquid(sample->state).mmol_l[ION_NA];
    }
}

/* Lives once quickly, and again with CVODE should that fail. strategy NULL: unstressed.
 */
static enum status outcome_live(struct life *life, struct scenario *world,
                                const struct strategy *strategy,
                                const struct scenario_numerics *careful,
                                struct error *error)
{
    struct error quick = {0};
    const struct scenario_numerics study = world->numerics;
    enum status status = strategy == NULL ? life_run_unstressed(life, world, &quick)
                                          : life_run_lean(life, world, strategy, &quick);
    if (status == STATUS_SOLVER) {
        life_free(life);
        world->numerics = *careful;
        status = strategy == NULL ? life_run_unstressed(life, world, error)
                                  : life_run_lean(life, world, strategy, error);
        world->numerics = study;
        return status;
    }
    return status == STATUS_OK ? status : status_error(error, status, "%s", quick.text);
}

static enum status outcome_strategies(float values[], float curves[], size_t grid_count,
                                      struct scenario *world,
                                      const struct life *unstressed,
                                      const struct scenario_numerics *careful,
                                      struct error *error)
{
    enum status status = STATUS_OK;
    for (size_t k = 0; k < world->strategy_count && status == STATUS_OK; k++) {
        struct life life = {0};
        status = outcome_live(&life, world, &world->strategies[k], careful, error);
        if (status == STATUS_OK) {
            outcome_of(values + k * OUTCOME_WIDTH, &life, unstressed, world->duration_d);
        }
        if (status == STATUS_OK && curves != NULL) {
            outcome_curves(curves + k * OUTCOME_CURVES * grid_count, grid_count, &life);
        }
        life_free(&life);
    }
    return status;
}

enum status outcome_world(float values[], float curves[], size_t grid_count,
                          double grid_step_d, struct scenario *world, struct error *error)
{
    const struct scenario_numerics careful = world->numerics;
    const double rtol =
        fmax(careful.rtol, fmin(outcome_rtol_factor * careful.rtol, outcome_rtol_most));
    struct life unstressed = {0};
    world->numerics = (struct scenario_numerics){METHOD_ONE_STEP, rtol};
    world->sample_every_d = world->duration_d;
    enum status status = outcome_live(&unstressed, world, NULL, &careful, error);
    if (curves != NULL) {
        world->sample_every_d = grid_step_d;
    }
    if (status == STATUS_OK) {
        status = outcome_strategies(values, curves, grid_count, world, &unstressed,
                                    &careful, error);
    }
    life_free(&unstressed);
    return status;
}
