/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "course.h"

#include <math.h>
#include <string.h>

void course_prepare(struct course *course, const struct scenario *scenario,
                    const struct pen *pen, bool ideal)
{
    struct rates *rates = &course->rates;
    course->crop = crop_scaled(&scenario->crop, &scenario->learned.plant);
    *rates = (struct rates){.crop = &course->crop,
                            .plant = plant_kind_of(scenario->crop.kind),
                            .shape = scenario->bucket,
                            .evaporation_l_d =
                                scenario->evaporation_l_d * scenario->learned.evaporation,
                            .ideal = ideal};
    rates->acidity = acidity_at(&pen->equilibrium, pen->co2_ppm);
    rates->plant->prepare(&course->lamp_off, &course->crop, &scenario->room, false);
    rates->plant->prepare(&course->lamp_on, &course->crop, &scenario->room, true);
}

void course_start(double state[STATE_COUNT], const struct course *course,
                  const struct scenario *scenario, const struct strategy *strategy)
{
    const struct liquid liquid = scenario_start_liquid(scenario, strategy);
    memset(state, 0, sizeof(double) * STATE_COUNT);
    state_pour(state, &liquid, scenario->start_l);
    course->rates.plant->start(state + STATE_PLANT, &course->crop);
    double *depth_cm = &state[STATE_PLANT + PLANT_ROOT_DEPTH];
    *depth_cm = fmin(*depth_cm, shape_root_room_cm(&scenario->bucket));
}

void course_set(struct course *course, bool lamp_on, size_t stage)
{
    course->rates.setting = lamp_on ? course->lamp_on : course->lamp_off;
    course->rates.stage = stage;
}
