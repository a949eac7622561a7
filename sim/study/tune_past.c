/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tune_past.h"

#include <stdlib.h>
#include <string.h>

static enum status tune_past_take(void *context, size_t world, const float value[],
                                  size_t count)
{
    struct tune_past *past = context;
    if (world >= past->room || past->worlds[world].value != NULL) {
        return STATUS_INPUT;
    }
    struct tune_past_world *kept = &past->worlds[world];
    kept->value = malloc((count + 1) * sizeof *kept->value);
    kept->count = count;
    if (kept->value == NULL) {
        return STATUS_MEMORY;
    }
    memcpy(kept->value, value, count * sizeof *value);
    return STATUS_OK;
}

enum status tune_past_open(struct tune_past *past, const struct tune *tune,
                           size_t studies, struct error *error)
{
    const struct tune_plan *plan = tune->plan;
    if (plan->journal == NULL) {
        return STATUS_OK;
    }
    past->room = studies * plan->worlds;
    past->worlds = calloc(past->room, sizeof *past->worlds);
    if (past->worlds == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the search");
    }
    struct journal_head head =
        journal_head_of("tune", tune->scenario, 1, plan->scenario_path);
    head.lives = plan->lives;
    head.worlds = plan->worlds;
    head.trouble = plan->most_trouble;
    head.growth = plan->least_growth;
    head.inputs = tune->setting_count;
    head.seed = plan->seed;
    const struct journal_reader reader = {tune_past_take, past};
    return journal_start(&past->journal, plan->journal, plan->resume, &head, &reader,
                         error);
}

enum status tune_past_recall(struct tune_past *past, struct risk *risk, size_t study,
                             struct error *error)
{
    past->journal.first = study * risk->plan->lives;
    for (size_t w = 0; past->room > 0 && w < risk->plan->lives; w++) {
        struct tune_past_world *kept = &past->worlds[past->journal.first + w];
        if (kept->value != NULL && !risk_take(risk, w, kept->value, kept->count)) {
            return status_error(error, STATUS_INPUT,
                                "%s: holds world %zu, which is not of this search",
                                past->journal.path, past->journal.first + w);
        }
        free(kept->value);
        *kept = (struct tune_past_world){0};
    }
    return STATUS_OK;
}

enum status tune_past_close(struct tune_past *past, struct error *error)
{
    for (size_t i = 0; i < past->room; i++) {
        free(past->worlds[i].value);
    }
    free(past->worlds);
    const enum status status = journal_close(&past->journal, error);
    *past = (struct tune_past){0};
    return status;
}
