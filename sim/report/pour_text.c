/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "amount.h"
#include "beyond_words.h"
#include "pailcast/base/text.h"
#include "pailcast/report/pour.h"
#include "pailcast/visit/fill.h"

/* A reading further off than this is no longer the pen's doing (chosen: half a step of a
 * cheap pen's calibration, or a twentieth). */
static const double text_off_ms_cm = 0.1, text_off_share = 0.05;

/* Two readings of pH closer than this are told as one (chosen: what pens differ by). */
static const double text_ph_apart = 0.2;

/* Whole bucket within this share of the fill line counts as full. */
static const double text_full = 1e-6;

struct pour_answer pour_answer_of(const struct pour_kit *kit,
                                  const struct pour_readings *readings,
                                  double pen_error_ms_cm,
                                  const struct scenario_display *display)
{
    struct pour_answer answer = {
        .display = *display,
        .now = pour_case_of(kit, readings),
        .weighed = kit->weighed,
        .pen_error_ms_cm = pen_error_ms_cm,
    };
    answer.plan = pour_plan_of(&answer.now);
    answer.step_count =
        pour_steps_of(answer.steps, &answer.now, &answer.plan, pen_error_ms_cm);
    answer.ph_was_read = !isnan(readings->ph);
    answer.tells_ph = answer.ph_was_read || kit->adjust.with != NULL;
    if (answer.tells_ph) {
        answer.ph = pour_ph_of(&answer.now, &answer.plan);
    }
    if (pen_error_ms_cm > 0) {
        answer.range = pour_range_of(kit, readings, &answer.plan, pen_error_ms_cm);
    }
    return answer;
}

static const char *text_filler(const struct pour_plan *plan)
{
    return plan->stock_l > plan->water_l ? "stock" : "water";
}

/* Of a thing done in two halves the second is what is left of the whole as told: the two
 * add up to it as told. */
static double text_grams(double grams, bool again)
{
    return again ? amount_mass_told(2 * grams) - amount_mass_told(grams) : grams;
}

static double text_litres(const struct scenario_display *display, double litres,
                          bool again)
{
    return again ? amount_volume_told(display, 2 * litres) -
                       amount_volume_told(display, litres)
                 : litres;
}

/* "12.6 g of KNO3, 3.1 g of KH2PO4": of a step, maybe the second half. */
static void text_salts(char *to, size_t size, const struct pour_answer *answer,
                       const struct pour_step *step, bool again)
{
    struct text_line line = text_line_in(to, size);
    for (size_t i = 0; i < answer->weighed.count; i++) {
        const struct recipe_part *part = &answer->weighed.parts[i];
        const double grams = text_grams(part->g_l * step->amount_l, again);
        text_line_add(&line, "%s%s of %s", i > 0 ? ", " : "", amount_mass(grams).text,
                      part->name);
    }
}

/* All salts, as each is told. */
static double text_salts_g(const struct pour_answer *answer)
{
    double sum = 0;
    for (size_t i = 0; i < answer->weighed.count; i++) {
        sum += amount_mass_told(answer->weighed.parts[i].g_l * answer->plan.salt_l);
    }
    return sum;
}

/* "2.57 L of water and 934 mL of stock", "1 L of water alone". */
static void text_poured(char to[POUR_WHY_SIZE / 2], const struct pour_answer *answer)
{
    const struct pour_plan *plan = &answer->plan;
    const double least_l = text_full * answer->now.full_l;
    const struct amount_text water = amount_volume(&answer->display, plan->water_l);
    const struct amount_text stock = amount_volume(&answer->display, plan->stock_l);
    if (plan->stock_l <= least_l) {
        (void)snprintf(to, POUR_WHY_SIZE / 2, "%s of water alone", water.text);
    } else if (plan->water_l <= least_l) {
        (void)snprintf(to, POUR_WHY_SIZE / 2, "%s of stock alone", stock.text);
    } else {
        (void)snprintf(to, POUR_WHY_SIZE / 2, "%s of water and %s of stock", water.text,
                       stock.text);
    }
}

/* Reached, or poured by a rule that aims at nothing. */
static void text_why_poured(char to[POUR_WHY_SIZE], const struct pour_answer *answer)
{
    const struct pour_plan *plan = &answer->plan;
    const struct pour_case *now = &answer->now;
    const struct display_text after =
        display_ec_text(&answer->display, plan->ec_after_ms_cm);
    const double poured_l = plan->water_l + plan->stock_l;
    const double holds_l = now->volume_l + poured_l;
    const bool both = fmin(plan->water_l, plan->stock_l) > text_full * now->full_l;
    char poured[POUR_WHY_SIZE / 2];
    text_poured(poured, answer);
    if (poured_l <= text_full * now->full_l) {
        (void)snprintf(to, POUR_WHY_SIZE, "the bucket is full and reads %s%s",
                       plan->outcome == POUR_REACHED ? "what it should, " : "",
                       after.text);
    } else if (holds_l >= now->full_l * (1 - text_full)) {
        (void)snprintf(to, POUR_WHY_SIZE, "%s %s the bucket to %s", poured,
                       both ? "fill" : "fills", after.text);
    } else {
        (void)snprintf(to, POUR_WHY_SIZE, "%s %s the bucket to %s and %s", poured,
                       both ? "bring" : "brings",
                       amount_volume(&answer->display, holds_l).text, after.text);
    }
}

/* "the bucket is full and reads 2.40 mS/cm", "even filled with water it would read ..."
 */
static void text_state(char to[POUR_WHY_SIZE / 2], const struct pour_answer *answer)
{
    const bool full = answer->now.volume_l >= answer->now.full_l * (1 - text_full);
    const struct display_text reads =
        display_ec_text(&answer->display, answer->plan.ec_poured_ms_cm);
    if (full) {
        (void)snprintf(to, POUR_WHY_SIZE / 2, "the bucket is full and reads %s",
                       reads.text);
    } else {
        (void)snprintf(to, POUR_WHY_SIZE / 2, "even filled with %s it would read %s",
                       text_filler(&answer->plan), reads.text);
    }
}

static void text_why_too_strong(char to[POUR_WHY_SIZE], const struct pour_answer *answer)
{
    const struct scenario_display *display = &answer->display;
    char now[POUR_WHY_SIZE / 2];
    text_state(now, answer);
    (void)snprintf(
        to, POUR_WHY_SIZE, "%s, above the aim of %s; drain %s first, then fill with %s",
        now, display_ec_text(display, answer->now.aim_ec_ms_cm).text,
        amount_volume(display, answer->plan.drain_l).text, text_filler(&answer->plan));
}

static void text_why_too_weak(char to[POUR_WHY_SIZE], const struct pour_answer *answer)
{
    char now[POUR_WHY_SIZE / 2];
    text_state(now, answer);
    (void)snprintf(to, POUR_WHY_SIZE,
                   "%s, below the aim of %s; dissolve %s of salts in it", now,
                   display_ec_text(&answer->display, answer->now.aim_ec_ms_cm).text,
                   amount_mass(text_salts_g(answer)).text);
}

/* No draining helps: the weakest liquid at hand is above the aim by itself. */
static void text_why_no_water(char to[POUR_WHY_SIZE], const struct pour_answer *answer)
{
    const struct pour_case *now = &answer->now;
    const struct scenario_display *display = &answer->display;
    const bool stock = answer->plan.stock_l > answer->plan.water_l;
    const struct liquid *weakest = stock ? &now->stock : &now->water;
    (void)snprintf(to, POUR_WHY_SIZE,
                   "the %s itself reads %s, above the aim of %s, which only a weaker "
                   "water can reach; filled with this one it comes to %s",
                   text_filler(&answer->plan),
                   display_ec_text(display, pen_read(&now->pen, weakest).ec_ms_cm).text,
                   display_ec_text(display, now->aim_ec_ms_cm).text,
                   display_ec_text(display, answer->plan.ec_after_ms_cm).text);
}

void pour_text_why(char to[POUR_WHY_SIZE], const struct pour_answer *answer)
{
    switch (answer->plan.outcome) {
    case POUR_REACHED:
    case POUR_BY_RULE:
        text_why_poured(to, answer);
        break;
    case POUR_TOO_STRONG:
        text_why_too_strong(to, answer);
        break;
    case POUR_TOO_WEAK:
        text_why_too_weak(to, answer);
        break;
    case POUR_WATER_TOO_STRONG:
        text_why_no_water(to, answer);
        break;
    }
}

/* "Stir, wait a minute and read: 1.77 mS/cm." */
static void text_reading(FILE *out, const struct pour_answer *answer,
                         const struct pour_step *step, bool last)
{
    if (isnan(step->reads_ms_cm) || step->act == POUR_DRAIN) {
        fputs(".\n", out);
        return;
    }
    fprintf(out, ". Stir, wait a minute, read: %s%s.\n",
            display_ec_text(&answer->display, step->reads_ms_cm).text,
            last ? "" : "; go on only if so");
}

static bool text_same_act(const struct pour_answer *answer, size_t a, size_t b)
{
    return b < answer->step_count && answer->steps[a].act == answer->steps[b].act;
}

static void text_step(FILE *out, const struct pour_answer *answer, size_t index)
{
    const struct pour_step *step = &answer->steps[index];
    const bool again = index > 0 && text_same_act(answer, index - 1, index);
    const bool half = text_same_act(answer, index, index + 1);
    const bool last = index + 1 == answer->step_count;
    const struct amount_text amount = amount_volume(
        &answer->display, text_litres(&answer->display, step->amount_l, again));
    char salts[1024];
    fprintf(out, "%zu. ", index + 1);
    switch (step->act) {
    case POUR_DRAIN:
        fprintf(out, "Drain %s, before anything is poured", amount.text);
        break;
    case POUR_WATER:
        fprintf(out, "Pour %s of water", amount.text);
        break;
    case POUR_STOCK:
        fprintf(out,
                again  ? "Pour the other half, %s, and stop where the pen reads so"
                : half ? "Pour half of the stock, %s"
                       : "Pour %s of stock",
                amount.text);
        break;
    case POUR_SALTS:
        text_salts(salts, sizeof salts, answer, step, again);
        fprintf(out,
                again ? "Add the other half, %s"
                      : "Dissolve %s, one after another, in a jug of water from the "
                        "bucket and pour it back",
                salts);
        break;
    }
    text_reading(out, answer, step, last);
}

static void text_range(FILE *out, const struct pour_answer *answer)
{
    const struct scenario_display *display = &answer->display;
    const struct pour_range *range = &answer->range;
    fprintf(out, "A pen right to %s leaves open: ",
            display_ec_text(display, answer->pen_error_ms_cm).text);
    if (range->drain_high_l > 0) {
        fprintf(out, "drain %s to %s, ", amount_volume(display, range->drain_low_l).text,
                amount_volume(display, range->drain_high_l).text);
    }
    const bool aims = answer->plan.outcome != POUR_BY_RULE;
    if (aims) {
        fprintf(out, "water %s to %s, ", amount_volume(display, range->water_low_l).text,
                amount_volume(display, range->water_high_l).text);
    }
    if (aims && answer->now.has_stock) {
        fprintf(out, "stock %s to %s, ", amount_volume(display, range->stock_low_l).text,
                amount_volume(display, range->stock_high_l).text);
    }
    fprintf(out, "%s%s to %s in the end%s.\n", aims ? "and " : "",
            display_ec_text(display, range->ec_low_ms_cm).text,
            display_ec_text(display, range->ec_high_ms_cm).text,
            answer->ph.dose_mmol > 0 ? ", without what is added for pH" : "");
}

/* The highest EC of what is poured together, mS/cm. */
static double text_strongest(const struct pour_answer *answer)
{
    const struct pour_case *now = &answer->now;
    const double liquids =
        fmax(pen_read(&now->pen, &now->water).ec_ms_cm,
             now->has_stock ? pen_read(&now->pen, &now->stock).ec_ms_cm : 0);
    const double bucket = fmax(answer->plan.ec_before_ms_cm, answer->plan.ec_after_ms_cm);
    return fmax(fmax(bucket, liquids), now->aim_ec_ms_cm);
}

/* What the pens say once the dose is in: at once, and where that is another thing, when
 * the bucket has settled with the air (a night with the air pump on; common practice). */
static void text_settles(FILE *out, const struct pour_answer *answer)
{
    const struct pour_ph *ph = &answer->ph;
    fputs("Stir, wait a minute, read: ", out);
    if (fabs(ph->at_once - ph->after) < text_ph_apart) {
        fprintf(out, "pH %.1f and %s.\n", ph->after,
                display_ec_text(&answer->display, ph->ec_after_ms_cm).text);
        return;
    }
    fprintf(out, "about pH %.1f and %s; by tomorrow, when %s, pH %.1f. ", ph->at_once,
            display_ec_text(&answer->display, ph->ec_at_once_ms_cm).text,
            ph->at_once < ph->after ? "the carbon dioxide set free has left"
                                    : "carbon dioxide has come in from the air",
            ph->after);
    fputs("Do not correct it today.\n", out);
}

static void text_dose(FILE *out, const struct pour_answer *answer)
{
    const struct salt *with = answer->now.adjust.with;
    const bool acid = with->alkalinity < 0;
    if (!(answer->ph.dose_mmol > 0)) {
        fprintf(out, "No %s is needed.\n", with->name);
        return;
    }
    fprintf(
        out,
        "%zu. With goggles and gloves, add %s of %s (%s), reckoned as pure; of a bottle "
        "that says P %% by mass, 100/P times as much. Stir it into a jug of water "
        "first%s, and pour it in by "
        "halves. ",
        answer->step_count + 1, amount_mass(answer->ph.dose_g).text, with->name,
        with->formula, acid ? ", acid into water and never the other way round" : "");
    text_settles(out, answer);
}

static void text_ph(FILE *out, const struct pour_answer *answer)
{
    const struct pour_ph *ph = &answer->ph;
    if (!isnan(ph->before)) {
        fprintf(out, "pH %.1f now, ", ph->before);
    }
    fprintf(out, "%s %.1f after the pour%s.\n", isnan(ph->before) ? "pH" : "and",
            ph->poured,
            answer->ph_was_read ? ""
                                : ", as the scenario has it; --ph tells what your pen "
                                  "says");
    if (answer->now.adjust.with != NULL) {
        text_dose(out, answer);
    }
}

/* What else is worth knowing. */
static void text_remarks(FILE *out, const struct pour_answer *answer)
{
    const struct scenario_display *display = &answer->display;
    const struct pour_plan *plan = &answer->plan;
    const double off = fmax(fmax(text_off_ms_cm, answer->pen_error_ms_cm),
                            text_off_share * answer->now.aim_ec_ms_cm);
    if (!isnan(plan->drain_for_stock_l)) {
        fprintf(out, "Without a scale: drain %s instead and fill with stock.\n",
                amount_volume(display, plan->drain_for_stock_l).text);
    }
    if (answer->step_count > 0) {
        fprintf(out,
                "A reading off by more than %s: stop there, and ask again with what the "
                "pen and the level then say.\n",
                display_ec_text(display, off).text);
    }
    char beyond[BEYOND_WORDS_SIZE];
    if (beyond_words_ec(beyond, text_strongest(answer), display)) {
        fprintf(out, "%s\n", beyond);
    }
}

/* The EC to come to, or what is poured without one. */
static void text_aim(FILE *out, const struct pour_answer *answer)
{
    const struct strategy_fill *fill = &answer->now.fill;
    if (answer->plan.outcome != POUR_BY_RULE) {
        fprintf(out, "; aim %s.\n",
                display_ec_text(&answer->display, answer->now.aim_ec_ms_cm).text);
    } else if (strcmp(fill->rule->name, "mix") != 0) {
        fprintf(out, "; no EC is aimed at, the strategy pours %s.\n", fill->rule->name);
    } else {
        fprintf(out, "; no EC is aimed at, the strategy pours %.3g %% stock.\n",
                100 * fill->stock_share);
    }
}

void pour_text_answer(FILE *out, const struct pour_answer *answer)
{
    const struct scenario_display *display = &answer->display;
    const struct pour_case *now = &answer->now;
    char why[POUR_WHY_SIZE];
    fprintf(out, "Now %s of %s",
            now->volume_l > 0 ? amount_volume(display, now->volume_l).text : "nothing",
            amount_volume(display, now->full_l).text);
    if (!isnan(answer->plan.ec_before_ms_cm)) {
        fprintf(out, " at %s",
                display_ec_text(display, answer->plan.ec_before_ms_cm).text);
    }
    text_aim(out, answer);
    pour_text_why(why, answer);
    fprintf(out, "%c%s.\n", why[0] >= 'a' && why[0] <= 'z' ? why[0] - 'a' + 'A' : why[0],
            why + 1);
    for (size_t i = 0; i < answer->step_count; i++) {
        text_step(out, answer, i);
    }
    if (answer->tells_ph) {
        text_ph(out, answer);
    }
    if (answer->pen_error_ms_cm > 0) {
        text_range(out, answer);
    }
    text_remarks(out, answer);
}
