/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "figure.h"
#include "pailcast/report/why.h"
#include "pailcast/scenario/display.h"

enum {
    TABLE_WRAP = 96,
    TABLE_CELL_SIZE = 48
};

/* mmol/L that show as nothing. */
static const double table_trace = 5e-4;

/* Of what is eaten faster than it is held more does not matter. */
static const double table_ratio_most = 9.99;

/* Digits of a change of EC: one more than a pen shows. */
static int table_digits(const struct scenario_display *display)
{
    return display->ec == DISPLAY_MS_CM ? 3 : 1;
}

/* "+0.123", or "." where nothing happened. */
static void table_change(FILE *out, const struct scenario_display *display, double change)
{
    char cell[TABLE_CELL_SIZE] = ".";
    if (change != 0) {
        (void)snprintf(cell, sizeof cell, "%+.*f", table_digits(display),
                       display_ec(display, change));
    }
    fprintf(out, " %11s", cell);
}

static void table_interval(FILE *out, const struct why_interval *interval,
                           const struct scenario_display *display)
{
    char from[FIGURE_CELL_SIZE];
    char to[FIGURE_CELL_SIZE];
    figure_ec(from, display, interval->ec_from_ms_cm);
    figure_ec(to, display, interval->ec_to_ms_cm);
    fprintf(out, "%7.2f %7.2f %5.9s %5.9s", interval->from_d, interval->to_d, from, to);
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        table_change(out, display, interval->tally.part[i]);
    }
    fputc('\n', out);
}

static void table_intervals(FILE *out, const struct why *why)
{
    const struct scenario_display *display = &why->scenario->display;
    const struct date first = display_date_of(why->scenario, 0);
    fprintf(out, "%15s %11s   change of EC by these, %s\n", "day", "EC",
            display_ec_unit(display));
    fprintf(out, "%7s %7s %5s %5s", "from", "to", "from", "to");
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        fprintf(out, " %11s", why_part_key[i]);
    }
    fputc('\n', out);
    for (size_t i = 1; i < why->interval_count; i++) {
        table_interval(out, &why->intervals[i], display);
    }
    if (why->interval_count > 1) {
        fputs("in all\n", out);
    }
    table_interval(out, &why->intervals[0], display);
    if (first.iso[0] != '\0') {
        fprintf(out, "Day 0 is %s %s.\n", first.weekday, first.iso);
    }
}

static void table_number(FILE *out, const char *format, double value, int width)
{
    char cell[TABLE_CELL_SIZE] = "-";
    if (isfinite(value) && fabs(value) >= table_trace) {
        (void)snprintf(cell, sizeof cell, format, value);
    }
    fprintf(out, " %*s", width, cell);
}

/* Nothing of an ion is there, and none is poured: it leads nowhere. */
static bool table_absent(const struct why_ion *ion)
{
    return !(ion->solution_mmol_l >= table_trace) &&
           !(ion->makeup_mmol_l >= table_trace) && !(ion->last_mmol_l >= table_trace);
}

/* "rises without limit", "falls toward 1.3", "runs out after another 12.5 L drunk". */
static void table_heading(FILE *out, const struct why_ion *ion,
                          const struct scenario_display *display)
{
    if (table_absent(ion)) {
        fprintf(out, "   %s\n",
                ion->heading == WHY_GONE ? why_heading_word[WHY_GONE] : "none there");
        return;
    }
    fprintf(out, "   %s", why_heading_word[ion->heading]);
    if (ion->heading == WHY_RUNS_OUT && isfinite(ion->gone_after_l)) {
        fprintf(out, " after another %s drunk",
                display_volume_text(display, ion->gone_after_l).text);
    } else if (ion->heading == WHY_RISES && !isfinite(ion->limit_mmol_l)) {
        fputs(" without limit", out);
    } else if (ion->heading == WHY_RISES || ion->heading == WHY_FALLS) {
        fprintf(out, " toward %.3g", ion->limit_mmol_l);
    }
    fputc('\n', out);
}

static void table_ions(FILE *out, const struct why *why)
{
    const struct why_interval *whole = &why->intervals[0];
    fprintf(out, "%-10s %9s %9s %7s %9s %7s\n", "", "eaten of", "held by", "share",
            "poured in", "now in");
    fprintf(out, "%-10s %9s %9s %7s %9s %7s   if it goes on like this\n", "mmol/L",
            "a litre", "a litre", "eaten %", "a litre", "bucket");
    for (int i = 0; i < ION_COUNT; i++) {
        const struct why_ion *ion = &whole->ion[i];
        fprintf(out, "%-10s", ion_table[i].name);
        table_number(out, "%.3f", ion->eaten_mmol_l, 9);
        table_number(out, "%.3f", ion->solution_mmol_l, 9);
        table_number(out, ion->ratio < table_ratio_most ? "%.0f" : ">999",
                     ion->solution_mmol_l >= table_trace ? 100 * ion->ratio : NAN, 7);
        table_number(out, "%.3f", ion->makeup_mmol_l, 9);
        table_number(out, "%.3f", ion->last_mmol_l, 7);
        table_heading(out, ion, &why->scenario->display);
    }
}

/* A sentence a line, broken between words where it is too long. */
static void table_sentences(FILE *out, const char *text)
{
    size_t start = 0;
    size_t space = 0;
    for (size_t i = 0;; i++) {
        const bool over = text[i] == '\0';
        const bool ends = over || (text[i] == ' ' && i > 0 && text[i - 1] == '.');
        if (i - start > TABLE_WRAP && space > start) {
            fprintf(out, "%.*s\n  ", (int)(space - start), text + start);
            start = space + 1;
        }
        if (ends) {
            fprintf(out, "%.*s\n", (int)(i - start), text + start);
            start = i + 1;
        }
        if (over) {
            return;
        }
        space = text[i] == ' ' ? i : space;
    }
}

void why_table_write(FILE *out, const struct why *why)
{
    char sentence[WHY_SENTENCE_SIZE];
    fprintf(out, "%s: %s\n\n", why->scenario->title, why->strategy->name);
    table_intervals(out, why);
    fputc('\n', out);
    table_ions(out, why);
    fputc('\n', out);
    why_sentence(sentence, &why->intervals[0], why->scenario);
    table_sentences(out, sentence);
    fputc('\n', out);
    why_verdict(sentence, why);
    table_sentences(out, sentence);
}
