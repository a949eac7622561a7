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
    text_line_add(line, "Of the %s now, %.*f feeds nothing",
                  display_ec_text(display, why->intervals[0].ec_to_ms_cm).text,
                  display_ec_digits(display), display_ec(display, to));
    if (to - from >= verdict_least_ms_cm) {
        text_line_add(line,
                      ", %.*f at the beginning: salt that stays until it is drained.",
                      display_ec_digits(display), display_ec(display, from));
    } else {
        text_line_add(line, ", no more than at the beginning: no salt is gathering.");
    }
}

/* The ion that is first over its upper limit; ION_COUNT where none ever is. */
static int verdict_first(const struct why_interval *whole)
{
    int first = ION_COUNT;
    double first_d = INFINITY;
    for (int i = 0; i < ION_COUNT; i++) {
        if (whole->ion[i].passes_d < first_d) {
            first = i;
            first_d = whole->ion[i].passes_d;
        }
    }
    return first;
}

static bool verdict_limited(const struct scenario_limits *limits)
{
    bool limited = false;
    for (int i = 0; i < ION_COUNT; i++) {
        limited |= isfinite(limits->high_mmol_l[i]);
    }
    return limited;
}

/* The ion stands above its limit, or did until the last visit. */
static void verdict_above(struct text_line *line, int ion, const struct why_ion *at,
                          double high_mmol_l)
{
    if (at->last_mmol_l <= high_mmol_l && at->found_mmol_l > high_mmol_l) {
        text_line_add(line,
                      " The last visit found %s above its limit of %.3g mmol/L: visit "
                      "more often, or renew the solution sooner.",
                      ion_table[ion].name, high_mmol_l);
    } else {
        text_line_add(line,
                      " Now %s stands above its limit of %.3g mmol/L: renew the "
                      "solution, or part of it.",
                      ion_table[ion].name, high_mmol_l);
    }
}

static void verdict_renew(struct text_line *line, const struct why *why)
{
    const struct scenario_limits *limits = &why->scenario->limits;
    const struct why_interval *whole = &why->intervals[0];
    const int first = verdict_first(whole);
    if (first < ION_COUNT && whole->ion[first].passes_d <= 0) {
        verdict_above(line, first, &whole->ion[first], limits->high_mmol_l[first]);
    } else if (!verdict_limited(limits)) {
        text_line_add(line, " The scenario limits no ion, so whether salt will be too "
                            "much cannot be told: set limits = { na = \"6 mmol/L\"; }.");
    } else if (whole->tally.visits == 0) {
        text_line_add(line, " Nobody visited in this time, so it does not tell whether "
                            "salt will be too much.");
    } else if (first < ION_COUNT) {
        text_line_add(line,
                      " Going on like this, %s passes its limit of %.3g mmol/L in about "
                      "%.0f days: renew the solution, or part of it, by then.",
                      ion_table[first].name, limits->high_mmol_l[first],
                      whole->ion[first].passes_d);
    } else if (whole->tally.renewals > 0) {
        text_line_add(line, " Going on like this, renewed as it is, no ion comes to its "
                            "limit.");
    } else {
        text_line_add(line, " Going on like this no ion comes to its limit: for salt the "
                            "solution need not be renewed.");
    }
}

/* Names of the nutrients with a heading, "nitrate, potassium". */
static void verdict_food(struct text_line *line, const struct why_interval *whole,
                         enum why_heading heading, const char *words)
{
    const char *link = words;
    for (int i = 0; i < ION_COUNT; i++) {
        if (ion_table[i].nutrient && whole->ion[i].heading == heading) {
            text_line_add(line, "%s%s", link, ion_table[i].name);
            link = ", ";
        }
    }
    text_line_add(line, link == words ? "" : ".");
}

void why_verdict(char to[WHY_SENTENCE_SIZE], const struct why *why)
{
    struct text_line line = text_line_in(to, WHY_SENTENCE_SIZE);
    const struct why_interval *whole = &why->intervals[0];
    verdict_ballast(&line, why);
    verdict_renew(&line, why);
    if (whole->tally.drunk_l > 0) {
        verdict_food(&line, whole, WHY_GONE, " Run out, whatever EC reads: ");
        verdict_food(&line, whole, WHY_RUNS_OUT, " On the way to running out: ");
    }
}
