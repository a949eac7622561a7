/* SPDX-License-Identifier: GPL-3.0-or-later */
/* With radius r(h) = r0 + s h the volume below h is pi (r(h)^3 - r0^3) / (3 s), straight
 * walls being the limit s -> 0. */
#include "pailcast/bucket/shape.h"

#include <math.h>

static const double shape_pi = 3.14159265358979323846;
static const double cm3_per_litre = 1000;

static double shape_bottom_radius_cm(const struct shape *shape)
{
    return 0.5 * shape->bottom_diameter_cm;
}

/* cm of radius gained per cm of height. */
static double shape_slope(const struct shape *shape)
{
    return 0.5 * (shape->top_diameter_cm - shape->bottom_diameter_cm) / shape->height_cm;
}

double shape_volume_l(const struct shape *shape, double level_cm)
{
    double r = shape_bottom_radius_cm(shape);
    double s = shape_slope(shape);
    double h = level_cm;
    return shape_pi * h * (r * r + r * s * h + s * s * h * h / 3) / cm3_per_litre;
}

double shape_rim_l(const struct shape *shape)
{
    return shape_volume_l(shape, shape->height_cm);
}

double shape_level_cm(const struct shape *shape, double volume_l)
{
    if (volume_l <= 0) {
        return 0;
    }
    double r = shape_bottom_radius_cm(shape);
    double s = shape_slope(shape);
    double base_cm3 = volume_l * cm3_per_litre / shape_pi;
    const double straight = 1e-6;
    if (fabs(s) < straight) {
        return base_cm3 / (r * r);
    }
    return (cbrt(r * r * r + 3 * s * base_cm3) - r) / s;
}

double shape_root_room_cm(const struct shape *shape)
{
    return fmax(shape->height_cm - shape->net_pot_depth_cm, 0);
}
