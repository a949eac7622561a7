/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "promises.h"

#include <float.h>
#include <stdio.h>
#include <string.h>

static bool promises_in(const char *what, double value, double low, double high)
{
    const bool inside = value >= low && value <= high;
    if (!inside) {
        (void)fprintf(stderr, "%s: %.17g is not in [%g, %g]\n", what, value, low, high);
    }
    return inside;
}

static bool promises_liquid(const char *what, const struct liquid *liquid)
{
    bool kept = promises_in(what, liquid->alkalinity_meq_l, -DBL_MAX, DBL_MAX);
    for (int i = 0; i < ION_COUNT; i++) {
        kept = promises_in(what, liquid->mmol_l[i], 0, 1e5) && kept;
    }
    return kept;
}

static bool promises_strategy(const struct strategy *strategy, const struct crop *crop)
{
    bool kept = promises_in("fill", strategy->fill.rule != NULL, 1, 1) &&
                promises_in("name", (double)strlen(strategy->name), 1, TEXT_NAME_SIZE) &&
                promises_in("visit", strategy->visit_every_d, 1. / 24 - 1e-9, 3650) &&
                promises_in("renew", strategy->renew_share, 0, 1);
    for (size_t k = 0; k < strategy->stage_count; k++) {
        kept = promises_in("stage", (double)strategy->stages[k].from_stage, 0,
                           (double)crop->stage_count - 1) &&
               kept;
    }
    return kept;
}

bool promises_kept(const struct scenario *s)
{
    bool kept =
        promises_in("duration", s->duration_d, 1. / 24 - 1e-9, 3653) &&
        promises_in("rows", s->duration_d / s->sample_every_d, 0, 1e6) &&
        promises_in("full", s->bucket.full_l, 0.1, 1000) &&
        promises_in("rim", s->bucket.full_l, 0, shape_rim_l(&s->bucket)) &&
        promises_in("start", s->start_l, 0.001, s->bucket.full_l) &&
        promises_in("lamp hours", s->room.lamp_hours, 0, 24) &&
        promises_in("lamp on", s->room.lamp_on_h, 0, 24) &&
        promises_in("light", s->room.ppfd_umol_m2_s, 0, 2500) &&
        promises_in("day humidity", s->room.day.humidity, 0.01, 1) &&
        promises_in("night humidity", s->room.night.humidity, 0.01, 1) &&
        promises_in("start share", s->start_stock_share, 0, 1) &&
        promises_liquid("water", &s->water) && promises_liquid("stock", &s->stock) &&
        promises_in("strategies", (double)s->strategy_count, 1,
                    SCENARIO_STRATEGIES_MAX) &&
        promises_in("stages", (double)s->crop.stage_count, 1, CROP_STAGES_MAX) &&
        promises_in("warnings", (double)s->warning_count, 0, SCENARIO_WARNINGS_MAX);
    for (size_t i = 0; i < s->strategy_count && kept; i++) {
        kept = promises_strategy(&s->strategies[i], &s->crop);
    }
    return kept;
}

bool promises_line_named(const struct error *error)
{
    const char *colon = strchr(error->text, ':');
    const size_t digits = colon != NULL ? strspn(colon + 1, "0123456789") : 0;
    const bool named = digits > 0 && strncmp(colon + 1 + digits, ": ", 2) == 0;
    if (!named) {
        (void)fprintf(stderr, "no file and line in: %s\n", error->text);
    }
    return named;
}
