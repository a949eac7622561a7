/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program's right-hand side for another integrator: R's deSolve calls derivs() and
 * stops where outside_stop() says, and outside_act() does there what the program does; or
 * it lives a whole life in one call, with outside_event() at the times of
 * outside_events(). The loop over stops is written here once more, so that only the
 * physics is shared. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "../../sim/run/living.h"
#include "pailcast/scenario/reader.h"

static struct scenario scenario;
static struct life life;
static struct living living;
static double next_visit_d;

static const double slack_d = 1e-9;

void outside_open(char **path, int *strategy, int *count, double *duration_d);
void outside_first(double *state);
void outside_stop(double *day_d, double *stop_d);
void outside_act(double *day_d, double *state, double *before, int *visited);
void outside_events(int *most, double *day_d, int *count);
void outside_tolerance(double *rtol, double *atol);
void outside_rewind(void);
void outside_event(int *count, double *day_d, double *state);
void outside_close(void);
void derivs(int *count, double *day_d, double *state, double *rate, double *out, int *ip);

static enum status begin(size_t strategy, struct error *error)
{
    const struct hands hands = hands_strategy(&scenario.strategies[strategy]);
    return living_begin(&living, &life, &scenario, &scenario.strategies[strategy], &hands,
                        NULL, error);
}

/* count: components of the state; 0 when the scenario cannot be used. */
void outside_open(char **path, int *strategy, int *count, double *duration_d)
{
    struct error error = {0};
    *count = 0;
    if (reader_scenario(&scenario, *path, &error) != STATUS_OK ||
        begin((size_t)*strategy, &error) != STATUS_OK) {
        (void)fprintf(stderr, "%s\n", error.text);
        return;
    }
    *count = STATE_COUNT;
    *duration_d = scenario.duration_d;
    outside_rewind();
}

void outside_first(double *state)
{
    memcpy(state, solver_state(living.solver), sizeof(double) * STATE_COUNT);
}

void outside_stop(double *day_d, double *stop_d)
{
    double share;
    double next = fmin(scenario.duration_d, next_visit_d);
    if (living.course.rates.plant->feels_lamp) {
        next = fmin(next, room_next_switch(&scenario.room, *day_d));
    }
    next = fmin(next, crop_next_cut(&scenario.crop, *day_d, &share));
    *stop_d = fmin(next, living.course.rates.plant->next_change(&scenario.crop, *day_d));
}

/* before: the state as a visit finds it; *visited: whether there was one. */
void outside_act(double *day_d, double *state, double *before, int *visited)
{
    double share;
    if (fabs(crop_next_cut(&scenario.crop, *day_d - 2 * slack_d, &share) - *day_d) <
        slack_d) {
        (void)plant_cut(state + STATE_PLANT, share);
    }
    const struct rates *rates = &living.course.rates;
    course_set(&living.course, room_lamp_on(&scenario.room, *day_d),
               rates->plant->stage(&scenario.crop, state + STATE_PLANT, *day_d));
    memcpy(before, state, sizeof(double) * STATE_COUNT);
    *visited = fabs(next_visit_d - *day_d) < slack_d;
    if (*visited) {
        const struct visit_record visit = visit_make(
            state, *day_d, *day_d - living.renewed_d, rates->stage, &living.kit);
        if (visit.renewal.reason != RENEW_NOT) {
            living.renewed_d = *day_d;
        }
        next_visit_d = strategy_next_visit(living.strategy, *day_d);
    }
}

/* Ahead of a life: every moment inside it that a setting or the bucket changes at,
 * day_d[*most]. */
void outside_events(int *most, double *day_d, int *count)
{
    const struct strategy *strategy = living.strategy;
    const bool lamp = living.course.rates.plant->feels_lamp;
    double share, now_d = 0;
    double visit_d = strategy_next_visit(strategy, 0);
    for (*count = 0; *count < *most; (*count)++) {
        double next_d = fmin(visit_d, crop_next_cut(&scenario.crop, now_d, &share));
        next_d =
            fmin(next_d, living.course.rates.plant->next_change(&scenario.crop, now_d));
        next_d = lamp ? fmin(next_d, room_next_switch(&scenario.room, now_d)) : next_d;
        if (next_d > scenario.duration_d - slack_d) {
            return;
        }
        if (fabs(next_d - visit_d) < slack_d) {
            visit_d = strategy_next_visit(strategy, visit_d);
        }
        day_d[*count] = now_d = next_d;
    }
}

/* The absolute tolerances that the program takes with a relative one. */
void outside_tolerance(double *rtol, double *atol)
{
    struct error error = {0};
    const size_t strategy = (size_t)(living.strategy - scenario.strategies);
    outside_close();
    scenario.numerics.rtol = *rtol;
    if (begin(strategy, &error) != STATUS_OK) {
        (void)fprintf(stderr, "%s\n", error.text);
        return;
    }
    memcpy(atol, living.atol, sizeof living.atol);
}

/* Back to day 0. */
void outside_rewind(void)
{
    living_set_clock(&living);
    living.renewed_d = 0;
    next_visit_d = strategy_next_visit(living.strategy, 0);
}

void outside_event(int *count, double *day_d, double *state)
{
    double before[STATE_COUNT];
    int visited;
    (void)count;
    outside_act(day_d, state, before, &visited);
}

void outside_close(void)
{
    living_end(&living);
    life_free(&life);
}

void derivs(int *count, double *day_d, double *state, double *rate, double *out, int *ip)
{
    (void)count;
    (void)day_d;
    (void)out;
    (void)ip;
    rates_evaluate(rate, state, &living.course.rates);
}
