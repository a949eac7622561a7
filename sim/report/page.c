/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "figure.h"
#include "pailcast/base/file.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "picture.h"
#include "plan.h"
#include "svg.h"

#ifndef PAILCAST_VERSION
#define PAILCAST_VERSION "unversioned"
#endif

/* Nothing is fetched: styles and scripts are in the page. */
static const char page_policy[] =
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; "
    "base-uri 'none'; form-action 'none'";

static const char *const page_cautions[] = {
    "Mains power and water: keep plugs, timers and the air pump above the water line, "
    "with "
    "drip loops and a residual-current device (ground-fault breaker).",
    "Lamps run hot: keep them away from leaves, cloth and splashing water.",
    "Acids and bases burn: wear goggles and gloves, pour acid into water and never water "
    "into acid, and never mix acid with base or with bleach.",
    "Old solution holds nitrate and phosphate: keep it out of wells, streams and "
    "drinking "
    "water, out of the reach of children and animals, and dispose of it as local rules "
    "say.",
    "What stands here is a calculation. It does not replace local codes, product labels "
    "or "
    "the work of licensed people.",
};

/* Where the page goes and where its pictures are. */
struct page {
    FILE *out;
    struct picture_album album;
};

static void page_element(FILE *out, const char *tag, const char *attributes,
                         const char *text)
{
    fprintf(out, "<%s%s>", tag, attributes);
    text_html(out, text);
    fprintf(out, "</%s>\n", tag);
}

static void page_head(FILE *out, const struct scenario *scenario, const char *style)
{
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
          out);
    fprintf(out, "<meta http-equiv=\"Content-Security-Policy\" content=\"%s\">\n",
            page_policy);
    fputs("<meta name=\"referrer\" content=\"no-referrer\">\n", out);
    page_element(out, "title", "", scenario->title);
    fprintf(out, "<style>\n%s</style>\n</head>\n<body>\n", style);
}

static void page_facts(FILE *out, const struct compare *compare)
{
    const struct scenario *scenario = compare->scenario;
    char full[FIGURE_CELL_SIZE];
    figure_volume(full, &scenario->display, scenario->bucket.full_l);
    fprintf(out, "<p class=\"facts\">A bucket of %s %s, %g days", full,
            scenario->display.volume == DISPLAY_GALLON ? "gal" : "L",
            scenario->duration_d);
    if (scenario->start[0] != '\0') {
        fputs(" from ", out);
        text_html(out, scenario->start);
    }
    if (scenario->crop.kind != CROP_NONE && scenario->crop.name[0] != '\0') {
        fputs("; crop: ", out);
        text_html(out, scenario->crop.name);
    }
    if (scenario->water_name[0] != '\0') {
        fputs("; water: ", out);
        text_html(out, scenario->water_name);
    }
    if (scenario->stock_name[0] != '\0') {
        fputs("; stock: ", out);
        text_html(out, scenario->stock_name);
    }
    fprintf(out, ".</p>\n");
}

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
            page_element(out, "td", "", cell);
        }
        fputs("</tr>\n", out);
    }
    char limits[FIGURE_LINE_SIZE];
    figure_limits(limits, compare->scenario);
    fputs(
        "</tbody></table></div>\n<p class=\"note\">Days are counted from the first fill; "
        "- never; blank: no limit set. ",
        out);
    text_html(out, limits);
    fputs("</p>\n", out);
}

static void page_advice(FILE *out, const struct compare *compare)
{
    page_element(out, "h2", "", "When to act, and how");
    for (size_t row = 0; row < compare->row_count; row++) {
        const struct compare_row *told = &compare->rows[row];
        page_element(out, "h3", "", told->strategy->name);
        fputs("<ul>\n", out);
        for (size_t i = 0; i < told->advice_count; i++) {
            page_element(out, "li", "", told->advice[i]);
        }
        if (told->advice_count == 0) {
            page_element(out, "li", "", "Nothing beyond the strategy's own visits.");
        }
        fputs("</ul>\n", out);
    }
}

static void page_warnings(FILE *out, const struct scenario *scenario)
{
    if (scenario->warning_count == 0) {
        return;
    }
    page_element(out, "h2", "", "About the scenario");
    fputs("<div class=\"warning\"><ul>\n", out);
    for (size_t i = 0; i < scenario->warning_count; i++) {
        page_element(out, "li", "", scenario->warnings[i]);
    }
    fputs("</ul></div>\n", out);
}

static void page_figure(const struct page *page, const struct plot_kind *kind, size_t row)
{
    FILE *out = page->out;
    char *text = NULL;
    size_t length = 0;
    fputs("<figure>\n", out);
    if (picture_read(&text, &length, &page->album, kind, row)) {
        fputs("<div>", out);
        svg_inline(out, text, length);
        fputs("</div>\n", out);
    } else {
        page_element(out, "div", " class=\"missing\"", "This plot could not be drawn.");
    }
    free(text);
    fputs("<figcaption><b>", out);
    text_html(out, kind->heading);
    fputs(".</b> ", out);
    text_html(out, kind->caption);
    fputs("</figcaption>\n</figure>\n", out);
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
        page_element(out, "p", "", text);
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
    page_element(out, "h2", "", told->strategy->name);
    page_plan(out, told->strategy, compare->scenario);
    if (!told->complete) {
        (void)snprintf(line, sizeof line, "This life was computed up to day %.1f only.",
                       told->life.end_d);
        page_element(out, "p", " class=\"warning\"", line);
    }
    figure_timeline(line, compare, row);
    page_element(out, "p", "", line);
    if (figure_outage(line, compare, row)) {
        page_element(out, "p", "", line);
    }
    page_figures(page, false, row);
    page_books(out, told);
    fputs("</section>\n", out);
}

static void page_cautions_list(FILE *out)
{
    page_element(out, "h2", "", "Cautions");
    fputs("<ul>\n", out);
    for (size_t i = 0; i < sizeof page_cautions / sizeof page_cautions[0]; i++) {
        page_element(out, "li", "", page_cautions[i]);
    }
    fputs("</ul>\n", out);
}

static void page_body(const struct page *page, const char *script)
{
    FILE *out = page->out;
    const struct compare *compare = page->album.compare;
    page_element(out, "h1", "", compare->scenario->title);
    page_facts(out, compare);
    page_element(out, "p", " class=\"verdict\"", compare->verdict);
    page_table(out, compare);
    page_advice(out, compare);
    page_warnings(out, compare->scenario);
    page_element(out, "h2", "", "Side by side");
    page_element(
        out, "p", " class=\"note hint\"",
        "Move over a plot to read values; click a name in its key to switch that "
        "curve off or on.");
    page_figures(page, true, 0);
    for (size_t row = 0; row < compare->row_count; row++) {
        page_strategy(page, row);
    }
    page_cautions_list(out);
    fprintf(
        out,
        "<footer class=\"note\">Computed by pailcast %s. Full numbers: summary.json and "
        "the CSV files beside this page.</footer>\n<script>\n%s</script>\n"
        "</body>\n</html>\n",
        PAILCAST_VERSION, script);
}

enum status page_write(const char *folder, const struct compare *compare,
                       struct error *error)
{
    char *style = NULL;
    char *script = NULL;
    size_t length = 0;
    struct file file = {0};
    enum status status = file_open(&file, folder, "report.html", error);
    if (status != STATUS_OK) {
        return status;
    }
    const bool dressed = picture_part(&style, &length, "page.css") &&
                         picture_part(&script, &length, "readout.js");
    const struct page page = {file.stream, picture_album(folder, compare)};
    page_head(page.out, compare->scenario, style != NULL ? style : "");
    page_body(&page, script != NULL ? script : "");
    free(style);
    free(script);
    status = file_close(&file, error);
    if (status == STATUS_OK && !dressed) {
        status = status_error(error, STATUS_FILE,
                              "plots/page.css or plots/readout.js could not be read: "
                              "report.html is without style or script");
    }
    return status;
}
