/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/text.h"
#include "pailcast/report/visits.h"
#include "pailcast/scenario/display.h"
#include "sheet.h"
#include "visits_parts.h"

enum {
    /* So many rows stand open, and no more than so many are shown (chosen): a screenful,
     * and what a browser on a phone scrolls through with ease. */
    VISITS_OPEN_MOST = 12,
    VISITS_SHOWN_MOST = 1000
};

/* The table in hand: who does what, and whether a column has anything to tell. */
struct visits_table {
    FILE *out;
    const struct scenario *scenario;
    const struct strategy *strategy;
    struct visits_sum sum;
};

static void visits_head_cell(FILE *out, const char *words, const char *unit)
{
    fputs("<th scope=\"col\">", out);
    text_html(out, words);
    if (unit[0] != '\0') {
        fputs(", ", out);
        text_html(out, unit);
    }
    fputs("</th>", out);
}

/* Of what is never done there is no column. */
static void visits_head(const struct visits_table *table)
{
    FILE *out = table->out;
    const char *litres = display_volume_unit(&table->scenario->display);
    const char *ec = display_ec_unit(&table->scenario->display);
    fputs("<thead><tr>", out);
    if (table->scenario->start[0] != '\0') {
        visits_head_cell(out, "Date", "");
    }
    visits_head_cell(out, "Day", "");
    visits_head_cell(out, "EC found", ec);
    visits_head_cell(out, "pH found", "");
    if (table->sum.drained.count > 0) {
        visits_head_cell(out, "Drain first", litres);
    }
    if (table->sum.water.count > 0) {
        visits_head_cell(out, "Pour water", litres);
    }
    if (table->sum.stock.count > 0) {
        visits_head_cell(out, "Pour stock", litres);
    }
    if (table->sum.dosed_g.count > 0) {
        char words[FIGURE_CELL_SIZE];
        (void)snprintf(words, sizeof words, "Add %s", table->strategy->adjust.with->name);
        visits_head_cell(out, words, "g");
    }
    visits_head_cell(out, "Level after", display_length_unit(&table->scenario->display));
    visits_head_cell(out, "EC after", ec);
    visits_head_cell(out, "pH after", "");
    fputs("</tr></thead>\n", out);
}

static void visits_cell(FILE *out, double value, int digits)
{
    fprintf(out, "<td>%.*f</td>", digits, value);
}

/* Blank at a visit that does nothing of it. */
static void visits_amount(FILE *out, const struct visits_range *range, double amount,
                          double factor)
{
    if (range->count > 0 && amount > 0) {
        visits_cell(out, factor * amount, 2);
    } else if (range->count > 0) {
        fputs("<td></td>", out);
    }
}

static void visits_row(const struct visits_table *table, const struct visit_record *visit)
{
    FILE *out = table->out;
    const struct scenario_display *display = &table->scenario->display;
    const int digits = display_ec_digits(display);
    const double volume = display_volume(display, 1);
    const struct date date = display_date_of(table->scenario, visit->day_d);
    fputs("<tr>", out);
    if (table->scenario->start[0] != '\0') {
        fprintf(out, "<td>%s %s</td>", date.weekday, date.iso);
    }
    visits_cell(out, visit->day_d, 2);
    visits_cell(out, display_ec(display, visit->ec_before_ms_cm), digits);
    visits_cell(out, visit->ph_before, 1);
    visits_amount(out, &table->sum.drained, visit->drained_l, volume);
    visits_amount(out, &table->sum.water, visit->water_l, volume);
    visits_amount(out, &table->sum.stock, visit->stock_l, volume);
    visits_amount(out, &table->sum.dosed_g, visits_dose_g(visit, table->strategy), 1);
    visits_cell(out,
                display_length(display, shape_level_cm(&table->scenario->bucket,
                                                       visit->volume_after_l)),
                1);
    visits_cell(out, display_ec(display, visit->ec_after_ms_cm), digits);
    visits_cell(out, visit->ph_after, 1);
    fputs("</tr>\n", out);
}

/* How the acid or base of the last columns is meant and handled. */
static void visits_dosing(FILE *out, const struct salt *with)
{
    const bool acid = with->alkalinity < 0;
    fprintf(out,
            " Pour first, stir, then add the %s. It is counted as pure: of a solution of "
            "40 %% by mass it takes 2.5 times as much. Goggles and gloves; %s. pH after "
            "is told of a bucket that has settled with the air%s.",
            acid ? "acid" : "base",
            acid ? "acid into water, never water into acid"
                 : "dissolve it slowly in cold water first",
            acid ? ": right after the acid it reads lower, in hard water by a unit or "
                   "more, until carbon dioxide has left"
                 : "");
}

static void visits_notes(const struct visits_table *table, size_t shown, size_t visits,
                         const char *name)
{
    FILE *out = table->out;
    fputs(
        "<p class=\"note\">EC and pH are what the pens would show on arrival, and after "
        "all that is done; blank: none.",
        out);
    if (table->sum.dosed_g.count > 0) {
        visits_dosing(out, table->strategy->adjust.with);
    }
    if (shown < visits) {
        fprintf(out, " These are the first %zu of %zu visits.", shown, visits);
    }
    fprintf(out, " Full numbers: %s.</p>\n", name);
}

void visits_page(FILE *out, const struct compare *compare, size_t row)
{
    const struct compare_row *told = &compare->rows[row];
    const struct trajectory *path = &told->life.trajectory;
    const size_t visits = path->visit_count;
    const size_t shown = visits < VISITS_SHOWN_MOST ? visits : VISITS_SHOWN_MOST;
    const struct visits_table table = {.out = out,
                                       .scenario = compare->scenario,
                                       .strategy = told->strategy,
                                       .sum = visits_sum_of(told)};
    char name[VISITS_NAME_SIZE];
    if (visits == 0) {
        return;
    }
    visits_csv_name(name, compare, row);
    fprintf(out, "<details%s><summary>What to do at each visit (%zu)</summary>\n",
            visits <= VISITS_OPEN_MOST ? " open" : "", visits);
    fputs("<div class=\"wide\"><table class=\"visits\">\n", out);
    visits_head(&table);
    fputs("<tbody>\n", out);
    for (size_t i = 0; i < shown; i++) {
        visits_row(&table, &path->visits[i]);
    }
    fputs("</tbody></table></div>\n", out);
    visits_notes(&table, shown, visits, name);
    fputs("</details>\n", out);
}
