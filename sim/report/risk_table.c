/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/base/text.h"
#include "pailcast/report/risk.h"
#include "pailcast/scenario/display.h"
#include "pailcast/study/risk_matters.h"
#include "wrap.h"

enum {
    RISK_NAME_WIDTH = 30,
    RISK_CELL_WIDTH = 19,
    RISK_MATTERS_SHOWN = 3
};

/* "93 (81 to 98)". */
static void risk_table_spread(FILE *out, const struct risk_spread *spread, double factor,
                              int digits)
{
    char cell[64];
    (void)snprintf(cell, sizeof cell, "%.*f (%.*f to %.*f)", digits, factor * spread->p50,
                   digits, factor * spread->p10, digits, factor * spread->p90);
    fprintf(out, "%*s", RISK_CELL_WIDTH, cell);
}

static void risk_table_amounts(FILE *out, const struct risk_sum *sum)
{
    const struct scenario_display *display = &sum->risk->scenario->display;
    const double volume = display_volume(display, 1);
    char litres[2][32];
    (void)snprintf(litres[0], sizeof litres[0], "drunk, %s",
                   display_volume_unit(display));
    (void)snprintf(litres[1], sizeof litres[1], "dumped, %s",
                   display_volume_unit(display));
    text_column(out, "", RISK_NAME_WIDTH);
    fprintf(out, "%*s%*s%*s%*s\n", RISK_CELL_WIDTH, "growth, %", RISK_CELL_WIDTH,
            litres[0], RISK_CELL_WIDTH, litres[1], RISK_CELL_WIDTH, "salt poured, g");
    for (size_t k = 0; k < sum->row_count; k++) {
        const struct risk_row *row = &sum->rows[k];
        text_column(out, row->strategy->name, RISK_NAME_WIDTH);
        risk_table_spread(out, &row->amount[OUTCOME_GROWTH_INDEX], 100, 0);
        risk_table_spread(out, &row->amount[OUTCOME_DRUNK], volume, 0);
        risk_table_spread(out, &row->amount[OUTCOME_DRAINED], volume, 0);
        risk_table_spread(out, &row->amount[OUTCOME_SALT_POURED], 1, 0);
        fputc('\n', out);
    }
}

static bool risk_table_happens(const struct risk_sum *sum, int code)
{
    for (size_t k = 0; k < sum->row_count; k++) {
        if (sum->rows[k].chance[code].share > 0) {
            return true;
        }
    }
    return false;
}

/* "12 % (9 to 15), day 88 (Mon 2026-06-01), still 4 %"; of a lost plant the last is no
 * news. */
static void risk_table_chance(FILE *out, const struct risk_row *row, int code,
                              const struct scenario *scenario)
{
    const struct risk_chance *chance = &row->chance[code];
    fprintf(out, "    %-32s %3.0f %% (%.0f to %.0f)", outcome_table[code].words,
            100 * chance->share, 100 * chance->low, 100 * chance->high);
    if (!isnan(chance->median_d)) {
        fprintf(out, ", day %s", display_day_text(scenario, chance->median_d, 0).text);
        if (code != OUTCOME_LOST) {
            fprintf(out, ", still %.0f %%", 100 * row->left[code]);
        }
    }
    fputc('\n', out);
}

/* A line for each thing that happens to any strategy. */
static void risk_table_chances(FILE *out, const struct risk_sum *sum)
{
    fputs("\nChance (95 % interval), the median day of those it happens to, and in which "
          "share of all\nlives it is still so right after the last visit:\n",
          out);
    for (size_t k = 0; k < sum->row_count; k++) {
        const struct risk_row *row = &sum->rows[k];
        fprintf(out, "  %s\n", row->strategy->name);
        for (int i = 0; i < OUTCOME_DAYS; i++) {
            if (risk_table_happens(sum, i) &&
                (row->chance[i].share > 0 || i == OUTCOME_ACTION)) {
                risk_table_chance(out, row, i, sum->risk->scenario);
            }
        }
        if (row->next[0] != '\0') {
            fputs("  > ", out);
            wrap_words(out, row->next, 4, 4);
        }
    }
    if (!risk_table_happens(sum, OUTCOME_ACTION)) {
        fputs("    in no life was a limit passed\n", out);
    }
}

/* The strategy that meets it least often. */
static const struct risk_row *risk_table_least(const struct risk_sum *sum, int code)
{
    const struct risk_row *least = &sum->rows[0];
    for (size_t k = 1; k < sum->row_count; k++) {
        least = sum->rows[k].chance[code].share < least->chance[code].share
                    ? &sum->rows[k]
                    : least;
    }
    return least;
}

/* Whether it is met alike under several strategies, to the per cent shown. */
static bool risk_table_alike(const struct risk_sum *sum, int code)
{
    const double share = nearbyint(100 * sum->rows[0].chance[code].share);
    for (size_t k = 1; k < sum->row_count; k++) {
        if (nearbyint(100 * sum->rows[k].chance[code].share) != share) {
            return false;
        }
    }
    return sum->row_count > 1;
}

/* What every strategy meets in most lives: no choice among these avoids it. */
static void risk_table_unkept(FILE *out, const struct risk_sum *sum)
{
    const double most = 0.5;
    bool told = false;
    for (int i = 0; i < OUTCOME_ACTION; i++) {
        const struct risk_row *least = risk_table_least(sum, i);
        if (least->chance[i].share > most) {
            if (!told) {
                fputs(
                    "\nNo strategy here keeps clear of these in most lives; least often "
                    "met, and under which:\n",
                    out);
            }
            fprintf(out, "    %-32s %3.0f %%, %s\n", outcome_table[i].words,
                    100 * least->chance[i].share,
                    risk_table_alike(sum, i) ? "under every one" : least->strategy->name);
            told = true;
        }
    }
}

/* A line for a target; false where its inputs cannot be ranked. */
static bool risk_table_matter(FILE *out, const struct risk_sum *sum, size_t row,
                              size_t target)
{
    if (risk_matters_ranked(sum, row, target, 0) < 0) {
        return false;
    }
    fprintf(out, "    %-28s", outcome_table[risk_targets[target]].words);
    for (size_t rank = 0; rank < RISK_MATTERS_SHOWN; rank++) {
        const int i = risk_matters_ranked(sum, row, target, rank);
        if (i >= 0) {
            const struct sobol_index *index = &sum->rows[row].matters[target][i];
            fprintf(out, "%s%s %.0f ± %.0f %%", rank > 0 ? "; " : " ",
                    draw_words(sum->risk->inputs[i]), 100 * index->total,
                    100 * index->total_error);
        }
    }
    fputc('\n', out);
    return true;
}

/* What more rows would tell of a strategy. ranked: something of it was told. */
static void risk_table_unranked(FILE *out, const struct risk_sum *sum, size_t row,
                                bool ranked)
{
    size_t most = 0;
    for (size_t t = 0; t < RISK_TARGETS; t++) {
        const size_t rows = risk_matters_rows_short(sum, row, t);
        if (rows > 0) {
            fprintf(out, "%s%s",
                    most > 0 ? ", " : "    too few rows to rank what matters for: ",
                    outcome_table[risk_targets[t]].words);
            most = rows > most ? rows : most;
        }
    }
    if (most > 0) {
        fprintf(out, " (--matters %zu or more)\n", most);
    } else if (!ranked) {
        fputs("    nothing can be told: too few lives differ\n", out);
    }
}

static void risk_table_matters(FILE *out, const struct risk_sum *sum)
{
    fputs("\nWhat matters most: share of the spread that would be left if only this were "
          "unknown (total\nindex ± standard error); what is not sure is not ranked:\n",
          out);
    for (size_t k = 0; k < sum->row_count; k++) {
        fprintf(out, "  %s\n", sum->rows[k].strategy->name);
        bool ranked = false;
        for (size_t t = 0; t < RISK_TARGETS; t++) {
            ranked |= risk_table_matter(out, sum, k, t);
        }
        risk_table_unranked(out, sum, k, ranked);
    }
}

/* Why there is nothing on what matters, in a line. */
static void risk_table_no_matters(FILE *out, const struct risk_sum *sum)
{
    const struct risk_plan *plan = sum->risk->plan;
    const size_t rows = risk_matters_rows_needed(sum);
    if (rows == 0) {
        fputs(plan->base > 0
                  ? "\nWhat matters most cannot be told: too few lives differ.\n"
                  : "",
              out);
        return;
    }
    fprintf(
        out,
        "\nWhat matters most cannot be told from %zu %s and %zu %s of --matters: about ",
        plan->lives, text_plural((double)plan->lives, "life", "lives"), plan->base,
        text_plural((double)plan->base, "row", "rows"));
    if (rows <= RISK_ROWS_MOST) {
        fprintf(out, "%zu lives, or --matters %zu, are needed.\n",
                RISK_LIVES_PER_ROW * rows, rows);
    } else {
        fprintf(out, "--matters %zu is needed, with no fewer --lives.\n", rows);
    }
}

void risk_table_write(FILE *out, const struct risk_sum *sum)
{
    const struct risk *risk = sum->risk;
    const size_t lives = risk->plan->lives;
    const double days = risk->scenario->duration_d;
    fprintf(out, "%s: %zu %s of %g %s under each strategy, the same %s for all\n",
            risk->scenario->title, lives, text_plural((double)lives, "life", "lives"),
            days, text_plural(days, "day", "days"),
            text_plural((double)lives, "world", "worlds"));
    fputs("Median, and in brackets what 8 of 10 lives lie within:\n\n", out);
    risk_table_amounts(out, sum);
    risk_table_chances(out, sum);
    risk_table_unkept(out, sum);
    if (risk_matters_tells(sum)) {
        risk_table_matters(out, sum);
    } else {
        risk_table_no_matters(out, sum);
    }
    fputc('\n', out);
    wrap_line(out, sum->verdict, 0);
}
