/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/scenario/display.h"
#include "reader_parts.h"

/* Proportions of a common pail with handle and lid, cm (chosen), and how much more than
 * the fill line its rim holds. */
static const struct shape bucket_pail = {.height_cm = 37,
                                         .top_diameter_cm = 30,
                                         .bottom_diameter_cm = 26,
                                         .net_pot_depth_cm = 9};
static const double bucket_spare = 1.2;
static const double bucket_least_l = 0.1;
static const double bucket_net_pot_share = 9.0 / 37.0;

/* The pail, grown or shrunk until its rim holds bucket_spare times full_l. */
static struct shape reader_bucket_scaled(double full_l)
{
    struct shape shape = bucket_pail;
    double scale = cbrt(bucket_spare * full_l / shape_rim_l(&bucket_pail));
    shape.full_l = full_l;
    shape.height_cm *= scale;
    shape.top_diameter_cm *= scale;
    shape.bottom_diameter_cm *= scale;
    shape.net_pot_depth_cm *= scale;
    return shape;
}

static void reader_bucket_walls(struct fields *fields, struct shape *shape)
{
    bool tall = fields_find(fields, "height") != NULL;
    bool wide = fields_find(fields, "top_diameter") != NULL;
    if (tall != wide || (!tall && fields_find(fields, "bottom_diameter") != NULL)) {
        fields_refuse(fields->reading, fields->group,
                      "bucket: height and top_diameter belong together; give both, or "
                      "none for a pail of common shape");
    }
    bool fine =
        fields_quantity(fields, "height", QUANTITY_LENGTH, 1, 300, &shape->height_cm);
    fine = fields_quantity(fields, "top_diameter", QUANTITY_LENGTH, 1, 300,
                           &shape->top_diameter_cm) &&
           fine;
    if (fine) {
        shape->bottom_diameter_cm = shape->top_diameter_cm;
        shape->net_pot_depth_cm = bucket_net_pot_share * shape->height_cm;
    }
    (void)fields_quantity(fields, "bottom_diameter", QUANTITY_LENGTH, 1, 300,
                          &shape->bottom_diameter_cm);
    (void)fields_quantity(fields, "net_pot_depth", QUANTITY_LENGTH, 0,
                          0.95 * shape->height_cm, &shape->net_pot_depth_cm);
}

void reader_bucket(struct reading *reading, const config_setting_t *group,
                   struct scenario *scenario)
{
    struct fields fields = fields_open(reading, group, "bucket");
    const size_t mistakes = reading->error->count;
    double full_l = 19;
    bool known =
        fields_need(&fields, "full", "\"5 gal\"") &&
        fields_quantity(&fields, "full", QUANTITY_VOLUME, bucket_least_l, 1000, &full_l);
    struct shape shape = reader_bucket_scaled(full_l);
    reader_bucket_walls(&fields, &shape);
    const double rim_l = shape_rim_l(&shape);
    const struct scenario_display *display = &scenario->display;
    if (known && reading->error->count == mistakes && full_l > rim_l) {
        fields_refuse(reading, fields_find(&fields, "full"),
                      "full: the fill line lies above the rim, up to which height and "
                      "diameters hold %s; accepted are %s to %s",
                      display_volume_fine(display, rim_l).text,
                      display_volume_fine(display, bucket_least_l).text,
                      display_volume_fine(display, rim_l).text);
    }
    scenario->bucket = shape;
    scenario->start_l = full_l;
    (void)fields_quantity(&fields, "start", QUANTITY_VOLUME, 0.001, known ? full_l : 1000,
                          &scenario->start_l);
    (void)fields_quantity(&fields, "evaporation", QUANTITY_FLOW, 0, 20,
                          &scenario->evaporation_l_d);
    (void)fields_quantity(&fields, "root_co2", QUANTITY_CO2, 0, 1e5,
                          &scenario->room.root_co2_ppm);
    fields_close(&fields);
}
