/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawn buckets up to the last entry, lived once for all that looks ahead from it. */
#include <stdlib.h>

#include "fit_parts.h"

static enum status past_one(void *context, const struct fit_draw *draw,
                            struct error *error)
{
    const struct fit *fit = draw->fit;
    struct life_moment *stand = context;
    const struct hands_log log = {fit->entries, fit->logbook->count, NULL};
    const struct hands hands = hands_log(&log);
    struct life life;
    draw->world->duration_d = fit_last_day(fit);
    draw->world->sample_every_d = 2 * draw->world->duration_d + 1;
    const enum status status =
        life_run_by(&life, draw->world, fit->strategy, &hands, error);
    if (status == STATUS_OK) {
        stand[draw->number] = life_last(&life);
    }
    life_free(&life);
    return status;
}

enum status fit_past(struct fit *fit, struct error *error)
{
    fit->stand = calloc(FIT_LIVES, sizeof *fit->stand);
    const struct fit_draw_task task = {past_one, fit->stand, 1};
    return fit->stand == NULL
               ? status_error(error, STATUS_MEMORY, "no memory for the forecast")
               : fit_draw_all(fit, &task, error);
}
