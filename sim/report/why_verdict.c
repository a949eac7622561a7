/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/base/text.h"
#include "pailcast/report/why.h"
#include "pailcast/scenario/display.h"

/* Less than what two readings of a pen may differ by is not told as gathering, mS/cm
 * (chosen). */
static const double verdict_least_ms_cm = 0.05;

static void verdict_ballast(struct text_line *line, const struct why *why)
{
    const struct scenario_display *display = &why->scenario->display;
    const double from = why->ballast_from_ms_cm;
    const double to = why->ballast_to_ms_cm;
    const bool eaten =
        why->ballast_most < ION_COUNT && ion_table[why->ballast_most].nutrient;
    text_line_add(line, "Of the %s now, %.*f feeds nothing",
                  display_ec_text(display, why->intervals[0].ec_to_ms_cm).text,
                  display_ec_digits(display), display_ec(display, to));
    if (to - from < verdict_least_ms_cm) {
        text_line_add(line, ", no more than at the beginning: no salt is gathering.");
        return;
    }
    text_line_add(
        line, " (%.*f at the beginning), most of it %s%s: %s", display_ec_digits(display),
        display_ec(display, from),
        why->ballast_most < ION_COUNT ? ion_table[why->ballast_most].name : "carbonate",
        eaten ? " beyond what a fresh filling holds" : "",
        eaten ? "more is poured than eaten" : "salt that stays until it is drained");
    const struct salt *with = why->strategy != NULL ? why->strategy->adjust.with : NULL;
    if (with != NULL && why->ballast_most < ION_COUNT &&
        with->ions[why->ballast_most] > 0) {
        text_line_add(line, "; the %s brings it too", with->name);
    }
    text_line_add(line, ".");
}

/* The first of EC and the ions to pass its limit: day, its name, the limit in words. */
struct verdict_passed {
    double day_d;
    const char *what;
    struct display_text limit;
};

static struct verdict_passed verdict_first(const struct why *why, double ec_d,
                                           const double ion_d[ION_COUNT])
{
    const struct scenario_limits *limits = &why->scenario->limits;
    struct verdict_passed first = {ec_d, "EC", {""}};
    if (isfinite(limits->ec_high_ms_cm)) {
        first.limit = display_ec_text(&why->scenario->display, limits->ec_high_ms_cm);
    }
    for (int i = 0; i < ION_COUNT; i++) {
        if (ion_d[i] < first.day_d) {
            first.day_d = ion_d[i];
            first.what = ion_table[i].name;
            (void)snprintf(first.limit.text, sizeof first.limit.text, "%.3g mmol/L",
                           limits->high_mmol_l[i]);
        }
    }
    return first;
}

static bool verdict_limited(const struct scenario_limits *limits)
{
    bool limited = isfinite(limits->ec_high_ms_cm);
    for (int i = 0; i < ION_COUNT; i++) {
        limited |= isfinite(limits->high_mmol_l[i]);
    }
    return limited;
}

static void verdict_renew(struct text_line *line, const struct why *why)
{
    const struct why_ahead *ahead = &why->ahead;
    const double now_d = why->intervals[0].to_d;
    const struct verdict_passed left =
        verdict_first(why, ahead->ec_left_d, ahead->ion_left_d);
    const struct verdict_passed between =
        verdict_first(why, ahead->ec_high_d, ahead->ion_high_d);
    if (!verdict_limited(&why->scenario->limits)) {
        text_line_add(line, " The scenario limits neither EC nor an ion, so whether salt "
                            "will be too much cannot be told: set limits = { na = \"6 "
                            "mmol/L\"; }.");
    } else if (left.day_d <= now_d) {
        text_line_add(line,
                      " Even after a visit %s is above its limit of %s: renew the "
                      "solution, or part of it.",
                      left.what, left.limit.text);
    } else if (isfinite(left.day_d)) {
        text_line_add(line,
                      " Going on like this, %s is above its limit of %s even after a "
                      "visit from day %s on: renew the solution, or part of it, by then.",
                      left.what, left.limit.text,
                      display_day_text(why->scenario, left.day_d, 2).text);
    } else if (isfinite(between.day_d)) {
        text_line_add(line,
                      " Between visits %s passes its limit of %s, %s%s, and each visit "
                      "mends it: the solution need not be renewed; visit more often.",
                      between.what, between.limit.text,
                      between.day_d <= now_d ? "" : "first on day ",
                      between.day_d <= now_d
                          ? "as it does now"
                          : display_day_text(why->scenario, between.day_d, 2).text);
    } else {
        text_line_add(line,
                      " Going on like this neither EC nor an ion passes an upper limit "
                      "in the next %.0f %s: the solution need not be renewed%s.",
                      ahead->until_d - now_d,
                      text_plural(round(ahead->until_d - now_d), "day", "days"),
                      why->intervals[0].tally.renewals > 0 ? " more than it is" : "");
    }
}

/* Nutrients that have run out, and those that will. */
static void verdict_food(struct text_line *line, const struct why *why)
{
    const double now_d = why->intervals[0].to_d;
    const char *link = " Run out, whatever EC reads: ";
    for (int i = 0; i < ION_COUNT; i++) {
        if (why->ahead.gone_d[i] <= now_d) {
            text_line_add(line, "%s%s", link, ion_table[i].name);
            link = ", ";
        }
    }
    text_line_add(line, link[0] == ',' ? "." : "");
    link = " Going on like this will run out: ";
    for (int i = 0; i < ION_COUNT; i++) {
        if (why->ahead.gone_d[i] > now_d && isfinite(why->ahead.gone_d[i])) {
            text_line_add(line, "%s%s on day %s", link, ion_table[i].name,
                          display_day_text(why->scenario, why->ahead.gone_d[i], 2).text);
            link = ", ";
        }
    }
    text_line_add(line, link[0] == ',' ? "." : "");
}

void why_verdict(char to[WHY_SENTENCE_SIZE], const struct why *why)
{
    struct text_line line = text_line_in(to, WHY_SENTENCE_SIZE);
    verdict_ballast(&line, why);
    if (isnan(why->ahead.until_d)) {
        text_line_add(&line, " What comes of it cannot be told: the plant is lost.");
        return;
    }
    verdict_renew(&line, why);
    verdict_food(&line, why);
    if (isfinite(why->ahead.lost_d)) {
        text_line_add(&line, " The plant will be lost for want of water on day %s.",
                      display_day_text(why->scenario, why->ahead.lost_d, 2).text);
    }
}
