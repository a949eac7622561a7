/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "history.h"

#include <math.h>
#include <stdio.h>

#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "pailcast/study/outage.h"

/* Everything that can have a first day: EC, pH and bucket, and each ion twice. */
enum {
    HISTORY_MOMENTS_MAX = 7 + 2 * ION_COUNT
};

struct history_moment {
    double day_d;
    char words[FIGURE_CELL_SIZE];
};

struct history_days {
    size_t count;
    struct history_moment moments[HISTORY_MOMENTS_MAX];
};

/* Room for the next moment's words, kept in order of days; NULL if it never happened. */
static char *history_moment_at(struct history_days *history, double day_d)
{
    if (!isfinite(day_d)) {
        return NULL;
    }
    size_t place = history->count++;
    for (; place > 0 && history->moments[place - 1].day_d > day_d; place--) {
        history->moments[place] = history->moments[place - 1];
    }
    history->moments[place].day_d = day_d;
    return history->moments[place].words;
}

static void history_note(struct history_days *history, double day_d, const char *words)
{
    char *to = history_moment_at(history, day_d);
    if (to != NULL) {
        (void)snprintf(to, FIGURE_CELL_SIZE, "%s", words);
    }
}

static void history_note_ec(struct history_days *history, double day_d, const char *words,
                            double limit_ms_cm, const struct scenario_display *display)
{
    char *to = history_moment_at(history, day_d);
    if (to != NULL) {
        char limit[FIGURE_CELL_SIZE];
        figure_ec(limit, display, limit_ms_cm);
        (void)snprintf(to, FIGURE_CELL_SIZE, "EC %s %.40s %s", words, limit,
                       display_ec_unit(display));
    }
}

static void history_note_ions(struct history_days *history,
                              const struct life_first_days *first,
                              const struct scenario_limits *limits)
{
    for (size_t i = 0; i < ION_COUNT; i++) {
        char *to = history_moment_at(history, first->ion_high[i]);
        if (to != NULL) {
            (void)snprintf(to, FIGURE_CELL_SIZE, "%s rose above %g mmol/L",
                           ion_table[i].name, limits->high_mmol_l[i]);
        }
        to = history_moment_at(history, first->nutrient_low[i]);
        if (to != NULL) {
            (void)snprintf(to, FIGURE_CELL_SIZE, "%s ran out (below %g mmol/L)",
                           ion_table[i].name, limits->low_mmol_l[i]);
        }
    }
}

static void history_note_ph(struct history_days *history, double day_d, const char *words,
                            double limit)
{
    char *to = history_moment_at(history, day_d);
    if (to != NULL) {
        (void)snprintf(to, FIGURE_CELL_SIZE, "pH %s %g", words, limit);
    }
}

void history_timeline(char to[FIGURE_LINE_SIZE], const struct compare *compare,
                      size_t row)
{
    const struct life_first_days *first = &compare->rows[row].life.first;
    const struct scenario_limits *limits = &compare->scenario->limits;
    const struct scenario_display *display = &compare->scenario->display;
    struct history_days history = {0};
    history_note_ec(&history, first->ec_high, "rose above", limits->ec_high_ms_cm,
                    display);
    history_note_ec(&history, first->ec_low, "fell below", limits->ec_low_ms_cm, display);
    history_note_ions(&history, first, limits);
    history_note_ph(&history, first->ph_high, "rose above", limits->ph_high);
    history_note_ph(&history, first->ph_low, "fell below", limits->ph_low);
    history_note(&history, first->roots_dry, "the water fell below the roots");
    history_note(&history, first->bucket_empty, "the bucket was empty");
    history_note(&history, first->plant_lost, "the plant was lost");
    if (history.count == 0) {
        (void)snprintf(to, FIGURE_LINE_SIZE, "No limit was passed.");
        return;
    }
    struct text_line line = text_line_in(to, FIGURE_LINE_SIZE);
    for (size_t i = 0; i < history.count; i++) {
        const bool last = i + 1 == history.count;
        text_line_add(
            &line, "%s %s: %s%s", i == 0 ? "Day" : "day",
            display_day_text(compare->scenario, history.moments[i].day_d, 1).text,
            history.moments[i].words, last ? "." : "; ");
    }
}

bool history_outage(char to[FIGURE_LINE_SIZE], const struct compare *compare, size_t row)
{
    const struct scenario *scenario = compare->scenario;
    const struct outage_worst worst = outage_worst_of(&compare->rows[row].life, scenario);
    (void)snprintf(to, FIGURE_LINE_SIZE,
                   "Should the air pump stop when it matters most, on day %s with %s "
                   "in the bucket, the roots have about %.1f hours before oxygen falls "
                   "to %.0f mg/L.",
                   display_day_text(scenario, worst.day_d, 0).text,
                   display_volume_text(&scenario->display, worst.volume_l).text,
                   worst.outage.reserve_h, outage_floor_mg_l);
    return !isnan(worst.day_d);
}

/* What ends it, from until_d on. */
static void history_absence_ends(struct text_line *line, const struct absence *absence,
                                 double until_d)
{
    text_line_add(line, "%.1f days; then ", until_d - absence->visit_d);
    if (absence->dry_d <= absence->limit.day_d) {
        text_line_add(line, "the water will fall below the roots.");
    } else if (isfinite(absence->dry_d)) {
        text_line_add(line, "%s will %s. The roots keep their water for %.1f days.",
                      absence->limit.what, absence->limit.does,
                      absence->dry_d - absence->visit_d);
    } else {
        text_line_add(line, "%s will %s.", absence->limit.what, absence->limit.does);
    }
}

bool history_absence(char to[FIGURE_LINE_SIZE], const struct compare *compare, size_t row)
{
    const struct absence *absence = &compare->rows[row].absence;
    const double until_d = fmin(absence->dry_d, absence->limit.day_d);
    struct text_line line = text_line_in(to, FIGURE_LINE_SIZE);
    if (isnan(absence->visit_d)) {
        return false;
    }
    text_line_add(&line, "After its last visit, on day %s, it can be left alone for ",
                  display_day_text(compare->scenario, absence->visit_d, 0).text);
    if (isfinite(until_d)) {
        history_absence_ends(&line, absence, until_d);
    } else {
        text_line_add(&line, "%d days at least.", ABSENCE_D);
    }
    if (isfinite(absence->anyway.day_d)) {
        text_line_add(
            &line, " Not counted: what is amiss before the next visit anyway, %s first.",
            absence->anyway.what);
    }
    return true;
}
