/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between stops a slope s = dy/dz follows ds/dt = (df/dy) s + df/dz. What is done at a
 * stop is a function of state and unknown too. Either is followed by stepping aside, to
 * the state y + h s in the world of z + h, and dividing what differs by h. */
#include "pailcast/run/slopes.h"

#include <stdlib.h>

#include "pailcast/base/grow.h"
#include "slopes_parts.h"

static void slopes_aside(double aside[STATE_COUNT], const double state[STATE_COUNT],
                         const double slope[STATE_COUNT], double step)
{
    for (int i = 0; i < STATE_COUNT; i++) {
        aside[i] = state[i] + step * slope[i];
    }
}

static void slopes_divide(double slope[STATE_COUNT], const double aside[STATE_COUNT],
                          const double here[STATE_COUNT], double step)
{
    for (int i = 0; i < STATE_COUNT; i++) {
        slope[i] = (aside[i] - here[i]) / step;
    }
}

static enum status slopes_no_memory(struct error *error)
{
    return status_error(error, STATUS_MEMORY, "no memory for the slopes");
}

enum status slopes_begin(struct living *living, struct error *error)
{
    struct slopes *slopes = living->slopes;
    if (slopes == NULL) {
        return STATUS_OK;
    }
    free(slopes->courses);
    slopes->courses = calloc(slopes->count, sizeof *slopes->courses);
    slopes->visits = 0;
    struct scenario *world = scenario_copy(living->scenario);
    if (world == NULL || slopes->courses == NULL) {
        free(world);
        return slopes_no_memory(error);
    }
    for (size_t k = 0; k < slopes->count; k++) {
        double aside[STATE_COUNT];
        world->learned = slopes->aside[k];
        course_prepare(&slopes->courses[k], world, &living->pen, false);
        course_start(aside, &slopes->courses[k], world, living->strategy);
        slopes_divide(solver_slope(living->solver, k), aside,
                      solver_state(living->solver), slopes->step);
    }
    free(world);
    return STATUS_OK;
}

void slopes_rate(double rate[], size_t unknown, const double state[],
                 const double state_rate[], const double slope[], void *living)
{
    const struct slopes *slopes = ((const struct living *)living)->slopes;
    double aside[STATE_COUNT];
    slopes_aside(aside, state, slope, slopes->step);
    rates_evaluate(rate, aside, &slopes->courses[unknown].rates);
    slopes_divide(rate, rate, state_rate, slopes->step);
}

void slopes_set(struct living *living, bool lamp_on, size_t stage)
{
    struct slopes *slopes = living->slopes;
    for (size_t k = 0; slopes != NULL && k < slopes->count; k++) {
        course_set(&slopes->courses[k], lamp_on, stage);
    }
}

enum status slopes_visit(struct living *living, const double arrival[],
                         const struct visit_record *visit, struct error *error)
{
    struct slopes *slopes = living->slopes;
    if (slopes == NULL) {
        return STATUS_OK;
    }
    struct slopes_reading *readings =
        grow_array(slopes->readings, slopes->visits, &slopes->room,
                   slopes->count * sizeof *readings);
    if (readings == NULL) {
        return slopes_no_memory(error);
    }
    slopes->readings = readings;
    readings += slopes->visits * slopes->count;
    const struct shape *shape = &living->scenario->bucket;
    const struct hands *hands = &living->hands;
    const double step = slopes->step;
    for (size_t k = 0; k < slopes->count; k++) {
        double *slope = solver_slope(living->solver, k);
        double aside[STATE_COUNT];
        slopes_aside(aside, arrival, slope, step);
        const struct visit_record moved =
            hands->visit(aside, living->day_d, living->day_d - living->renewed_d,
                         living->course.rates.stage, &living->kit, hands->context);
        slopes_divide(slope, aside, solver_state(living->solver), step);
        readings[k] = (struct slopes_reading){
            (moved.ec_before_ms_cm - visit->ec_before_ms_cm) / step,
            (shape_level_cm(shape, moved.volume_before_l) -
             shape_level_cm(shape, visit->volume_before_l)) /
                step,
            (moved.ph_before - visit->ph_before) / step};
    }
    slopes->visits++;
    return STATUS_OK;
}

void slopes_cut(struct living *living, const double before[], double share)
{
    const struct slopes *slopes = living->slopes;
    for (size_t k = 0; slopes != NULL && k < slopes->count; k++) {
        double *slope = solver_slope(living->solver, k);
        double aside[STATE_COUNT];
        slopes_aside(aside, before, slope, slopes->step);
        (void)plant_cut(aside + STATE_PLANT, share);
        slopes_divide(slope, aside, solver_state(living->solver), slopes->step);
    }
}

/* Thirst reaches its limit sooner or later by -s/f of it per unit of an unknown; for so
 * long the rates of the living hold instead of those of the dead. */
void slopes_lost(struct living *living)
{
    struct slopes *slopes = living->slopes;
    if (slopes == NULL) {
        return;
    }
    const int thirst = STATE_PLANT + PLANT_THIRST;
    const double *state = solver_state(living->solver);
    double alive[STATE_COUNT];
    double dead[STATE_COUNT];
    struct rates rates = living->course.rates;
    rates_evaluate(alive, state, &rates);
    rates.dead = true;
    rates_evaluate(dead, state, &rates);
    for (size_t k = 0; k < slopes->count; k++) {
        double *slope = solver_slope(living->solver, k);
        const double later_d = alive[thirst] > 0 ? -slope[thirst] / alive[thirst] : 0;
        for (int i = 0; i < STATE_COUNT; i++) {
            slope[i] += (alive[i] - dead[i]) * later_d;
        }
        slopes->courses[k].rates.dead = true;
    }
}

void slopes_free(struct slopes *slopes)
{
    if (slopes != NULL) {
        free(slopes->readings);
        free(slopes->courses);
        slopes->readings = NULL;
        slopes->courses = NULL;
        slopes->visits = slopes->room = 0;
    }
}
