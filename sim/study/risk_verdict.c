/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which strategy to use: docs/model.md, "Which strategy of many lives". */
#include <math.h>

#include <gsl/gsl_cdf.h>

#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "risk_parts.h"

const double risk_verdict_trouble = 0.1;
const double risk_verdict_growth = 0.9;

/* So often worlds that differ by chance alone may look told apart (chosen). */
static const double verdict_doubt = 0.05;

enum {
    VERDICT_NAMES = 4 /* strategies named in a sentence */
};

/* What strategies are compared by, in turn. */
enum verdict_aim {
    VERDICT_LOST,
    VERDICT_STUNTED,
    VERDICT_TROUBLE,
    VERDICT_LEFT, /* trouble that the last visit leaves */
    VERDICT_GROWTH,
    VERDICT_DUMPED,
    VERDICT_AIMS
};

/* What a life is the worse for. */
static double verdict_worse(const float value[], enum verdict_aim aim)
{
    switch (aim) {
    case VERDICT_LOST:
        return isnan(value[OUTCOME_LOST]) ? 0 : 1;
    case VERDICT_STUNTED:
        return (double)value[OUTCOME_GROWTH_INDEX] < risk_verdict_growth ? 1 : 0;
    case VERDICT_TROUBLE:
        return isnan(value[OUTCOME_ACTION]) ? 0 : 1;
    case VERDICT_LEFT:
        return isnan(value[OUTCOME_LEFT + OUTCOME_ACTION]) ? 0 : 1;
    case VERDICT_GROWTH:
        return -(double)value[OUTCOME_GROWTH_INDEX];
    default:
        return (double)value[OUTCOME_DRAINED];
    }
}

/* The least that a grower would mind, on average over the worlds (chosen): two lives in a
 * hundred, what can be seen of growth, a tenth of a bucket. */
static double verdict_minded(const struct risk *risk, enum verdict_aim aim)
{
    static const double minded = 0.02;
    static const double minded_bucket = 0.1;
    return aim == VERDICT_DUMPED ? minded_bucket * risk->scenario->bucket.full_l : minded;
}

static double verdict_mean(const struct risk *risk, size_t row, enum verdict_aim aim)
{
    double sum = 0;
    for (size_t i = 0; i < risk->plan->lives; i++) {
        sum += verdict_worse(risk_values(risk, i, row), aim);
    }
    return sum / (double)risk->plan->lives;
}

/* Whether the worlds tell that `row` is worse than the leader: by so much that it is
 * minded, and by the two-sided sign test (Dixon & Mood 1946) over the worlds in which
 * they differ. */
static bool verdict_tells(const struct risk *risk, size_t leader, size_t row,
                          enum verdict_aim aim)
{
    unsigned int worse = 0;
    unsigned int better = 0;
    for (size_t i = 0; i < risk->plan->lives; i++) {
        const double more = verdict_worse(risk_values(risk, i, row), aim) -
                            verdict_worse(risk_values(risk, i, leader), aim);
        worse += more > 0 ? 1 : 0;
        better += more < 0 ? 1 : 0;
    }
    const double more = verdict_mean(risk, row, aim) - verdict_mean(risk, leader, aim);
    return more > verdict_minded(risk, aim) &&
           2 * gsl_cdf_binomial_P(better, 0.5, better + worse) < verdict_doubt;
}

/* The one of the equals with the least of what is bad; the first of several. */
static size_t verdict_leader(const struct risk_sum *sum, enum verdict_aim aim)
{
    size_t leader = SCENARIO_STRATEGIES_MAX;
    double least = INFINITY;
    for (size_t k = 0; k < sum->row_count; k++) {
        const double mean = verdict_mean(sum->risk, k, aim);
        if (sum->equal[k] && mean < least) {
            least = mean;
            leader = k;
        }
    }
    return leader;
}

/* Leaves those equal that no comparison tells from its leader. */
static void verdict_choose(struct risk_sum *sum)
{
    for (size_t k = 0; k < sum->row_count; k++) {
        sum->equal[k] = true;
    }
    for (int aim = 0; aim < VERDICT_AIMS; aim++) {
        const size_t leader = verdict_leader(sum, (enum verdict_aim)aim);
        for (size_t k = 0; k < sum->row_count; k++) {
            sum->equal[k] = sum->equal[k] &&
                            !verdict_tells(sum->risk, leader, k, (enum verdict_aim)aim);
        }
    }
    sum->best = verdict_leader(sum, VERDICT_TROUBLE);
}

static size_t verdict_equals(const struct risk_sum *sum)
{
    size_t count = 0;
    for (size_t k = 0; k < sum->row_count; k++) {
        count += sum->equal[k] ? 1 : 0;
    }
    return count;
}

/* "A"; or "B", "A" or "C", which these 64 worlds do not tell apart: the best first. */
static void verdict_say_names(struct text_line *line, const struct risk_sum *sum)
{
    const size_t count = verdict_equals(sum);
    size_t told = 1;
    text_line_add(line, "\"%s\"", sum->rows[sum->best].strategy->name);
    for (size_t k = 0; k < sum->row_count && told < VERDICT_NAMES; k++) {
        if (sum->equal[k] && k != sum->best) {
            told++;
            text_line_add(line, "%s\"%s\"", told == count ? " or " : ", ",
                          sum->rows[k].strategy->name);
        }
    }
    if (count > told) {
        text_line_add(line, " or %zu more", count - told);
    }
    if (count > 1) {
        const size_t lives = sum->risk->plan->lives;
        text_line_add(line, ", which %s %zu %s not tell apart",
                      text_plural((double)lives, "this", "these"), lives,
                      text_plural((double)lives, "world does", "worlds do"));
    }
}

/* What the best costs, besides trouble. */
static void verdict_say_price(struct text_line *line, const struct risk_sum *sum)
{
    const struct risk_row *row = &sum->rows[sum->best];
    const struct scenario *scenario = sum->risk->scenario;
    const double drained_l = row->amount[OUTCOME_DRAINED].p50;
    if (scenario->crop.kind != CROP_NONE) {
        text_line_add(line, ", growth %.0f %% of the unstressed plant",
                      100 * row->amount[OUTCOME_GROWTH_INDEX].p50);
    }
    text_line_add(line, ", %s dumped",
                  drained_l > 0 ? display_volume_text(&scenario->display, drained_l).text
                                : "nothing");
}

/* The chance of trouble is told by its interval to be at most what is asked. */
static void verdict_say_safe(struct text_line *line, const struct risk_sum *sum)
{
    const struct risk_row *row = &sum->rows[sum->best];
    const struct risk_chance *trouble = &row->chance[OUTCOME_ACTION];
    const bool grows = row->amount[OUTCOME_GROWTH_INDEX].p50 >= risk_verdict_growth;
    const bool single = sum->row_count == 1;
    if (!grows) {
        text_line_add(line, "%s",
                      single ? "Little grows under "
                             : "Nothing grows well under any of these; the best is ");
    } else if (!single) {
        text_line_add(line, "Use ");
    }
    verdict_say_names(line, sum);
    text_line_add(line, "%s%s in trouble in %.0f %% of lives (%.0f to %.0f)",
                  single && grows ? " stays out of trouble in nine worlds of ten" : "",
                  verdict_equals(sum) > 1 ? ". With the first:" : ":",
                  100 * trouble->share, 100 * trouble->low, 100 * trouble->high);
    verdict_say_price(line, sum);
    text_line_add(line, ".");
}

/* That no strategy is safe, of those set aside too: what is safe but stunts its plants,
 * or may be safe, is not denied. */
static void verdict_say_none(struct text_line *line, const struct risk_sum *sum)
{
    bool safe = false;
    bool open = false;
    for (size_t k = 0; k < sum->row_count; k++) {
        const struct risk_chance *trouble = &sum->rows[k].chance[OUTCOME_ACTION];
        safe |= trouble->high <= risk_verdict_trouble;
        open |= trouble->low <= risk_verdict_trouble;
    }
    text_line_add(
        line, "%s strategy here %s out of trouble in nine worlds of ten; the best, ",
        safe ? "Where plants grow well, no" : "No", open ? "is sure to stay" : "stays");
}

/* How the sentence begins where not even the best is safe, or nobody can tell. */
static void verdict_say_doubt(struct text_line *line, const struct risk_sum *sum)
{
    const size_t lives = sum->risk->plan->lives;
    const bool single = sum->row_count == 1;
    const bool several = verdict_equals(sum) > 1;
    if (sum->rows[sum->best].chance[OUTCOME_ACTION].low <= risk_verdict_trouble) {
        text_line_add(line, "%zu %s too few to tell whether %s", lives,
                      text_plural((double)lives, "life is", "lives are"),
                      single ? "" : "the best here, ");
        verdict_say_names(line, sum);
        text_line_add(line, "%s stays out of trouble in nine worlds of ten: %s does",
                      single ? "" : ",", several ? "the first" : "it");
    } else if (single) {
        verdict_say_names(line, sum);
        text_line_add(line,
                      " does not stay out of trouble in nine worlds of ten: it does");
    } else {
        verdict_say_none(line, sum);
        verdict_say_names(line, sum);
        text_line_add(line, "%s does", several ? ": the first" : ",");
    }
}

static void verdict_say_unsafe(struct text_line *line, const struct risk_sum *sum)
{
    const struct risk_row *row = &sum->rows[sum->best];
    const struct risk_chance *trouble = &row->chance[OUTCOME_ACTION];
    verdict_say_doubt(line, sum);
    text_line_add(line, " in %.0f %% (%.0f to %.0f)", 100 * (1 - trouble->share),
                  100 * (1 - trouble->high), 100 * (1 - trouble->low));
    verdict_say_price(line, sum);
    if (trouble->share > 0 && row->amount[OUTCOME_VISITS].p50 > 0) {
        text_line_add(line, "; its last visit leaves something amiss in %.0f %%",
                      100 * row->left[OUTCOME_ACTION]);
    }
    text_line_add(line, ".");
}

void risk_verdict(struct risk_sum *sum)
{
    struct text_line line = text_line_in(sum->verdict, sizeof sum->verdict);
    verdict_choose(sum);
    if (sum->rows[sum->best].chance[OUTCOME_ACTION].high <= risk_verdict_trouble) {
        verdict_say_safe(&line, sum);
    } else {
        verdict_say_unsafe(&line, sum);
    }
}
