/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice_visit.h"

#include <math.h>

#include "pailcast/base/root.h"

/* How far below the limit an action aims, so that it is not needed again at once
 * (chosen). */
static const double advice_target_share = 0.8;

/* A water that makes up this share of the EC aimed at leaves too little to stock
 * (chosen).
 */
static const double advice_salty_share = 0.3;

struct advice_search {
    const struct visit_record *visit;
    const struct scenario *scenario;
    const struct liquid *water;
    const struct pen *pen;
    double target_ms_cm;
};

/* The bucket on arrival, drained and filled up with water. */
static struct liquid advice_refilled(const struct visit_record *visit,
                                     const struct scenario *scenario,
                                     const struct liquid *water, double drain_l)
{
    const double full_l = fmax(scenario->bucket.full_l, visit->volume_before_l);
    const double kept_l = fmax(visit->volume_before_l - drain_l, 0);
    return liquid_mix(water, &visit->before, kept_l / full_l);
}

static double advice_drain_miss(double drain_l, void *context)
{
    const struct advice_search *search = context;
    const struct liquid refilled =
        advice_refilled(search->visit, search->scenario, search->water, drain_l);
    return pen_read(search->pen, &refilled).ec_ms_cm - search->target_ms_cm;
}

bool advice_visit_too_strong(struct advice_drain *drain, const struct compare_row *row,
                             const struct scenario *scenario)
{
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    const double limit = scenario->limits.ec_high_ms_cm;
    struct advice_search search = {.scenario = scenario,
                                   .water = &row->strategy->water,
                                   .pen = &pen,
                                   .target_ms_cm = advice_target_share * limit};
    for (size_t i = 0; i < row->life.trajectory.visit_count; i++) {
        search.visit = &row->life.trajectory.visits[i];
        if (search.visit->ec_before_ms_cm <= limit) {
            continue;
        }
        drain->full_ec_ms_cm = advice_drain_miss(0, &search) + search.target_ms_cm;
        if (drain->full_ec_ms_cm <= limit) {
            continue;
        }
        const double held_l = search.visit->volume_before_l;
        drain->day_d = search.visit->day_d;
        drain->possible = advice_drain_miss(held_l, &search) < 0;
        drain->drain_l = root_find(advice_drain_miss, &search, 0, held_l, 1e-3 * held_l);
        return true;
    }
    return false;
}

bool advice_visit_left_strong(double *day_d, const struct compare_row *row,
                              double limit_ms_cm)
{
    for (size_t i = 0; i < row->life.trajectory.visit_count; i++) {
        const struct visit_record *visit = &row->life.trajectory.visits[i];
        if (visit->ec_after_ms_cm > limit_ms_cm) {
            *day_d = visit->day_d;
            return true;
        }
    }
    return false;
}

bool advice_visit_ion(struct advice_drain *drain, const struct compare_row *row,
                      const struct scenario *scenario, enum ion ion)
{
    const double limit = scenario->limits.high_mmol_l[ion];
    const double from_water = row->strategy->water.mmol_l[ion];
    for (size_t i = 0; i < row->life.trajectory.visit_count; i++) {
        const struct visit_record *visit = &row->life.trajectory.visits[i];
        const double full_mmol_l =
            advice_refilled(visit, scenario, &row->strategy->water, 0).mmol_l[ion];
        if (full_mmol_l <= limit) {
            continue;
        }
        /* Each litre drained takes its share out and lets a litre of water in. */
        const double full_l = fmax(scenario->bucket.full_l, visit->volume_before_l);
        const double per_litre = (visit->before.mmol_l[ion] - from_water) / full_l;
        drain->day_d = visit->day_d;
        drain->possible = per_litre > 0;
        drain->drain_l = per_litre > 0 ? fmin((full_mmol_l - 0.5 * limit) / per_litre,
                                              visit->volume_before_l)
                                       : visit->volume_before_l;
        return true;
    }
    return false;
}

/* A bucket that is nearly full takes too little to be moved far, and a few percent off
 * the aim are within what pens differ by (chosen: 5 %). */
static bool advice_minds(const struct visit_record *visit)
{
    const double off = fabs(visit->fill.best_ec_ms_cm - visit->fill.aim_ec_ms_cm);
    return off > 0.05 * visit->fill.aim_ec_ms_cm;
}

/* One side of the aim: the nearest that pouring comes lies above it, or below. */
static bool advice_missed(struct advice_missed *missed, const struct compare_row *row,
                          bool above)
{
    *missed = (struct advice_missed){0};
    for (size_t i = 0; i < row->life.trajectory.visit_count; i++) {
        const struct visit_record *visit = &row->life.trajectory.visits[i];
        const struct fill_plan *fill = &visit->fill;
        if (fill->reached || !advice_minds(visit)) {
            missed->met_later |= missed->count > 0 && fill->aim_ec_ms_cm > 0;
            continue;
        }
        if (above != (fill->best_ec_ms_cm > fill->aim_ec_ms_cm)) {
            continue;
        }
        if (missed->count == 0) {
            missed->day_d = visit->day_d;
            missed->first_drain_l = fill->drain_first_l;
            missed->best_ec_ms_cm = fill->best_ec_ms_cm;
            missed->aim_ec_ms_cm = fill->aim_ec_ms_cm;
        }
        missed->count++;
    }
    return missed->count > 0;
}

bool advice_visit_weak(struct advice_missed *missed, const struct compare_row *row)
{
    return advice_missed(missed, row, false);
}

bool advice_visit_strong(struct advice_missed *missed, const struct compare_row *row)
{
    return advice_missed(missed, row, true);
}

bool advice_visit_solid(double *day_d, enum solid *solid, const struct compare_row *row,
                        const struct scenario *scenario)
{
    static const double starts_at[SOLID_COUNT] = {[SOLID_CALCITE] = 0.5};
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    for (size_t i = 0; i < row->life.trajectory.visit_count; i++) {
        const struct visit_record *visit = &row->life.trajectory.visits[i];
        const struct speciation speciation =
            speciation_solve(&visit->before, &pen.equilibrium, pen.co2_ppm);
        double index[SOLID_COUNT];
        double furthest = 0;
        saturation_index(index, &speciation, &pen.equilibrium);
        for (int k = 0; k < SOLID_COUNT; k++) {
            if (index[k] - starts_at[k] > furthest) {
                furthest = index[k] - starts_at[k];
                *solid = (enum solid)k;
            }
        }
        if (furthest > 0) {
            *day_d = visit->day_d;
            return true;
        }
    }
    return false;
}

double advice_visit_ec_on(const struct compare_row *row, double day_d)
{
    const struct trajectory *trajectory = &row->life.trajectory;
    double ec = trajectory->samples[0].ec_ms_cm;
    for (size_t i = 0; i < trajectory->sample_count; i++) {
        if (trajectory->samples[i].day_d > day_d) {
            break;
        }
        ec = trajectory->samples[i].ec_ms_cm;
    }
    return ec;
}

bool advice_visit_salty_water(const struct compare_row *row,
                              const struct scenario *scenario, double day_d)
{
    const struct trajectory *path = &row->life.trajectory;
    const struct room *room = &scenario->room;
    const struct pen pen = pen_at(room->water_temperature_c, room->root_co2_ppm);
    const double water_ms_cm = pen_read(&pen, &row->strategy->water).ec_ms_cm;
    double aim_ms_cm = 0; /* of no visit, and of one that aims at nothing */
    for (size_t i = 0; i < path->visit_count && path->visits[i].day_d <= day_d; i++) {
        aim_ms_cm = path->visits[i].fill.aim_ec_ms_cm;
    }
    return aim_ms_cm > 0 && water_ms_cm >= advice_salty_share * aim_ms_cm;
}
