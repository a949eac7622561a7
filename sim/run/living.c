/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "living.h"

#include <math.h>
#include <string.h>

#include "pailcast/base/moment.h"
#include "pailcast/run/slopes.h"
#include "slopes_parts.h"

/* Amounts below which a relative error no longer counts: absolute tolerance = rtol x
 * scale. Ions have a ceiling too, mmol/L of a full bucket, because a nutrient nearly gone
 * steers uptake however loose rtol is; alkalinity, a difference of charges, ten times
 * that (chosen; measured: docs/model.md). */
static const double concentration_scale_mmol_l = 0.3;
static const double concentration_atol_most_mmol_l = 3e-7;
static const double tissue_scale_mmol = 0.01;

static double living_atol(int component, double rtol, double full_l)
{
    static const double plant_scale[PLANT_TISSUE] = {
        [PLANT_DRY_MASS] = 0.01,  [PLANT_ROOT_MASS] = 0.01,  [PLANT_LEAF_AREA] = 1e-3,
        [PLANT_ROOT_DEPTH] = 0.1, [PLANT_THERMAL_TIME] = 1., [PLANT_THIRST] = 0.1};
    const int i = component;
    if (i == STATE_VOLUME || i == STATE_DRUNK || i == STATE_EVAPORATED) {
        return rtol * 0.01 * full_l;
    }
    if (i >= STATE_PLANT && i < STATE_DRUNK) {
        return rtol * (i < STATE_PLANT + PLANT_TISSUE ? plant_scale[i - STATE_PLANT]
                                                      : tissue_scale_mmol);
    }
    if (i == STATE_GROWN) {
        return rtol * plant_scale[PLANT_DRY_MASS];
    }
    const double most = (i == STATE_ALKALINITY ? 10 : 1) * concentration_atol_most_mmol_l;
    return fmin(rtol * concentration_scale_mmol_l, most) * full_l;
}

static void living_tolerances(struct living *living)
{
    const struct scenario *scenario = living->scenario;
    for (int i = 0; i < STATE_COUNT; i++) {
        living->atol[i] =
            living_atol(i, scenario->numerics.rtol, scenario->bucket.full_l);
    }
}

static void living_rates(double rate[], const double state[], void *context)
{
    const struct living *living = context;
    rates_evaluate(rate, state, &living->course.rates);
}

static void living_roots(double value[], const double state[], void *context)
{
    const struct living *living = context;
    thresholds_values(value, state, &living->thresholds);
}

static void living_prepare_kit(struct living *living)
{
    living->kit = (struct visit_kit){
        .strategy = living->strategy,
        .shape = &living->scenario->bucket,
        .pen = &living->pen,
        .fresh_stock_share = living->scenario->start_stock_share,
    };
}

static struct solver_problem living_problem(struct living *living)
{
    const struct slopes *slopes = living->slopes;
    const struct scenario_numerics *numerics = &living->scenario->numerics;
    return (struct solver_problem){
        .count = STATE_COUNT,
        .rates = living_rates,
        .root_count = living->thresholds.count,
        .roots = living_roots,
        .slope_count = slopes != NULL ? slopes->count : 0,
        .slope_rates = slopes_rate,
        .context = living,
        .rtol = numerics->rtol,
        .atol = living->atol,
        .method = slopes != NULL ? METHOD_ADAMS : numerics->method,
    };
}

enum status living_begin(struct living *living, struct life *life,
                         const struct scenario *scenario, const struct strategy *strategy,
                         const struct hands *hands, struct slopes *slopes,
                         struct error *error)
{
    *living = (struct living){
        .life = life, .scenario = scenario, .strategy = strategy, .slopes = slopes};
    *life = (struct life){0};
    thresholds_clear(&life->first);
    thresholds_clear(&life->left);
    living->pen = pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    course_prepare(&living->course, scenario, &living->pen, strategy == NULL);
    living_tolerances(living);
    if (strategy != NULL) {
        living_prepare_kit(living);
        thresholds_init(&living->thresholds, scenario, &living->course.rates.acidity);
    }
    if (hands != NULL) {
        living->hands = *hands;
    }
    living->next_visit_d = hands == NULL ? INFINITY : hands->next(hands->context, -1);
    const struct solver_problem problem = living_problem(living);
    enum status status = solver_create(&living->solver, &problem, 0, error);
    if (status != STATUS_OK) {
        return status;
    }
    double *state = solver_state(living->solver);
    course_start(state, &living->course, scenario, strategy);
    ledger_open(&life->ledger, state);
    status = slopes_begin(living, error);
    if (status != STATUS_OK) {
        solver_free(living->solver);
        return status;
    }
    living_set_clock(living);
    return STATUS_OK;
}

void living_take_up(struct living *living, const struct life_moment *from)
{
    double *state = solver_state(living->solver);
    memcpy(state, from->now.state, sizeof from->now.state);
    living->day_d = from->now.day_d;
    living->renewed_d = from->renewed_d;
    living->poured = (struct living_poured){
        from->now.water_poured_l, from->now.stock_poured_l, from->now.drained_l};
    living->course.rates.dead = from->plant_lost;
    living->next_visit_d = living->hands.next(living->hands.context, living->day_d);
    ledger_open(&living->life->ledger, state);
    living_set_clock(living);
}

void living_end(struct living *living)
{
    struct life *life = living->life;
    life->renewed_d = living->renewed_d;
    life->end_d = living->day_d;
    life->balance = ledger_close(&life->ledger, solver_state(living->solver));
    solver_effort(living->solver, &life->effort.steps, &life->effort.rate_calls);
    solver_free(living->solver);
    living->solver = NULL;
}

void living_set_clock(struct living *living)
{
    const bool lamp_on = room_lamp_on(&living->scenario->room, living->day_d);
    const size_t stage = living->course.rates.plant->stage(
        &living->scenario->crop, solver_state(living->solver) + STATE_PLANT,
        living->day_d);
    course_set(&living->course, lamp_on, stage);
    slopes_set(living, lamp_on, stage);
}

enum status living_restart(struct living *living, struct error *error)
{
    const double *state = solver_state(living->solver);
    double value[THRESHOLDS_MAX];
    thresholds_values(value, state, &living->thresholds);
    for (size_t i = 0; i < living->thresholds.count; i++) {
        if (value[i] > 0) {
            thresholds_cross(&living->thresholds, i, living->day_d, &living->life->first);
        }
    }
    living->life->effort.restarts++;
    return solver_restart(living->solver, living->day_d, error);
}

double living_next_sample(const struct living *living)
{
    const double every_d = living->scenario->sample_every_d;
    return (floor(living->day_d / every_d + moment_slack_d / every_d) + 1) * every_d;
}

enum status living_record(struct living *living, const double state[],
                          const struct pen_reading *reading, enum event event,
                          enum ion ion, struct error *error)
{
    struct sample sample = {
        .day_d = living->day_d,
        .ec_ms_cm = reading->ec_ms_cm,
        .ph = reading->ph,
        .level_cm = shape_level_cm(&living->scenario->bucket, state[STATE_VOLUME]),
        .water_poured_l = living->poured.water_l,
        .stock_poured_l = living->poured.stock_l,
        .drained_l = living->poured.drained_l,
        .stage = living->course.rates.plant->stage(&living->scenario->crop,
                                                   state + STATE_PLANT, living->day_d),
        .event = event,
        .ion = ion,
    };
    memcpy(sample.state, state, sizeof sample.state);
    thresholds_calibrate(&living->thresholds, state, reading);
    return trajectory_add_sample(&living->life->trajectory, &sample, error);
}

/* What the pens show of the bucket now; that of the unstressed plant never changes. */
static struct pen_reading living_read(const struct living *living, const double state[])
{
    const struct trajectory *trajectory = &living->life->trajectory;
    if (living->course.rates.ideal && trajectory->sample_count > 0) {
        const struct sample *first = &trajectory->samples[0];
        return (struct pen_reading){first->ec_ms_cm, first->ph};
    }
    const struct liquid liquid = state_liquid(state);
    return pen_read(&living->pen, &liquid);
}

enum status living_sample(struct living *living, enum event event, enum ion ion,
                          struct error *error)
{
    /* A copy: the integrator knows only its own, and between stops nobody may touch it.
     */
    double state[STATE_COUNT];
    memcpy(state, solver_state(living->solver), sizeof state);
    state_settle(state);
    const struct pen_reading reading = living_read(living, state);
    return living_record(living, state, &reading, event, ion, error);
}

enum status living_cross(struct living *living, struct error *error)
{
    int rose[THRESHOLDS_MAX] = {0};
    solver_roots(living->solver, rose);
    enum status status = STATUS_OK;
    bool lost = false;
    for (size_t i = 0; i < living->thresholds.count && status == STATUS_OK; i++) {
        const struct threshold *threshold = &living->thresholds.list[i];
        if (rose[i] == 0 || !threshold->armed ||
            !thresholds_confirm(&living->thresholds, i, solver_state(living->solver),
                                &living->pen)) {
            continue;
        }
        lost |= threshold->event == EVENT_PLANT_LOST;
        thresholds_cross(&living->thresholds, i, living->day_d, &living->life->first);
        if (!living->lean) {
            status = living_sample(living, threshold->event, threshold->ion, error);
        }
    }
    if (status == STATUS_OK && lost) {
        slopes_lost(living);
        living->course.rates.dead = true;
        status = living_restart(living, error);
    }
    return status;
}

enum status living_failure(struct living *living, struct error *error)
{
    const char *what;
    const size_t culprit = solver_culprit(living->solver, &what);
    const struct trajectory *trajectory = &living->life->trajectory;
    const double good_d = trajectory->sample_count > 0
                              ? trajectory->samples[trajectory->sample_count - 1].day_d
                              : 0;
    return status_error(
        error, STATUS_SOLVER,
        "day %.3f: %s could not be followed any further (%s); the last good "
        "sample is day %.2f",
        living->day_d, state_name(culprit), what, good_d);
}
