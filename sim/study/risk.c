/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/risk.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "crew.h"
#include "pailcast/base/text.h"
#include "pailcast/study/journal.h"

/* Curves take at most 64 MiB: fewer grid days for more lives (chosen). */
static const size_t risk_curve_floats = (size_t)16 << 20;
static const size_t risk_grid_least = 8;

/* Rows of a grid that is no coarser than asked and falls on whole days where it can. */
static void risk_grid(struct risk *risk)
{
    const double days = risk->scenario->duration_d;
    const size_t per_point =
        risk->plan->lives * risk->scenario->strategy_count * OUTCOME_CURVES;
    size_t most = risk_curve_floats / per_point;
    most = most > RISK_GRID_MAX ? RISK_GRID_MAX : most;
    most = most < risk_grid_least ? risk_grid_least : most;
    const double step_d = days / (double)(most - 1);
    risk->grid_step_d = step_d > 1 ? ceil(step_d) : step_d;
    const double slack = 1e-9;
    risk->grid_count = (size_t)(days / risk->grid_step_d + slack) + 1;
}

static size_t risk_value_count(const struct risk *risk)
{
    return risk->scenario->strategy_count * OUTCOME_WIDTH;
}

/* 0 for worlds without curves. */
static size_t risk_curve_count(const struct risk *risk, size_t world)
{
    return risk->plan->no_curves || world >= risk->plan->lives
               ? 0
               : risk->scenario->strategy_count * OUTCOME_CURVES * risk->grid_count;
}

static float *risk_values_at(const struct risk *risk, size_t world)
{
    return risk->values + world * risk_value_count(risk);
}

/* NULL for worlds without curves. */
static float *risk_curves_at(const struct risk *risk, size_t world)
{
    const size_t count = risk_curve_count(risk, world);
    return count > 0 ? risk->curves + world * count : NULL;
}

const float *risk_values(const struct risk *risk, size_t world, size_t strategy)
{
    return risk_values_at(risk, world) + strategy * OUTCOME_WIDTH;
}

enum status risk_open(struct risk *risk, const struct scenario *scenario,
                      const struct risk_plan *plan, struct error *error)
{
    risk->scenario = scenario;
    risk->plan = plan;
    risk->input_count = draw_inputs(risk->inputs, scenario);
    risk_grid(risk);
    risk->worlds =
        plan->lives + (risk->input_count > 0 ? plan->base * (risk->input_count + 1) : 0);
    risk->lived = calloc(risk->worlds, 1);
    risk->values = calloc(risk->worlds * risk_value_count(risk), sizeof *risk->values);
    risk->curves =
        calloc(plan->lives * risk_curve_count(risk, 0) + 1, sizeof *risk->curves);
    if (risk->lived == NULL || risk->values == NULL || risk->curves == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for %zu lives", plan->lives);
    }
    return draw_make(&risk->draw, plan->lives, plan->seed, error);
}

void risk_free(struct risk *risk)
{
    if (risk != NULL) {
        draw_free(&risk->draw);
        free(risk->lived);
        free(risk->values);
        free(risk->curves);
        *risk = (struct risk){0};
    }
}

/* The point a world stands on. */
static void risk_point(double unit[DRAW_WIDTH], const struct risk *risk, size_t world)
{
    const size_t lives = risk->plan->lives;
    const size_t extra = world < lives ? 0 : world - lives;
    const size_t row = world < lives ? world : extra / (risk->input_count + 1);
    const size_t turn = extra % (risk->input_count + 1);
    const double *first = risk->draw.first + row * DRAW_WIDTH;
    const double *second = risk->draw.second + row * DRAW_WIDTH;
    const bool all_second = world >= lives && turn == 0;
    memcpy(unit, all_second ? second : first, DRAW_WIDTH * sizeof *unit);
    if (world >= lives && turn > 0) {
        unit[risk->inputs[turn - 1]] = second[risk->inputs[turn - 1]];
    }
}

static enum status risk_world(struct risk *risk, size_t world, struct error *error)
{
    double unit[DRAW_WIDTH];
    struct error own = {0};
    struct scenario *place = malloc(sizeof *place);
    if (place == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for world %zu", world);
    }
    risk_point(unit, risk, world);
    draw_world(place, risk->scenario, unit);
    const enum status status =
        outcome_world(risk_values_at(risk, world), risk_curves_at(risk, world),
                      risk->grid_count, risk->grid_step_d, place, &own);
    free(place);
    return status == STATUS_OK
               ? status
               : status_error(error, status, "world %zu: %s", world, own.text);
}

static enum status risk_note(struct risk *risk, struct journal *journal, size_t world,
                             struct error *error)
{
    enum status status = STATUS_OK;
    if (journal->stream != NULL) {
        const size_t values = risk_value_count(risk);
        const size_t curves = risk_curve_count(risk, world);
        float *record = malloc((values + curves) * sizeof *record);
        if (record == NULL) {
            return status_error(error, STATUS_MEMORY, "no memory for the journal");
        }
        memcpy(record, risk_values_at(risk, world), values * sizeof *record);
        if (curves > 0) {
            memcpy(record + values, risk_curves_at(risk, world), curves * sizeof *record);
        }
        status = journal_add(journal, world, record, values + curves, error);
        free(record);
    }
    if (status == STATUS_OK) {
        risk->lived[world] = 1;
        risk->lived_count++;
    }
    return status;
}

bool risk_take(struct risk *risk, size_t world, const float value[], size_t count)
{
    if (world >= risk->worlds || risk->lived[world] != 0) {
        return false;
    }
    const size_t values = risk_value_count(risk);
    const size_t curves = risk_curve_count(risk, world);
    if (count != values + curves) {
        return false;
    }
    memcpy(risk_values_at(risk, world), value, values * sizeof *value);
    if (curves > 0) {
        memcpy(risk_curves_at(risk, world), value + values, curves * sizeof *value);
    }
    risk->lived[world] = 1;
    risk->lived_count++;
    return true;
}

static struct journal_head risk_head(const struct risk *risk)
{
    const struct risk_plan *plan = risk->plan;
    struct journal_head head = journal_head_of(
        "risk", risk->scenario, risk->scenario->strategy_count, plan->scenario_path);
    head.lives = plan->lives;
    head.base = plan->base;
    head.inputs = risk->input_count;
    head.grid = risk->grid_count;
    head.seed = plan->seed;
    head.part = plan->part;
    head.parts = plan->parts;
    return head;
}

/* The worlds of this part that are still to be lived; freed by the caller. */
static size_t *risk_missing(const struct risk *risk, size_t *count)
{
    size_t *missing = malloc((risk->worlds + 1) * sizeof *missing);
    *count = 0;
    for (size_t w = 0; missing != NULL && w < risk->worlds; w++) {
        if (w % risk->plan->parts == risk->plan->part - 1 && risk->lived[w] == 0) {
            missing[(*count)++] = w;
        }
    }
    return missing;
}

/* The worlds to be lived, and where each is kept as soon as it was. */
struct risk_crew {
    struct risk *risk;
    struct journal *journal;
    const size_t *missing;
    size_t all; /* lived when they are */
};

static enum status risk_crew_work(void *context, size_t number, struct error *error)
{
    const struct risk_crew *own = context;
    return risk_world(own->risk, own->missing[number], error);
}

static enum status risk_crew_done(void *context, size_t number, struct error *error)
{
    const struct risk_crew *own = context;
    const struct risk_plan *plan = own->risk->plan;
    const enum status status =
        risk_note(own->risk, own->journal, own->missing[number], error);
    if (status == STATUS_OK && plan->progress != NULL) {
        plan->progress(plan->context, own->risk->lived_count, own->all);
    }
    return status;
}

enum status risk_live_into(struct risk *risk, struct journal *journal,
                           struct error *error)
{
    size_t count = 0;
    size_t *missing = risk_missing(risk, &count);
    if (missing == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the study");
    }
    struct risk_crew own = {risk, journal, missing, risk->lived_count + count};
    const struct crew crew = {.threads = risk->plan->jobs,
                              .count = count,
                              .work = risk_crew_work,
                              .done = risk_crew_done,
                              .context = &own};
    const enum status status = crew_work(&crew, error);
    free(missing);
    return status;
}

static enum status risk_read(void *risk, size_t world, const float value[], size_t count)
{
    return risk_take(risk, world, value, count) ? STATUS_OK : STATUS_INPUT;
}

enum status risk_live(struct risk *risk, struct error *error)
{
    const struct risk_plan *plan = risk->plan;
    const struct journal_head head = risk_head(risk);
    const struct journal_reader reader = {risk_read, risk};
    struct journal journal = {0};
    enum status status = STATUS_OK;
    if (plan->journal != NULL) {
        status =
            journal_start(&journal, plan->journal, plan->resume, &head, &reader, error);
    }
    if (status == STATUS_OK) {
        status = risk_live_into(risk, &journal, error);
    }
    const enum status closed =
        journal_close(&journal, status == STATUS_OK ? error : NULL);
    return status == STATUS_OK ? closed : status;
}

enum status risk_merge(struct risk *risk, const char *const paths[], size_t count,
                       struct error *error)
{
    struct journal_head wanted = risk_head(risk);
    const struct journal_reader reader = {risk_read, risk};
    wanted.part = wanted.parts = 0;
    for (size_t i = 0; i < count; i++) {
        const enum status status = journal_read(paths[i], &wanted, &reader, error);
        if (status != STATUS_OK) {
            return status;
        }
    }
    if (risk->lived_count == risk->worlds) {
        return STATUS_OK;
    }
    const size_t missing = risk->worlds - risk->lived_count;
    size_t first = 0;
    while (risk->lived[first] != 0) {
        first++;
    }
    return status_error(error, STATUS_INPUT,
                        "%zu of %zu worlds %s in none of these parts, the first of them "
                        "number %zu: give every part, each finished",
                        missing, risk->worlds, text_plural((double)missing, "is", "are"),
                        first);
}
