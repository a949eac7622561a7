/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/beyond.h"

#include <math.h>

#include "pailcast/chem/conductivity.h"
#include "pailcast/plant/stress.h"

struct beyond beyond_of(const struct life *life, const struct scenario *scenario)
{
    const struct trajectory *path = &life->trajectory;
    const bool grown = scenario->crop.kind == CROP_GROWN;
    struct beyond beyond = {.ec_d = NAN, .salt_d = NAN};
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *sample = &path->samples[i];
        const bool lost = sample->day_d > life->first.plant_lost; /* NAN: never */
        beyond.most_ms_cm = fmax(beyond.most_ms_cm, sample->ec_ms_cm);
        if (isnan(beyond.ec_d) && sample->ec_ms_cm > conductivity_checked_ms_cm) {
            beyond.ec_d = sample->day_d;
        }
        if (isnan(beyond.salt_d) && grown && !lost &&
            sample->ec_ms_cm > stress_salinity_checked_ms_cm) {
            beyond.salt_d = sample->day_d;
        }
    }
    return beyond;
}
