/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pour the share of stock that brings the full bucket to the aim, found as a grower finds
 * it: by mixing, reading the pen and correcting. */
#include <math.h>

#include "fills.h"
#include "pailcast/base/root.h"

/* A pen cannot tell a finer difference, as a share of the aim. */
static const double fill_aim_tolerance = 1e-3;

struct fill_aim_search {
    const struct observation *seen;
    double aim_ms_cm;
    double room_l;
    double water_miss, stock_miss; /* with water alone, with stock alone */
};

/* With a share of stock in what fills the room. */
static double fill_aim_miss(double share, const struct fill_aim_search *search)
{
    return observation_ec_after(search->seen, 0, (1 - share) * search->room_l,
                                share * search->room_l) -
           search->aim_ms_cm;
}

/* The ends have been read already. */
static double fill_aim_miss_by_share(double share, void *context)
{
    const struct fill_aim_search *search = context;
    if (share <= 0) {
        return search->water_miss;
    }
    return share >= 1 ? search->stock_miss : fill_aim_miss(share, search);
}

static double fill_aim_miss_by_drain(double drain_l, void *context)
{
    const struct fill_aim_search *search = context;
    return observation_ec_after(search->seen, drain_l, search->room_l + drain_l, 0) -
           search->aim_ms_cm;
}

static struct fill_plan fill_aim_too_strong(struct fill_aim_search *search)
{
    const double volume_l = search->seen->volume_l;
    struct fill_plan plan = {.water_l = search->room_l,
                             .aim_ec_ms_cm = search->aim_ms_cm};
    plan.best_ec_ms_cm = search->water_miss + search->aim_ms_cm;
    plan.drain_first_l = root_find(fill_aim_miss_by_drain, search, 0, volume_l,
                                   fill_aim_tolerance * volume_l);
    return plan;
}

static struct fill_plan fill_aim_plan(const struct observation *seen,
                                      const struct strategy_fill *fill, double room_l)
{
    struct fill_aim_search search = {
        .seen = seen, .aim_ms_cm = fill->aim_ec_ms_cm, .room_l = room_l};
    const double allowed = fill_aim_tolerance * search.aim_ms_cm;
    search.water_miss = fill_aim_miss(0, &search);
    if (search.water_miss > allowed) {
        return fill_aim_too_strong(&search);
    }
    search.stock_miss = fill_aim_miss(1, &search);
    double share = 1;
    if (search.stock_miss > 0) {
        /* A thousandth of the aim, as a share of stock in the room that is left. */
        double span = search.stock_miss - search.water_miss;
        share = root_find(fill_aim_miss_by_share, &search, 0, 1, allowed / span);
    }
    return (struct fill_plan){.water_l = (1 - share) * room_l,
                              .stock_l = share * room_l,
                              .aim_ec_ms_cm = search.aim_ms_cm,
                              .reached = search.stock_miss >= -allowed,
                              .best_ec_ms_cm =
                                  fmin(search.stock_miss, 0) + search.aim_ms_cm};
}

const struct fill_rule fill_aim = {.name = "aim", .plan = fill_aim_plan};
