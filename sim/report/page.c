/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/page.h"

#include <math.h>
#include <stdlib.h>

#include "beyond_words.h"
#include "figure.h"
#include "history.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "picture.h"
#include "plan.h"
#include "sheet.h"
#include "visits_parts.h"

/* Where the page goes and where its pictures are. */
struct page {
    FILE *out;
    struct picture_album album;
};

static void page_table_head(FILE *out, const struct compare *compare)
{
    fputs("<thead><tr><th>Strategy</th>", out);
    for (size_t i = 0; i < figure_column_count; i++) {
        const char *unit = figure_unit(&figure_columns[i], &compare->scenario->display);
        fputs("<th scope=\"col\">", out);
        text_html(out, figure_columns[i].title);
        if (unit[0] != '\0') {
            fputs(", ", out);
            text_html(out, unit);
        }
        fputs("</th>", out);
    }
    fputs("</tr></thead>\n", out);
}

static void page_table(FILE *out, const struct compare *compare)
{
    fputs("<div class=\"wide\"><table>\n", out);
    page_table_head(out, compare);
    fputs("<tbody>\n", out);
    for (size_t row = 0; row < compare->row_count; row++) {
        const bool best = row == compare->best && compare->row_count > 1;
        fprintf(out, "<tr%s><td><a href=\"#strategy-%zu\">",
                best ? " class=\"best\"" : "", row + 1);
        text_html(out, compare->rows[row].strategy->name);
        fputs(best ? "</a> (recommended)</td>" : "</a></td>", out);
        for (size_t i = 0; i < figure_column_count; i++) {
            char cell[FIGURE_CELL_SIZE];
            figure_columns[i].cell(cell, compare, row);
            sheet_element(out, "td", "", cell);
        }
        fputs("</tr>\n", out);
    }
    char limits[FIGURE_LINE_SIZE];
    char days[FIGURE_LINE_SIZE];
    figure_limits(limits, compare->scenario);
    figure_days(days, compare->scenario);
    fputs("</tbody></table></div>\n<p class=\"note\">", out);
    text_html(out, days);
    fputc(' ', out);
    text_html(out, limits);
    fputs("</p>\n", out);
}

static void page_advice(FILE *out, const struct compare *compare)
{
    sheet_element(out, "h2", "", "When to act, and how");
    for (size_t row = 0; row < compare->row_count; row++) {
        const struct compare_row *told = &compare->rows[row];
        sheet_element(out, "h3", "", told->strategy->name);
        fputs("<ul>\n", out);
        for (size_t i = 0; i < told->advice_count; i++) {
            sheet_element(out, "li", "", told->advice[i]);
        }
        if (told->advice_count == 0) {
            sheet_element(out, "li", "", "Nothing beyond the strategy's own visits.");
        }
        fputs("</ul>\n", out);
    }
}

static void page_figure(const struct page *page, const struct plot_kind *kind, size_t row)
{
    char *text = NULL;
    size_t length = 0;
    (void)picture_read(&text, &length, &page->album, kind, row);
    sheet_figure(page->out, text, length, kind->heading, kind->caption);
    free(text);
}

static void page_figures(const struct page *page, bool overall, size_t row)
{
    for (size_t i = 0; i < plot_kind_count; i++) {
        if (plot_kinds[i].overall == overall &&
            plot_applies(&plot_kinds[i], page->album.compare)) {
            page_figure(page, &plot_kinds[i], row);
        }
    }
}

static void page_plan(FILE *out, const struct strategy *strategy,
                      const struct scenario *scenario)
{
    char *text = NULL;
    size_t size = 0;
    FILE *words = open_memstream(&text, &size);
    if (words == NULL) {
        return;
    }
    plan_tell(words, strategy, scenario);
    if (fclose(words) == 0) {
        sheet_element(out, "p", "", text);
    }
    free(text);
}

/* How well the books close, and what the computation took. */
static void page_books(FILE *out, const struct compare_row *row)
{
    const struct ledger_balance *balance = &row->life.balance;
    fprintf(
        out,
        "<p class=\"note\">Books: of everything that went in, %.1e of the water, %.1e "
        "of the worst ion and %.1e of the charge is unaccounted for at the end (%ld "
        "evaluations of the rates).</p>\n",
        fabs(balance->water_rel), fabs(balance->worst_ion_rel), fabs(balance->charge_rel),
        row->life.effort.rate_calls);
}

static void page_strategy(const struct page *page, size_t row)
{
    FILE *out = page->out;
    const struct compare *compare = page->album.compare;
    const struct compare_row *told = &compare->rows[row];
    char line[FIGURE_LINE_SIZE];
    fprintf(out, "<section id=\"strategy-%zu\">\n", row + 1);
    sheet_element(out, "h2", "", told->strategy->name);
    page_plan(out, told->strategy, compare->scenario);
    if (!told->complete) {
        (void)snprintf(line, sizeof line, "This life was computed up to day %s only.",
                       display_day_text(compare->scenario, told->life.end_d, 1).text);
        sheet_element(out, "p", " class=\"warning\"", line);
    }
    history_timeline(line, compare, row);
    sheet_element(out, "p", "", line);
    if (history_absence(line, compare, row)) {
        sheet_element(out, "p", "", line);
    }
    if (history_outage(line, compare, row)) {
        sheet_element(out, "p", "", line);
    }
    const struct beyond beyond = beyond_of(&told->life, compare->scenario);
    if (beyond_words_life(line, &beyond, compare->scenario)) {
        sheet_element(out, "p", "", line);
    }
    visits_sentence(line, compare, row);
    sheet_element(out, "p", "", line);
    visits_page(out, compare, row);
    page_figures(page, false, row);
    page_books(out, told);
    fputs("</section>\n", out);
}

static void page_body(const struct page *page)
{
    FILE *out = page->out;
    const struct compare *compare = page->album.compare;
    sheet_element(out, "p", " class=\"verdict\"", compare->verdict);
    page_table(out, compare);
    page_advice(out, compare);
    sheet_warnings(out, compare->scenario);
    sheet_element(out, "h2", "", "Side by side");
    sheet_hint(out);
    page_figures(page, true, 0);
    for (size_t row = 0; row < compare->row_count; row++) {
        page_strategy(page, row);
    }
}

enum status page_write(const char *folder, const struct compare *compare,
                       struct error *error)
{
    struct sheet sheet;
    enum status status = sheet_open(&sheet, folder, "report.html",
                                    compare->scenario->title, compare->scenario, error);
    if (status != STATUS_OK) {
        return status;
    }
    const struct page page = {sheet.out, picture_album(folder, compare)};
    page_body(&page);
    return sheet_close(&sheet, "summary.json and the CSV files", error);
}
