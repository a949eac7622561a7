/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/outage.h"

#include <math.h>

#include "pailcast/chem/oxygen.h"

const double outage_floor_mg_l = 3;

const struct outage_plant outage_plants[OUTAGE_PLANTS] = {
    {"a full-grown lettuce", 1.5},
    {"a large basil or strawberry", 5},
    {"a large tomato or pepper", 50},
};

struct outage outage_of(double volume_l, double temperature_c, double root_mass_g)
{
    return (struct outage){
        .saturation_mg_l = oxygen_saturation_mg_l(temperature_c),
        .reserve_h =
            oxygen_reserve_h(volume_l, temperature_c, root_mass_g, outage_floor_mg_l),
        .empty_h = oxygen_reserve_h(volume_l, temperature_c, root_mass_g, 0),
    };
}

static struct outage_worst outage_of_sample(const struct sample *sample,
                                            const struct scenario *scenario)
{
    const double volume_l = sample->state[STATE_VOLUME];
    const double root_g = sample->state[STATE_PLANT + PLANT_ROOT_MASS];
    return (struct outage_worst){
        root_g > 0 ? sample->day_d : NAN, volume_l, root_g,
        outage_of(volume_l, scenario->room.water_temperature_c, root_g)};
}

struct outage_worst outage_worst_of(const struct life *life,
                                    const struct scenario *scenario)
{
    struct outage_worst worst = {.day_d = NAN,
                                 .outage = {.reserve_h = INFINITY, .empty_h = INFINITY}};
    const double lost_d = fmin(life->first.plant_lost, INFINITY);
    for (size_t i = 0; i < life->trajectory.sample_count; i++) {
        if (life->trajectory.samples[i].day_d >= lost_d) {
            break;
        }
        const struct outage_worst here =
            outage_of_sample(&life->trajectory.samples[i], scenario);
        if (here.outage.reserve_h < worst.outage.reserve_h) {
            worst = here;
        }
    }
    return worst;
}

struct outage_worst outage_on_day(const struct life *life,
                                  const struct scenario *scenario, double day_d)
{
    const struct trajectory *trajectory = &life->trajectory;
    size_t i = 0;
    while (i + 1 < trajectory->sample_count &&
           trajectory->samples[i + 1].day_d <= day_d) {
        i++;
    }
    return outage_of_sample(&trajectory->samples[i], scenario);
}
