/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/run/life.h"

#include <math.h>
#include <signal.h>
#include <string.h>

#include "living.h"
#include "pailcast/base/moment.h"
#include "slopes_parts.h"

static volatile sig_atomic_t life_stop_requested;

void life_request_stop(void)
{
    life_stop_requested = 1;
}

/* The next moment at which something happens that the rates do not know of. */
static double life_next_stop(const struct living *living, double cut_d)
{
    double next = fmin(living->scenario->duration_d, cut_d);
    if (living->course.rates.plant->feels_lamp) {
        next = fmin(next, room_next_switch(&living->scenario->room, living->day_d));
    }
    next = fmin(next, living->course.rates.plant->next_change(&living->scenario->crop,
                                                              living->day_d));
    return fmin(next, living->next_visit_d);
}

static bool life_falls_on(double moment_d, double day_d)
{
    return fabs(moment_d - day_d) < moment_slack_d;
}

/* The rows before and after a visit: read with the visit's own pen. */
static enum status life_record_arrival(struct living *living, const double arrival[],
                                       const struct visit_record *visit,
                                       struct error *error)
{
    const struct pen_reading read = {visit->ec_before_ms_cm, visit->ph_before};
    return living->lean ? STATUS_OK
                        : living_record(living, arrival, &read, EVENT_BEFORE_VISIT,
                                        ION_COUNT, error);
}

static enum status life_record_visit(struct living *living,
                                     const struct visit_record *visit,
                                     struct error *error)
{
    const struct pen_reading read = {visit->ec_after_ms_cm, visit->ph_after};
    thresholds_left(&living->life->left, &living->thresholds,
                    solver_state(living->solver), &read, living->day_d);
    if (living->lean) {
        thresholds_calibrate(&living->thresholds, solver_state(living->solver), &read);
        return STATUS_OK;
    }
    const bool renewed = visit->renewal.reason != RENEW_NOT;
    enum status status = trajectory_add_visit(&living->life->trajectory, visit, error);
    return status == STATUS_OK
               ? living_record(living, solver_state(living->solver), &read,
                               renewed ? EVENT_RENEWAL : EVENT_AFTER_VISIT, ION_COUNT,
                               error)
               : status;
}

static enum status life_visit(struct living *living, struct error *error)
{
    double *state = solver_state(living->solver);
    double arrival[STATE_COUNT];
    memcpy(arrival, state, sizeof arrival);
    const struct hands *hands = &living->hands;
    const struct visit_record visit =
        hands->visit(state, living->day_d, living->day_d - living->renewed_d,
                     living->course.rates.stage, &living->kit, hands->context);
    enum status status = life_record_arrival(living, arrival, &visit, error);
    if (status == STATUS_OK) {
        status = slopes_visit(living, arrival, &visit, error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    living->poured.water_l += visit.water_l;
    living->poured.stock_l += visit.stock_l;
    living->poured.drained_l += visit.drained_l;
    if (visit.renewal.reason != RENEW_NOT) {
        living->renewed_d = living->day_d;
    }
    ledger_enter(&living->life->ledger, &visit);
    living->next_visit_d = hands->next(hands->context, living->day_d);
    return life_record_visit(living, &visit, error);
}

static enum status life_cut(struct living *living, double share, struct error *error)
{
    double *state = solver_state(living->solver);
    double before[STATE_COUNT];
    memcpy(before, state, sizeof before);
    living->life->removed_g += plant_cut(state + STATE_PLANT, share);
    slopes_cut(living, before, share);
    return living->lean ? STATUS_OK : living_sample(living, EVENT_CUT, ION_COUNT, error);
}

/* Does whatever falls on this moment and starts the solver anew. */
static enum status life_act(struct living *living, double cut_d, double cut_share,
                            struct error *error)
{
    enum status status = STATUS_OK;
    state_settle(solver_state(living->solver));
    if (life_falls_on(cut_d, living->day_d)) {
        status = life_cut(living, cut_share, error);
    }
    living_set_clock(living);
    if (status == STATUS_OK && life_falls_on(living->next_visit_d, living->day_d)) {
        status = life_visit(living, error);
    }
    return status == STATUS_OK ? living_restart(living, error) : status;
}

/* How far plain rows are due up to a stop: one on the stop itself is, unless what falls
 * there has rows of its own. */
static double life_rows_until(const struct living *living, double stop_d, double cut_d)
{
    const bool last = stop_d > living->scenario->duration_d - moment_slack_d;
    const bool told =
        life_falls_on(living->next_visit_d, stop_d) || life_falls_on(cut_d, stop_d);
    return last || (told && !living->lean) ? stop_d - moment_slack_d
                                           : stop_d + moment_slack_d;
}

/* Samples and crossings from here to the stop, plain rows so far as they are due. */
static enum status life_advance(struct living *living, double stop_d, double rows_until_d,
                                struct error *error)
{
    enum status status = STATUS_OK;
    while (status == STATUS_OK && living->day_d < stop_d - moment_slack_d) {
        if (life_stop_requested) {
            return status_error(error, STATUS_STOPPED, "stopped on day %.2f",
                                living->day_d);
        }
        const double sample_d = living_next_sample(living);
        const double until_d = fmin(sample_d, stop_d);
        switch (solver_advance(living->solver, until_d, stop_d, &living->day_d)) {
        case SOLVER_REACHED:
            if (sample_d < rows_until_d) {
                status = living_sample(living, EVENT_NONE, ION_COUNT, error);
            }
            break;
        case SOLVER_ROOT:
            status = living_cross(living, error);
            break;
        case SOLVER_FAILED:
            status = living_failure(living, error);
            break;
        }
    }
    living->day_d = status == STATUS_OK ? stop_d : living->day_d;
    return status;
}

static enum status life_live(struct living *living, struct error *error)
{
    const double end_d = living->scenario->duration_d;
    bool ended = false;
    enum status status = living_sample(living, EVENT_START, ION_COUNT, error);
    if (status == STATUS_OK) {
        const struct sample *start = &living->life->trajectory.samples[0];
        const struct pen_reading read = {start->ec_ms_cm, start->ph};
        thresholds_left(&living->life->left, &living->thresholds, start->state, &read,
                        living->day_d);
        status = living_restart(living, error);
    }
    while (status == STATUS_OK && !ended) {
        double cut_share;
        const double cut_d =
            crop_next_cut(&living->scenario->crop, living->day_d, &cut_share);
        const double stop_d = life_next_stop(living, cut_d);
        status =
            life_advance(living, stop_d, life_rows_until(living, stop_d, cut_d), error);
        if (status == STATUS_OK) {
            status = life_act(living, cut_d, cut_share, error);
        }
        ended = living->day_d > end_d - moment_slack_d;
    }
    return status == STATUS_OK ? living_sample(living, EVENT_END, ION_COUNT, error)
                               : status;
}

/* What one way of living has and another has not. */
struct life_way {
    const struct hands *hands;      /* NULL: nobody comes, and nothing is ever short */
    const struct life_moment *from; /* NULL: day 0 */
    struct slopes *slopes;          /* NULL: none are carried */
    bool lean;
};

static enum status life_run_way(struct life *life, const struct scenario *scenario,
                                const struct strategy *strategy,
                                const struct life_way *way, struct error *error)
{
    struct living living;
    enum status status =
        living_begin(&living, life, scenario, strategy, way->hands, way->slopes, error);
    if (status != STATUS_OK) {
        return status;
    }
    living.lean = way->lean;
    if (way->from != NULL) {
        living_take_up(&living, way->from);
    }
    status = life_live(&living, error);
    living_end(&living);
    return status;
}

enum status life_run(struct life *life, const struct scenario *scenario,
                     const struct strategy *strategy, struct error *error)
{
    const struct hands hands = hands_strategy(strategy);
    return life_run_by(life, scenario, strategy, &hands, error);
}

enum status life_run_lean(struct life *life, const struct scenario *scenario,
                          const struct strategy *strategy, struct error *error)
{
    const struct hands hands = hands_strategy(strategy);
    const struct life_way way = {.hands = &hands, .lean = true};
    return life_run_way(life, scenario, strategy, &way, error);
}

enum status life_run_by(struct life *life, const struct scenario *scenario,
                        const struct strategy *strategy, const struct hands *hands,
                        struct error *error)
{
    const struct life_way way = {.hands = hands};
    return life_run_way(life, scenario, strategy, &way, error);
}

struct life_moment life_last(const struct life *life)
{
    const struct trajectory *path = &life->trajectory;
    return (struct life_moment){path->samples[path->sample_count - 1], life->renewed_d,
                                !isnan(life->first.plant_lost)};
}

enum status life_go_on(struct life *life, const struct life_moment *from,
                       const struct scenario *scenario, const struct strategy *strategy,
                       const struct hands *hands, struct error *error)
{
    const struct life_way way = {.hands = hands, .from = from};
    return life_run_way(life, scenario, strategy, &way, error);
}

enum status life_run_slopes(struct life *life, struct slopes *slopes,
                            const struct scenario *scenario,
                            const struct strategy *strategy, const struct hands *hands,
                            struct error *error)
{
    const struct life_way way = {.hands = hands, .slopes = slopes};
    return life_run_way(life, scenario, strategy, &way, error);
}

enum status life_run_unstressed(struct life *life, const struct scenario *scenario,
                                struct error *error)
{
    const struct life_way way = {0};
    return life_run_way(life, scenario, NULL, &way, error);
}

void life_free(struct life *life)
{
    if (life != NULL) {
        trajectory_free(&life->trajectory);
        *life = (struct life){0};
    }
}
