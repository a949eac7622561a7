/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/absence.h"

#include <math.h>
#include <stdlib.h>

static void absence_earlier(struct absence_limit *limit, double day_d, double after_d,
                            const char *what, const char *does)
{
    if (day_d > after_d && day_d < limit->day_d) {
        *limit = (struct absence_limit){day_d, what, does};
    }
}

struct absence_limit absence_limit_of(const struct life_first_days *first, double after_d,
                                      double fed_d)
{
    static const char pass[] = "pass its limit";
    struct absence_limit limit = {INFINITY, "EC", pass};
    absence_earlier(&limit, first->ec_high, after_d, "EC", pass);
    absence_earlier(&limit, first->ec_low, after_d, "EC", pass);
    absence_earlier(&limit, first->ph_high, after_d, "pH", pass);
    absence_earlier(&limit, first->ph_low, after_d, "pH", pass);
    for (int i = 0; i < ION_COUNT; i++) {
        absence_earlier(&limit, first->ion_high[i], after_d, ion_table[i].name, pass);
        absence_earlier(&limit, first->nutrient_low[i], fed_d, ion_table[i].name,
                        "run out");
    }
    return limit;
}

/* When somebody would have come next after day_d: what happens before happens anyway.
 * day_d itself where nobody would. */
static double absence_due_d(const struct strategy *strategy, double day_d)
{
    const double next_d = strategy_next_visit(strategy, day_d);
    return isfinite(next_d) ? next_d : day_d;
}

static enum status absence_live(struct absence *absence, const struct sample *visit,
                                struct scenario *world, const struct strategy *strategy,
                                struct error *error)
{
    static const struct hands_log nobody = {0};
    const struct hands hands = hands_log(&nobody);
    const struct life_moment from = {.now = *visit};
    struct life life = {0};
    world->duration_d = visit->day_d + ABSENCE_D;
    world->sample_every_d = 2 * world->duration_d;
    const enum status status = life_go_on(&life, &from, world, strategy, &hands, error);
    if (status == STATUS_OK) {
        absence->visit_d = visit->day_d;
        absence->dry_d = fmin(life.first.roots_dry, INFINITY);
        const double due_d = absence_due_d(strategy, visit->day_d);
        absence->limit = absence_limit_of(&life.first, due_d, due_d);
        absence->anyway = absence_limit_of(&life.first, -INFINITY, -INFINITY);
        if (absence->anyway.day_d > due_d) {
            absence->anyway.day_d = INFINITY;
        }
    }
    life_free(&life);
    return status;
}

enum status absence_of(struct absence *absence, const struct life *life,
                       const struct scenario *scenario, const struct strategy *strategy,
                       struct error *error)
{
    *absence = (struct absence){
        .visit_d = NAN, .dry_d = NAN, .limit = {.day_d = NAN}, .anyway = {.day_d = NAN}};
    const struct sample *visit = trajectory_last_visit(&life->trajectory);
    if (visit == NULL || scenario->crop.kind == CROP_NONE ||
        !isnan(life->first.plant_lost)) {
        return STATUS_OK;
    }
    struct scenario *world = scenario_copy(scenario);
    if (world == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory to look ahead");
    }
    const enum status status = absence_live(absence, visit, world, strategy, error);
    free(world);
    return status == STATUS_SOLVER ? STATUS_OK : status;
}
