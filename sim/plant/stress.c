/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/plant/stress.h"

#include <math.h>

#include "pailcast/base/number.h"

const double stress_salinity_checked_ms_cm = 6;

static const double salinity_corner_ms_cm = 0.1;
/* The corner is rounded where two nutrients are short alike and gone at 0 and 1, so that
 * the factor is continuous, exactly 1 with plenty and exactly 0 with one at its minimum.
 */
static const double shortage_corner = 0.1;

double stress_salinity(const struct crop_growth *growth, double ec_ms_cm)
{
    double excess =
        number_ramp(ec_ms_cm - growth->salinity_threshold_ms_cm, salinity_corner_ms_cm);
    return fmax(1 - growth->salinity_slope * excess, 0);
}

double stress_shortage(const double content_mmol[], const double optimum_mmol_g[],
                       double dry_mass_g, double minimum_ratio)
{
    double worst = 1;
    for (int i = 0; i < NUTRIENT_COUNT; i++) {
        const double wanted_mmol = optimum_mmol_g[i] * dry_mass_g;
        if (!(wanted_mmol > 0)) {
            continue; /* nothing can lack that is not needed */
        }
        double ratio = content_mmol[i] / wanted_mmol;
        double factor = number_switch((ratio - minimum_ratio) / (1 - minimum_ratio));
        if (factor >= 1) { /* the lesser of the worst and 1 */
            continue;
        }
        worst = number_lesser(
            worst, factor, shortage_corner * worst * factor * (1 - worst) * (1 - factor));
    }
    return worst;
}

double stress_root_temperature(double water_temperature_c)
{
    return number_plateau(water_temperature_c, 8, 22, 28, 38);
}

double stress_oxygen(double oxygen_mg_l)
{
    const double half_mg_l = 0.3;
    return fmin(1, oxygen_mg_l / (half_mg_l + oxygen_mg_l) / 0.9);
}
