/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The liquids around a bucket, brought to what the pen reads of them. */
#include <math.h>
#include <stdlib.h>

#include "pailcast/base/moment.h"
#include "pailcast/base/root.h"
#include "pailcast/chem/salt.h"
#include "pailcast/run/life.h"
#include "pailcast/study/pour.h"

/* Growers' pens refer to 25 degC; the air's CO2 hardly shows in the EC. */
static const double kit_temperature_c = 25, kit_co2_ppm = 420;

/* A liquid that reads less says nothing of what it would be when concentrated. */
static const double kit_least_ms_cm = 0.005;

/* How close a strength is searched, as a share of it: far below what a pen shows. */
static const double kit_tolerance = 1e-10;

/* The shipped recipe fruiting_full, a litre of it; a test holds the two together. */
static const struct kit_salt {
    const char *formula;
    double g_l;
} kit_feed[] = {{"Ca(NO3)2.4H2O", 0.57}, {"KNO3", 0.71},           {"KH2PO4", 0.165},
                {"MgSO4.7H2O", 0.185},   {"Mg(NO3)2.6H2O", 0.068}, {"NH4NO3", 0.085}};

struct liquid pour_kit_feed(double *weighed_g_l)
{
    struct liquid feed = {0};
    double sum = 0;
    for (size_t i = 0; i < sizeof kit_feed / sizeof *kit_feed; i++) {
        salt_dissolve(&feed, salt_by_formula(kit_feed[i].formula), kit_feed[i].g_l);
        sum += kit_feed[i].g_l;
    }
    if (weighed_g_l != NULL) {
        *weighed_g_l = sum;
    }
    return feed;
}

double pour_kit_volume_l(double full_l, double level_cm, double full_level_cm)
{
    return full_l * level_cm / full_level_cm;
}

struct pour_kit pour_kit_by_pen(void)
{
    double weighed_g_l;
    const struct liquid feed = pour_kit_feed(&weighed_g_l);
    struct pour_kit kit = {
        .pen = pen_at(kit_temperature_c, kit_co2_ppm),
        .bucket = feed,
        .stock = feed,
        .salts = feed,
    };
    recipe_add(&kit.weighed, "a complete dry feed", weighed_g_l);
    return kit;
}

struct kit_search {
    const struct liquid *liquid;
    const struct pen *pen;
    double ec_ms_cm;
};

static struct liquid kit_times(const struct liquid *liquid, double strength)
{
    struct liquid times = *liquid;
    for (int i = 0; i < ION_COUNT; i++) {
        times.mmol_l[i] *= strength;
    }
    times.alkalinity_meq_l *= strength;
    return times;
}

static double kit_miss(double strength, void *context)
{
    const struct kit_search *search = context;
    const struct liquid liquid = kit_times(search->liquid, strength);
    return pen_read(search->pen, &liquid).ec_ms_cm - search->ec_ms_cm;
}

struct liquid pour_kit_scaled(const struct liquid *liquid, double ec_ms_cm,
                              const struct pen *pen)
{
    const struct liquid feed = pour_kit_feed(NULL);
    const double own_ms_cm = pen_read(pen, liquid).ec_ms_cm;
    const bool empty = own_ms_cm < kit_least_ms_cm;
    const struct liquid *like = empty ? &feed : liquid;
    struct kit_search search = {like, pen, ec_ms_cm};
    if (kit_miss(0, &search) >= 0) {
        return (struct liquid){0};
    }
    double high = 1;
    while (kit_miss(high, &search) < 0 && high < 1e6) {
        high *= 2;
    }
    return kit_times(like, root_find(kit_miss, &search, 0, high, kit_tolerance * high));
}

/* The last sample, or that before the hands came where the last day is a visit's. */
static const struct sample *kit_last(const struct trajectory *trajectory)
{
    const struct sample *samples = trajectory->samples;
    const size_t last = trajectory->sample_count - 1;
    for (size_t i = last; i > 0; i--) {
        if (samples[i].day_d < samples[last].day_d - moment_slack_d) {
            break;
        }
        if (samples[i].event == EVENT_BEFORE_VISIT) {
            return &samples[i];
        }
    }
    return &samples[last];
}

/* Lives the strategy to day_d and takes over what the bucket then holds. */
static enum status kit_live(struct pour_kit *kit, struct pour_readings *readings,
                            const struct scenario *scenario,
                            const struct strategy *strategy, double day_d,
                            struct error *error)
{
    struct life life = {0};
    struct scenario *until = scenario_copy(scenario);
    if (until == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for a life");
    }
    until->duration_d = day_d;
    until->sample_every_d = day_d;
    const enum status status = life_run(&life, until, strategy, error);
    if (status == STATUS_OK) {
        const struct sample *last = kit_last(&life.trajectory);
        kit->bucket = state_liquid(last->state);
        kit->fill = *strategy_fill_at(strategy, last->stage);
        readings->volume_l =
            isnan(readings->volume_l) ? last->state[STATE_VOLUME] : readings->volume_l;
        readings->ec_ms_cm =
            isnan(readings->ec_ms_cm) ? last->ec_ms_cm : readings->ec_ms_cm;
    }
    life_free(&life);
    free(until);
    return status;
}

enum status pour_kit_of_scenario(struct pour_kit *kit, struct pour_readings *readings,
                                 const struct scenario *scenario,
                                 const struct strategy *strategy, double day_d,
                                 struct error *error)
{
    *kit = (struct pour_kit){
        .pen = pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm),
        .bucket = scenario_start_liquid(scenario, strategy),
        .water = strategy->water,
        .stock = strategy->stock,
        .salts = strategy->recipe,
        .weighed = strategy->weighed,
        .has_stock = liquid_salt_g_l(&strategy->recipe) > 0,
        .adjust = strategy->adjust,
        .fill = *strategy_fill_at(strategy, 0),
    };
    if (!kit->has_stock) {
        double weighed_g_l;
        kit->salts = pour_kit_feed(&weighed_g_l);
        recipe_add(&kit->weighed, "a complete dry feed", weighed_g_l);
    } else if (kit->weighed.count == 0) {
        recipe_add(&kit->weighed, "the dry salts of the stock",
                   liquid_salt_g_l(&kit->salts));
    }
    if (isnan(readings->full_l)) {
        readings->full_l = scenario->bucket.full_l;
    }
    enum status status = STATUS_OK;
    if (!isnan(day_d) && (!(day_d > 0) || day_d > scenario->duration_d)) {
        return status_error(error, STATUS_INPUT,
                            "day %g is not in the scenario; accepted are days above 0 up "
                            "to %g",
                            day_d, scenario->duration_d);
    }
    if (!isnan(day_d)) {
        status = kit_live(kit, readings, scenario, strategy, day_d, error);
    }
    if (isnan(readings->aim_ec_ms_cm)) {
        readings->aim_ec_ms_cm = kit->fill.aim_ec_ms_cm;
    }
    return status;
}
