/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/base/text.h"
#include "pailcast/report/visits.h"
#include "pailcast/scenario/display.h"
#include "visits_parts.h"

/* Digits of an amount: as display_volume_text has them. */
static int sentence_digits(double amount)
{
    return amount < 1 ? 2 : 1;
}

/* "0.31 to 1.6 gal", "1.6 gal" where they read alike, or "up to 1.6 gal" from nothing. */
static void sentence_range(struct text_line *line, double least, double most,
                           const char *unit)
{
    static const double small = 0.005;
    const int digits = sentence_digits(most);
    const double step = pow(10, -digits);
    if (most < small) {
        text_line_add(line, "less than 0.01 %s", unit);
    } else if (least < small) {
        text_line_add(line, "up to %.*f %s", digits, most, unit);
    } else if (round(least / step) == round(most / step)) {
        text_line_add(line, "%.*f %s", digits, most, unit);
    } else {
        text_line_add(line, "%.*f to %.*f %s", sentence_digits(least), least, digits,
                      most, unit);
    }
}

static void sentence_volume(struct text_line *line, const struct visits_range *range,
                            size_t visits, const struct scenario_display *display)
{
    sentence_range(line,
                   range->count < visits ? 0 : display_volume(display, range->least),
                   display_volume(display, range->most), display_volume_unit(display));
}

static void sentence_pours(struct text_line *line, const struct visits_sum *sum,
                           size_t visits, const struct scenario_display *display)
{
    text_line_add(line, visits > 1 ? "A visit pours " : "The one visit pours ");
    if (sum->poured.count == 0) {
        text_line_add(line, "nothing");
        return;
    }
    sentence_volume(line, &sum->poured, visits, display);
    if (sum->stock.count == 0) {
        text_line_add(line, " of water");
    } else if (sum->water.count == 0) {
        text_line_add(line, " of stock");
    } else {
        text_line_add(line, ", of which stock ");
        sentence_volume(line, &sum->stock, visits, display);
    }
}

/* "; 4 of 62 ", or "; it " of the only one. */
static void sentence_those(struct text_line *line, const struct visits_range *range,
                           size_t visits, const char *one, const char *several)
{
    if (visits == 1) {
        text_line_add(line, "; it %s ", one);
    } else {
        text_line_add(line, "; %zu of %zu %s ", range->count, visits,
                      range->count == 1 ? one : several);
    }
}

/* "The first filling takes 4.3 g of pure nitric acid. " where it takes any. */
static void sentence_first(struct text_line *line, const struct scenario *scenario,
                           const struct strategy *strategy)
{
    const double dose_mmol = scenario_start_dose_mmol(scenario, strategy);
    if (dose_mmol > 0) {
        const double dose_g = salt_g(strategy->adjust.with, dose_mmol);
        text_line_add(line, "The first filling takes ");
        sentence_range(line, dose_g, dose_g, "g");
        text_line_add(line, " of pure %s. ", strategy->adjust.with->name);
    }
}

void visits_sentence(char to[FIGURE_LINE_SIZE], const struct compare *compare, size_t row)
{
    const struct scenario_display *display = &compare->scenario->display;
    const struct compare_row *told = &compare->rows[row];
    const struct visits_sum sum = visits_sum_of(told);
    const size_t visits = told->life.trajectory.visit_count;
    struct text_line line = text_line_in(to, FIGURE_LINE_SIZE);
    char name[VISITS_NAME_SIZE];
    sentence_first(&line, compare->scenario, told->strategy);
    if (visits == 0) {
        text_line_add(&line, "No visit is made.");
        return;
    }
    sentence_pours(&line, &sum, visits, display);
    if (sum.drained.count > 0) {
        sentence_those(&line, &sum.drained, visits, "first drains", "first drain");
        sentence_volume(&line, &sum.drained, sum.drained.count, display);
    }
    if (sum.dosed_g.count > 0) {
        sentence_those(&line, &sum.dosed_g, visits, "adds", "add");
        sentence_range(&line, sum.dosed_g.least, sum.dosed_g.most, "g");
        text_line_add(&line, " of pure %s", told->strategy->adjust.with->name);
    }
    visits_csv_name(name, compare, row);
    text_line_add(&line, visits > 1 ? "; each is listed in %s." : "; it is listed in %s.",
                  name);
}
