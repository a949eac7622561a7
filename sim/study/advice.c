/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/advice.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "advice_parts.h"
#include "advice_visit.h"
#include "pailcast/scenario/display.h"

/* What a grower can tell by eye (chosen). */
const double advice_same_growth = 0.02;

void advice_say(struct compare_row *row, double day_d, const char *format, ...)
{
    if (row->advice_count == COMPARE_ADVICE_MAX) {
        return;
    }
    size_t at = row->advice_count++;
    while (at > 0 && row->advice_d[at - 1] > day_d) {
        row->advice_d[at] = row->advice_d[at - 1];
        memcpy(row->advice[at], row->advice[at - 1], COMPARE_LINE_SIZE);
        at--;
    }
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(row->advice[at], COMPARE_LINE_SIZE, format, arguments);
    va_end(arguments);
    row->advice_d[at] = day_d;
}

static void advice_water(struct compare_row *row, const struct scenario *scenario)
{
    const struct life_first_days *first = &row->life.first;
    if (first->roots_dry == 0) {
        advice_say(
            row, 0,
            "From the first day the water does not reach the roots. Fill the bucket "
            "higher, or hang the plant lower.");
    } else if (!isnan(first->roots_dry) && isnan(first->plant_lost)) {
        advice_say(row, first->roots_dry,
                   "Day %s: the water falls away from the roots before the next visit. "
                   "Visit before that day, or more often from then on.",
                   display_day_text(scenario, first->roots_dry, 1).text);
    }
    if (!isnan(first->plant_lost)) {
        advice_say(
            row, first->plant_lost,
            "Day %s: the plant is lost for want of water; the roots stood dry from "
            "day %s on. Visit more often, or start with a fuller or larger bucket.",
            display_day_text(scenario, first->plant_lost, 0).text,
            display_day_text(scenario, first->roots_dry, 1).text);
    }
}

/* Plain water no longer brings EC down. */
static void advice_drained(struct compare_row *row, const struct scenario *scenario,
                           const struct advice_drain *drain)
{
    const struct scenario_display *display = &scenario->display;
    const double limit = scenario->limits.ec_high_ms_cm;
    if (drain->possible) {
        advice_say(
            row, drain->day_d,
            "Day %s: drain %s and refill with water; topping up alone can no longer "
            "bring EC below %s (full with plain water it would still read %s).",
            display_day_text(scenario, drain->day_d, 0).text,
            display_volume_text(display, drain->drain_l).text,
            display_ec_text(display, limit).text,
            display_ec_text(display, drain->full_ec_ms_cm).text);
    } else {
        advice_say(
            row, drain->day_d,
            "Day %s: EC stays above %s whatever is drained: the clean water itself "
            "is too salty. Find softer water.",
            display_day_text(scenario, drain->day_d, 0).text,
            display_ec_text(display, limit).text);
    }
}

static void advice_ec(struct compare_row *row, const struct scenario *scenario)
{
    const struct scenario_display *display = &scenario->display;
    const double limit = scenario->limits.ec_high_ms_cm;
    struct advice_drain drain;
    double left_d = INFINITY;
    if (isnan(row->life.first.ec_high)) {
        return;
    }
    const bool left = advice_visit_left_strong(&left_d, row, limit);
    const bool drains = advice_visit_too_strong(&drain, row, scenario);
    if (left && !(drains && drain.day_d <= left_d)) {
        advice_say(row, left_d,
                   "Day %s: EC is above %s even after the pour: more salt is poured than "
                   "eaten. Pour plain water on that day, and less stock from then on.",
                   display_day_text(scenario, left_d, 0).text,
                   display_ec_text(display, limit).text);
    }
    if (drains) {
        advice_drained(row, scenario, &drain);
    } else if (!left) {
        advice_say(
            row, row->life.first.ec_high,
            "Day %s: EC passes %s between visits, but only because the plant has "
            "drunk; plain water at the next visit brings it back. Nothing needs to be "
            "drained.",
            display_day_text(scenario, row->life.first.ec_high, 0).text,
            display_ec_text(display, limit).text);
    }
}

static void advice_nutrient(struct compare_row *row, const struct scenario *scenario)
{
    if (row->nutrient_low == ION_COUNT) {
        return;
    }
    const struct scenario_display *display = &scenario->display;
    const char *name = ion_table[row->nutrient_low].name;
    const double ec = advice_visit_ec_on(row, row->nutrient_low_d);
    const struct scenario_limits *limits = &scenario->limits;
    const bool hidden = limits->ec_low_ms_cm > 0 && isfinite(limits->ec_high_ms_cm) &&
                        ec >= limits->ec_low_ms_cm && ec <= limits->ec_high_ms_cm;
    const struct trajectory *path = &row->life.trajectory;
    const bool fed = path->samples[path->sample_count - 1].stock_poured_l > 0;
    if (row->growth_index > 1 - advice_same_growth) {
        advice_say(row, row->nutrient_low_d,
                   "Day %s: %s is drawn down to nothing between fills (EC %s). The plant "
                   "lives on what it has stored and grows on; watch its leaves.",
                   display_day_text(scenario, row->nutrient_low_d, 0).text, name,
                   display_ec_text(display, ec).text);
        return;
    }
    const bool salty = advice_visit_salty_water(row, scenario, row->nutrient_low_d);
    advice_say(
        row, row->nutrient_low_d,
        "Day %s: %s runs out while EC reads %s%s. Drain %s, refill with stock, and "
        "%s%s.",
        display_day_text(scenario, row->nutrient_low_d, 0).text, name,
        display_ec_text(display, ec).text,
        hidden ? ", a reading that looks right: the pen cannot see this" : "",
        display_volume_text(display, 0.5 * scenario->bucket.full_l).text,
        salty ? "take a softer water, pour a fixed share of stock or renew more often: "
                "this water's own salt fills the EC that is aimed at"
        : fed ? "look for a recipe with more "
              : "pour stock too, not water alone",
        fed && !salty ? name : "");
}

enum {
    ADVICE_SOURCE_SIZE = 96
};

/* What brought most of an ion, and so brings it back once it is drained; "" where nothing
 * does. */
static void advice_source(char words[ADVICE_SOURCE_SIZE], const struct compare_row *row,
                          enum ion ion)
{
    const struct strategy *strategy = row->strategy;
    const struct salt *with = strategy->adjust.with;
    const struct trajectory *path = &row->life.trajectory;
    const struct sample *last = &path->samples[path->sample_count - 1];
    const double water_mmol = strategy->water.mmol_l[ion] * last->water_poured_l;
    const double stock_mmol = strategy->stock.mmol_l[ion] * last->stock_poured_l;
    const double dosed_mmol =
        with != NULL ? with->ions[ion] * row->life.ledger.adjust_mmol : 0;
    words[0] = '\0';
    if (with != NULL && dosed_mmol > fmax(water_mmol, stock_mmol)) {
        (void)snprintf(words, ADVICE_SOURCE_SIZE,
                       "; most of it comes with the %s, and comes back with it",
                       with->name);
    } else if (strategy->water.mmol_l[ion] > 0) {
        (void)snprintf(
            words, ADVICE_SOURCE_SIZE,
            "; the water brings %.2g mmol/L with every litre, so it comes back",
            strategy->water.mmol_l[ion]);
    } else if (strategy->stock.mmol_l[ion] > 0) {
        (void)snprintf(words, ADVICE_SOURCE_SIZE,
                       "; it comes with the stock, %.3g mmol/L in every litre, not with "
                       "the water",
                       strategy->stock.mmol_l[ion]);
    }
}

static void advice_ions(struct compare_row *row, const struct scenario *scenario)
{
    const struct scenario_display *display = &scenario->display;
    for (int i = 0; i < ION_COUNT; i++) {
        const double day_d = row->life.first.ion_high[i];
        const double limit = scenario->limits.high_mmol_l[i];
        struct advice_drain drain;
        if (isnan(day_d)) {
            continue;
        }
        if (advice_visit_ion(&drain, row, scenario, (enum ion)i)) {
            char source[ADVICE_SOURCE_SIZE];
            advice_source(source, row, (enum ion)i);
            advice_say(row, drain.day_d,
                       "Day %s: %s passes %.3g mmol/L even in a full bucket. Drain %s "
                       "and refill with water to halve it%s.",
                       display_day_text(scenario, drain.day_d, 0).text, ion_table[i].name,
                       limit, display_volume_text(display, drain.drain_l).text, source);
        } else {
            advice_say(row, day_d,
                       "Day %s: %s passes %.3g mmol/L between visits only; a full bucket "
                       "is back under it.",
                       display_day_text(scenario, day_d, 0).text, ion_table[i].name,
                       limit);
        }
    }
}

static void advice_solids(struct compare_row *row, const struct scenario *scenario)
{
    double day_d;
    enum solid solid;
    if (advice_visit_solid(&day_d, &solid, row, scenario)) {
        advice_say(row, day_d,
                   "Day %s: %s may begin to fall out as a white scale; EC then reads a "
                   "little lower than told here, and what falls out no longer feeds.",
                   display_day_text(scenario, day_d, 0).text,
                   saturation_solid_name[solid]);
    }
}

static double advice_reads(const struct liquid *liquid, const struct scenario *scenario)
{
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    return pen_read(&pen, liquid).ec_ms_cm;
}

/* What helps a bucket that is full before it is as strong as its aim. */
static const char *advice_stronger(const struct advice_missed *missed, double stock_ms_cm)
{
    if (stock_ms_cm < missed->aim_ec_ms_cm) {
        return "A stronger stock is needed.";
    }
    return missed->met_later
               ? "Later pours bring it to its aim; a stronger stock, or more of it in "
                 "the first filling, would do so sooner."
               : "A stronger stock is needed, or more of it in the first filling.";
}

/* "At 6 of 29 visits, first on day 3, ..." */
static void advice_missed_say(struct compare_row *row, const struct scenario *scenario,
                              const struct advice_missed *missed, const char *rest)
{
    advice_say(row, missed->day_d, "At %zu of %zu visits, first on day %s, %s",
               missed->count, row->life.trajectory.visit_count,
               display_day_text(scenario, missed->day_d, 0).text, rest);
}

static void advice_weak(struct compare_row *row, const struct scenario *scenario)
{
    struct advice_missed missed;
    char rest[COMPARE_LINE_SIZE];
    if (!advice_visit_weak(&missed, row)) {
        return;
    }
    (void)snprintf(
        rest, sizeof rest, "filling up with pure stock brings the bucket only to %s. %s",
        display_ec_text(&scenario->display, missed.best_ec_ms_cm).text,
        advice_stronger(&missed, advice_reads(&row->strategy->stock, scenario)));
    advice_missed_say(row, scenario, &missed, rest);
}

static void advice_strong(struct compare_row *row, const struct scenario *scenario)
{
    const struct scenario_display *display = &scenario->display;
    struct advice_missed missed;
    char rest[COMPARE_LINE_SIZE];
    if (!advice_visit_strong(&missed, row)) {
        return;
    }
    int length = snprintf(rest, sizeof rest,
                          "the bucket is too strong for its aim even with plain water: "
                          "%s at best. ",
                          display_ec_text(display, missed.best_ec_ms_cm).text);
    if (advice_reads(&row->strategy->water, scenario) < missed.aim_ec_ms_cm) {
        (void)snprintf(rest + length, sizeof rest - (size_t)length,
                       "Draining %s first would have done it.",
                       display_volume_text(display, missed.first_drain_l).text);
    } else {
        (void)snprintf(rest + length, sizeof rest - (size_t)length,
                       "The water itself reads no less than the aim, so that no drain "
                       "would have done it.");
    }
    advice_missed_say(row, scenario, &missed, rest);
}

static void advice_rim(struct compare_row *row, const struct scenario *scenario)
{
    double refused_l = 0;
    for (size_t i = 0; i < row->life.trajectory.visit_count; i++) {
        refused_l += row->life.trajectory.visits[i].refused_l;
    }
    if (refused_l > 1e-3 * scenario->bucket.full_l) {
        advice_say(
            row, INFINITY,
            "%s of what this strategy pours does not fit under the fill line; pour "
            "less at a time.",
            display_volume_text(&scenario->display, refused_l).text);
    }
}

/* Whether anything but a nutrient running out is watched. */
static bool advice_watches(const struct scenario_limits *limits)
{
    bool watches = limits->ec_low_ms_cm > 0 || isfinite(limits->ec_high_ms_cm) ||
                   limits->ph_low > 0 || isfinite(limits->ph_high);
    for (int i = 0; i < ION_COUNT; i++) {
        watches |= isfinite(limits->high_mmol_l[i]);
    }
    return watches;
}

void advice_row(struct compare_row *row, const struct scenario *scenario)
{
    row->advice_count = 0;
    advice_water(row, scenario);
    advice_ec(row, scenario);
    advice_nutrient(row, scenario);
    advice_ions(row, scenario);
    advice_ph(row, scenario);
    advice_solids(row, scenario);
    advice_weak(row, scenario);
    advice_strong(row, scenario);
    advice_rim(row, scenario);
    if (row->advice_count == 0) {
        const struct scenario_display *display = &scenario->display;
        advice_say(row, INFINITY, "%s: EC stays between %s and %s, %s%s in %.0f days.",
                   advice_watches(&scenario->limits)
                       ? "Nothing needs doing beyond these visits"
                       : "Without limits nothing is watched but water and food",
                   display_ec_text(display, row->ec_min).text,
                   display_ec_text(display, row->ec_max).text,
                   advice_watches(&scenario->limits) ? "no limit is passed"
                                                     : "no nutrient runs out",
                   row->life.ledger.renewals == 0 ? " and nothing is ever dumped" : "",
                   row->life.end_d);
    }
}
