/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water and stock for one filling: the share s of stock in what is poured such that
 *     EC((V n_bucket + R (1 - s) n_water + R s n_stock) / (V + R)) = aim,
 * V litres in the bucket, R litres of room, n the ions of each liquid. Where no s does,
 * the litres to drain first, or the salts to add, are found the same way. */
#include "pailcast/study/pour.h"

#include <math.h>

#include "pailcast/base/root.h"
#include "pailcast/visit/fill.h"

/* A pen cannot tell a finer difference, as a share of the aim. */
static const double pour_tolerance = 1e-3;

/* Litres and shares are searched this closely, as a share of the bucket. */
static const double pour_fine = 1e-9;

/* Salts never needed beyond, in litres' worth for each litre of bucket: EC 30 and more.
 */
static const double pour_most_salt = 64;

struct pour_case pour_case_of(const struct pour_kit *kit,
                              const struct pour_readings *readings)
{
    return (struct pour_case){
        .pen = kit->pen,
        .volume_l = readings->volume_l,
        .full_l = readings->full_l,
        .aim_ec_ms_cm = readings->aim_ec_ms_cm,
        .bucket =
            pour_kit_read(&kit->bucket, readings->ec_ms_cm, readings->ph, &kit->pen),
        .water = pour_kit_read(&kit->water, readings->water_ec_ms_cm, NAN, &kit->pen),
        .stock = pour_kit_read(&kit->stock, readings->stock_ec_ms_cm, NAN, &kit->pen),
        .salts = kit->salts,
        .has_stock = kit->has_stock || !isnan(readings->stock_ec_ms_cm),
        .adjust = kit->adjust,
        .fill = kit->fill,
    };
}

struct liquid pour_mixed(const struct pour_case *now, double drain_l, double water_l,
                         double stock_l, double salt_l)
{
    const double kept_l = fmax(now->volume_l - drain_l, 0);
    const double all_l = kept_l + water_l + stock_l;
    const double share[4] = {kept_l / all_l, water_l / all_l, stock_l / all_l,
                             salt_l / all_l};
    const struct liquid *parts[4] = {&now->bucket, &now->water, &now->stock, &now->salts};
    struct liquid mixed = {0};
    for (int p = 0; p < 4; p++) {
        for (int i = 0; i < ION_COUNT; i++) {
            mixed.mmol_l[i] += share[p] * parts[p]->mmol_l[i];
        }
        mixed.alkalinity_meq_l += share[p] * parts[p]->alkalinity_meq_l;
    }
    return mixed;
}

double pour_ec_ms_cm(const struct pour_case *now, double drain_l, double water_l,
                     double stock_l, double salt_l)
{
    if (!(fmax(now->volume_l - drain_l, 0) + water_l + stock_l > 0)) {
        return NAN;
    }
    const struct liquid mixed = pour_mixed(now, drain_l, water_l, stock_l, salt_l);
    return pen_read(&now->pen, &mixed).ec_ms_cm;
}

/* One unknown of a filling; the others stand in the plan. */
struct pour_search {
    const struct pour_case *now;
    double room_l;
    bool with_stock; /* what fills the room when draining or salting */
};

static double pour_miss_by_share(double share, void *context)
{
    const struct pour_search *s = context;
    return pour_ec_ms_cm(s->now, 0, (1 - share) * s->room_l, share * s->room_l, 0) -
           s->now->aim_ec_ms_cm;
}

static double pour_miss_by_drain(double drain_l, void *context)
{
    const struct pour_search *s = context;
    const double pour_l = s->room_l + drain_l;
    return pour_ec_ms_cm(s->now, drain_l, s->with_stock ? 0 : pour_l,
                         s->with_stock ? pour_l : 0, 0) -
           s->now->aim_ec_ms_cm;
}

static double pour_miss_by_salt(double salt_l, void *context)
{
    const struct pour_search *s = context;
    return pour_ec_ms_cm(s->now, 0, s->with_stock ? 0 : s->room_l,
                         s->with_stock ? s->room_l : 0, salt_l) -
           s->now->aim_ec_ms_cm;
}

/* Litres to drain so that one liquid alone then brings the aim; NAN where it never does.
 */
static double pour_drain(struct pour_search *search)
{
    const double volume_l = search->now->volume_l;
    const double first = pour_miss_by_drain(0, search);
    const double last = pour_miss_by_drain(volume_l, search);
    if (!(first * last <= 0)) {
        return NAN;
    }
    return root_find(pour_miss_by_drain, search, 0, volume_l,
                     pour_fine * search->now->full_l);
}

static void pour_fill_with(struct pour_plan *plan, const struct pour_search *search)
{
    const double pour_l = search->room_l + plan->drain_l;
    plan->water_l = search->with_stock ? 0 : pour_l;
    plan->stock_l = search->with_stock ? pour_l : 0;
}

static void pour_when_too_strong(struct pour_plan *plan, struct pour_search *search)
{
    plan->drain_l = pour_drain(search);
    plan->outcome = POUR_TOO_STRONG;
    if (isnan(plan->drain_l)) {
        plan->outcome = POUR_WATER_TOO_STRONG;
        plan->drain_l = 0;
    }
    pour_fill_with(plan, search);
}

static void pour_when_too_weak(struct pour_plan *plan, struct pour_search *search)
{
    const double most_l = pour_most_salt * search->now->full_l;
    plan->outcome = POUR_TOO_WEAK;
    plan->salt_l =
        root_find(pour_miss_by_salt, search, 0, most_l, pour_fine * search->now->full_l);
    pour_fill_with(plan, search);
    plan->drain_for_stock_l = search->with_stock ? pour_drain(search) : NAN;
}

static bool pour_stock_is_weaker(const struct pour_case *now)
{
    return now->has_stock && pen_read(&now->pen, &now->stock).ec_ms_cm <
                                 pen_read(&now->pen, &now->water).ec_ms_cm;
}

/* Up to the fill line, or as much as the strategy pours at a visit. Rules without an aim
 * look at nothing but the room. */
static struct pour_plan pour_by_rule(const struct pour_case *now)
{
    const struct observation seen = {.volume_l = now->volume_l};
    const double room_l = fmin(now->full_l - now->volume_l, now->fill.pour_l);
    const struct fill_plan asked = now->fill.rule->plan(&seen, &now->fill, room_l);
    struct pour_plan plan = {.outcome = POUR_BY_RULE,
                             .water_l = asked.water_l,
                             .stock_l = asked.stock_l,
                             .ec_before_ms_cm = pour_ec_ms_cm(now, 0, 0, 0, 0),
                             .drain_for_stock_l = NAN};
    plan.ec_after_ms_cm = pour_ec_ms_cm(now, 0, plan.water_l, plan.stock_l, 0);
    plan.ec_poured_ms_cm = plan.ec_after_ms_cm;
    return plan;
}

struct pour_plan pour_plan_of(const struct pour_case *now)
{
    if (isnan(now->aim_ec_ms_cm)) {
        return pour_by_rule(now);
    }
    const double allowed = pour_tolerance * now->aim_ec_ms_cm;
    const bool odd = pour_stock_is_weaker(now);
    struct pour_search search = {.now = now, .room_l = now->full_l - now->volume_l};
    struct pour_plan plan = {.outcome = POUR_REACHED,
                             .ec_before_ms_cm = pour_ec_ms_cm(now, 0, 0, 0, 0),
                             .drain_for_stock_l = NAN};
    const double with_water = pour_miss_by_share(0, &search);
    const double with_stock =
        now->has_stock ? pour_miss_by_share(1, &search) : with_water;
    const double least = fmin(with_water, with_stock);
    const double most = fmax(with_water, with_stock);
    if (least > 0) {
        search.with_stock = odd;
        plan.ec_poured_ms_cm = least + now->aim_ec_ms_cm;
        if (least > allowed) {
            pour_when_too_strong(&plan, &search);
        } else {
            pour_fill_with(&plan, &search);
        }
    } else if (most < 0) {
        search.with_stock = now->has_stock && !odd;
        plan.ec_poured_ms_cm = most + now->aim_ec_ms_cm;
        if (most < -allowed) {
            pour_when_too_weak(&plan, &search);
        } else {
            pour_fill_with(&plan, &search);
        }
    } else {
        const double share = root_find(pour_miss_by_share, &search, 0, 1, pour_fine);
        plan.water_l = (1 - share) * search.room_l;
        plan.stock_l = share * search.room_l;
        plan.ec_poured_ms_cm = pour_miss_by_share(share, &search) + now->aim_ec_ms_cm;
    }
    plan.ec_after_ms_cm =
        pour_ec_ms_cm(now, plan.drain_l, plan.water_l, plan.stock_l, plan.salt_l);
    return plan;
}
