/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "thresholds.h"

#include <math.h>

#include "pailcast/bucket/rates.h"
#include "pailcast/chem/conductivity.h"

/* Roots have lost the water when they reach half of full supply (chosen). */
static const double wet_lost = 0.5;

/* A bucket with a hundredth of its filling is empty (chosen). */
static const double empty_share = 0.01;

/* Nearer to the line than this share, of EC or of hydrogen-ion activity, is on it
 * (chosen: finer than any pen). */
static const double confirm_share = 1e-3;

static void thresholds_add(struct thresholds *thresholds, enum event event, enum ion ion,
                           double limit)
{
    thresholds->list[thresholds->count++] =
        (struct threshold){.event = event, .ion = ion, .limit = limit, .armed = true};
}

/* What the armed thresholds ask for. */
static void thresholds_want(struct thresholds *thresholds)
{
    thresholds->wants_ec = thresholds->wants_ph = false;
    for (size_t i = 0; i < thresholds->count; i++) {
        const struct threshold *threshold = &thresholds->list[i];
        const enum event event = threshold->event;
        if (threshold->armed) {
            thresholds->wants_ec |= event == EVENT_EC_HIGH || event == EVENT_EC_LOW;
            thresholds->wants_ph |= event == EVENT_PH_HIGH || event == EVENT_PH_LOW;
        }
    }
}

void thresholds_init(struct thresholds *thresholds, const struct scenario *scenario,
                     const struct acidity *acidity)
{
    const struct scenario_limits *limits = &scenario->limits;
    const bool plant = scenario->crop.kind != CROP_NONE;
    *thresholds = (struct thresholds){.shape = scenario->bucket,
                                      .acidity = *acidity,
                                      .ec_ratio = 1,
                                      .hydrogen_ratio = 1};
    if (isfinite(limits->ec_high_ms_cm)) {
        thresholds_add(thresholds, EVENT_EC_HIGH, ION_COUNT, limits->ec_high_ms_cm);
    }
    if (limits->ec_low_ms_cm > 0) {
        thresholds_add(thresholds, EVENT_EC_LOW, ION_COUNT, limits->ec_low_ms_cm);
    }
    if (limits->ph_high < 14) {
        thresholds_add(thresholds, EVENT_PH_HIGH, ION_COUNT, pow(10, -limits->ph_high));
    }
    if (limits->ph_low > 0) {
        thresholds_add(thresholds, EVENT_PH_LOW, ION_COUNT, pow(10, -limits->ph_low));
    }
    for (int i = 0; i < ION_COUNT; i++) {
        if (isfinite(limits->high_mmol_l[i])) {
            thresholds_add(thresholds, EVENT_ION_HIGH, (enum ion)i,
                           limits->high_mmol_l[i]);
        }
        if (plant && limits->low_mmol_l[i] > 0) {
            thresholds_add(thresholds, EVENT_NUTRIENT_LOW, (enum ion)i,
                           limits->low_mmol_l[i]);
        }
    }
    thresholds_add(thresholds, EVENT_BUCKET_EMPTY, ION_COUNT,
                   empty_share * scenario->bucket.full_l);
    if (plant) {
        thresholds_add(thresholds, EVENT_ROOTS_DRY, ION_COUNT, wet_lost);
        thresholds_add(thresholds, EVENT_PLANT_LOST, ION_COUNT, plant_thirst_limit_d);
    }
    thresholds_want(thresholds);
}

static double thresholds_ec_estimate(const struct liquid *liquid)
{
    return conductivity_estimate(liquid->mmol_l, liquid->alkalinity_meq_l);
}

static double thresholds_hydrogen_estimate(const struct liquid *liquid,
                                           const struct acidity *acidity)
{
    return acidity_hydrogen(acidity, liquid->alkalinity_meq_l, liquid->mmol_l[ION_P]);
}

void thresholds_calibrate(struct thresholds *thresholds, const double state[STATE_COUNT],
                          const struct pen_reading *reading)
{
    const struct liquid liquid = state_liquid(state);
    if (thresholds->wants_ec) {
        const double estimate = thresholds_ec_estimate(&liquid);
        thresholds->ec_ratio = estimate > 0 ? reading->ec_ms_cm / estimate : 1;
    }
    if (thresholds->wants_ph) {
        thresholds->hydrogen_ratio =
            pow(10, -reading->ph) /
            thresholds_hydrogen_estimate(&liquid, &thresholds->acidity);
    }
}

/* Estimates tied to the full values; zero where no armed threshold asks. */
struct thresholds_readings {
    double ec_ms_cm, hydrogen;
};

static struct thresholds_readings thresholds_read(const double state[STATE_COUNT],
                                                  const struct thresholds *thresholds)
{
    struct thresholds_readings readings = {0};
    if (!thresholds->wants_ec && !thresholds->wants_ph) {
        return readings;
    }
    const struct liquid liquid = state_liquid(state);
    if (thresholds->wants_ec) {
        readings.ec_ms_cm = thresholds->ec_ratio * thresholds_ec_estimate(&liquid);
    }
    if (thresholds->wants_ph) {
        readings.hydrogen = thresholds->hydrogen_ratio *
                            thresholds_hydrogen_estimate(&liquid, &thresholds->acidity);
    }
    return readings;
}

static double thresholds_value(const struct threshold *threshold,
                               const double state[STATE_COUNT], double per_litre,
                               const struct thresholds_readings *readings,
                               const struct shape *shape)
{
    switch (threshold->event) {
    case EVENT_EC_HIGH:
        return readings->ec_ms_cm - threshold->limit;
    case EVENT_EC_LOW:
        return threshold->limit - readings->ec_ms_cm;
    case EVENT_PH_HIGH:
        return 1 - readings->hydrogen / threshold->limit;
    case EVENT_PH_LOW:
        return readings->hydrogen / threshold->limit - 1;
    case EVENT_ION_HIGH:
        return state[STATE_ION + threshold->ion] * per_litre - threshold->limit;
    case EVENT_NUTRIENT_LOW:
        return threshold->limit - state[STATE_ION + threshold->ion] * per_litre;
    case EVENT_ROOTS_DRY:
        return threshold->limit - rates_wet(state, shape);
    case EVENT_BUCKET_EMPTY:
        return threshold->limit - state[STATE_VOLUME];
    case EVENT_PLANT_LOST:
        return state[STATE_PLANT + PLANT_THIRST] - threshold->limit;
    default:
        return -1;
    }
}

void thresholds_values(double value[], const double state[STATE_COUNT],
                       const struct thresholds *thresholds)
{
    const struct thresholds_readings readings = thresholds_read(state, thresholds);
    const double per_litre = state[STATE_VOLUME] > 0 ? 1 / state[STATE_VOLUME] : 0;
    for (size_t i = 0; i < thresholds->count; i++) {
        const struct threshold *threshold = &thresholds->list[i];
        value[i] = threshold->armed ? thresholds_value(threshold, state, per_litre,
                                                       &readings, &thresholds->shape)
                                    : -1;
    }
}

bool thresholds_confirm(struct thresholds *thresholds, size_t index,
                        const double state[STATE_COUNT], const struct pen *pen)
{
    const struct threshold *threshold = &thresholds->list[index];
    const enum event event = threshold->event;
    const bool by_ec = event == EVENT_EC_HIGH || event == EVENT_EC_LOW;
    if (!by_ec && event != EVENT_PH_HIGH && event != EVENT_PH_LOW) {
        return true;
    }
    const struct liquid liquid = state_liquid(state);
    const struct pen_reading reading = pen_read(pen, &liquid);
    thresholds_calibrate(thresholds, state, &reading);
    const struct thresholds_readings readings = thresholds_read(state, thresholds);
    const double miss =
        thresholds_value(threshold, state, 0, &readings, &thresholds->shape);
    return miss > -confirm_share * (by_ec ? threshold->limit : 1);
}

/* Where the day of an event is noted. */
static double *thresholds_day(struct life_first_days *days,
                              const struct threshold *threshold)
{
    switch (threshold->event) {
    case EVENT_EC_HIGH:
        return &days->ec_high;
    case EVENT_EC_LOW:
        return &days->ec_low;
    case EVENT_PH_HIGH:
        return &days->ph_high;
    case EVENT_PH_LOW:
        return &days->ph_low;
    case EVENT_ION_HIGH:
        return &days->ion_high[threshold->ion];
    case EVENT_NUTRIENT_LOW:
        return &days->nutrient_low[threshold->ion];
    case EVENT_ROOTS_DRY:
        return &days->roots_dry;
    case EVENT_BUCKET_EMPTY:
        return &days->bucket_empty;
    default:
        return &days->plant_lost;
    }
}

void thresholds_cross(struct thresholds *thresholds, size_t index, double day_d,
                      struct life_first_days *first)
{
    struct threshold *threshold = &thresholds->list[index];
    double *first_d = thresholds_day(first, threshold);
    threshold->armed = false;
    thresholds_want(thresholds);
    *first_d = isnan(*first_d) ? day_d : *first_d;
}

void thresholds_left(struct life_first_days *left, const struct thresholds *thresholds,
                     const double state[STATE_COUNT], const struct pen_reading *reading,
                     double day_d)
{
    const struct thresholds_readings readings = {reading->ec_ms_cm,
                                                 pow(10, -reading->ph)};
    const double per_litre = state[STATE_VOLUME] > 0 ? 1 / state[STATE_VOLUME] : 0;
    thresholds_clear(left);
    for (size_t i = 0; i < thresholds->count; i++) {
        const struct threshold *threshold = &thresholds->list[i];
        if (threshold->event != EVENT_PLANT_LOST &&
            thresholds_value(threshold, state, per_litre, &readings, &thresholds->shape) >
                0) {
            *thresholds_day(left, threshold) = day_d;
        }
    }
}

void thresholds_clear(struct life_first_days *days)
{
    days->ec_high = days->ec_low = NAN;
    days->ph_high = days->ph_low = NAN;
    days->roots_dry = days->bucket_empty = days->plant_lost = NAN;
    for (int i = 0; i < ION_COUNT; i++) {
        days->ion_high[i] = NAN;
        days->nutrient_low[i] = NAN;
    }
}
