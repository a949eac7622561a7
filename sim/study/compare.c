/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/compare.h"

#include <math.h>

#include "pailcast/study/advice.h"

static void compare_ec(struct compare_row *row)
{
    const struct trajectory *trajectory = &row->life.trajectory;
    const struct sample *samples = trajectory->samples;
    const size_t count = trajectory->sample_count;
    double area = 0;
    row->ec_min = row->ec_max = samples[0].ec_ms_cm;
    for (size_t i = 0; i < count; i++) {
        row->ec_min = fmin(row->ec_min, samples[i].ec_ms_cm);
        row->ec_max = fmax(row->ec_max, samples[i].ec_ms_cm);
        if (i > 0) {
            area += 0.5 * (samples[i].ec_ms_cm + samples[i - 1].ec_ms_cm) *
                    (samples[i].day_d - samples[i - 1].day_d);
        }
    }
    const double span_d = samples[count - 1].day_d - samples[0].day_d;
    row->ec_last = samples[count - 1].ec_ms_cm;
    row->ec_mean = span_d > 0 ? area / span_d : row->ec_last;
}

static void compare_nutrients(struct compare_row *row)
{
    row->nutrient_low = ION_COUNT;
    row->nutrient_low_d = NAN;
    for (int i = 0; i < ION_COUNT; i++) {
        const double day_d = row->life.first.nutrient_low[i];
        if (!isnan(day_d) && !(day_d >= row->nutrient_low_d)) {
            row->nutrient_low = (enum ion)i;
            row->nutrient_low_d = day_d;
        }
    }
}

static double compare_sodium(const struct sample *sample)
{
    return state_liquid(sample->state).mmol_l[ION_NA];
}

/* Dry mass made against the unstressed plant to the same day; litres drunk where the
 * plant is a table that makes none. */
static double compare_growth_index(const struct life *life, const struct life *unstressed)
{
    const struct trajectory *mine = &life->trajectory;
    const struct trajectory *theirs = &unstressed->trajectory;
    const struct sample *last = &mine->samples[mine->sample_count - 1];
    size_t k = 0;
    while (k + 1 < theirs->sample_count && theirs->samples[k].day_d < last->day_d) {
        k++;
    }
    const double *state = theirs->samples[k].state;
    const enum state measure = state[STATE_GROWN] > 0 ? STATE_GROWN : STATE_DRUNK;
    return state[measure] > 0 ? last->state[measure] / state[measure] : 1;
}

static void compare_judge(struct compare_row *row, const struct compare *compare,
                          const struct pen *pen)
{
    const struct trajectory *trajectory = &row->life.trajectory;
    const struct sample *last = &trajectory->samples[trajectory->sample_count - 1];
    compare_ec(row);
    compare_nutrients(row);
    row->sodium_last_mmol_l = compare_sodium(last);
    row->sodium_max_mmol_l = 0;
    for (size_t i = 0; i < trajectory->sample_count; i++) {
        row->sodium_max_mmol_l =
            fmax(row->sodium_max_mmol_l, compare_sodium(&trajectory->samples[i]));
    }
    row->dry_mass_g = last->state[STATE_PLANT + PLANT_DRY_MASS];
    row->growth_index = compare_growth_index(&row->life, &compare->unstressed);
    const struct compare_makeup makeup =
        compare_makeup_of(last, compare->scenario, row->strategy, pen);
    row->ballast_ec_ms_cm = compare_makeup_ballast(&makeup, row->ec_last);
    row->useful_ec_ms_cm = row->ec_last - row->ballast_ec_ms_cm;
    advice_row(row, compare->scenario);
}

enum status compare_run(struct compare *compare, const struct scenario *scenario,
                        struct error *error)
{
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    compare->scenario = scenario;
    enum status status = life_run_unstressed(&compare->unstressed, scenario, error);
    for (size_t i = 0; i < scenario->strategy_count && status == STATUS_OK; i++) {
        struct compare_row *row = &compare->rows[i];
        row->strategy = &scenario->strategies[i];
        status = life_run(&row->life, scenario, row->strategy, error);
        row->complete = status == STATUS_OK;
        if (row->life.trajectory.sample_count > 0) {
            compare->row_count = i + 1;
            compare_judge(row, compare, &pen);
        }
        row->absence.visit_d = NAN;
        if (row->complete) {
            status =
                absence_of(&row->absence, &row->life, scenario, row->strategy, error);
        }
    }
    if (compare->row_count > 0) {
        advice_verdict(compare);
    }
    return status;
}

void compare_free(struct compare *compare)
{
    for (size_t i = 0; i < compare->row_count; i++) {
        life_free(&compare->rows[i].life);
    }
    life_free(&compare->unstressed);
    compare->row_count = 0;
}
