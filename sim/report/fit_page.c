/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of a logbook: what to do, what was odd, what was learned, what comes. */
#include <math.h>
#include <stdlib.h>

#include "fit_plot.h"
#include "fit_sentence.h"
#include "pailcast/base/text.h"
#include "pailcast/report/fit.h"
#include "pailcast/scenario/display.h"
#include "sheet.h"
#include "slurp.h"

/* Days of the forecast that have a line. */
static const size_t page_every_d = 2;

static void page_next(FILE *out, const struct fit *fit)
{
    void (*const sentences[])(char[FIT_SENTENCE_SIZE], const struct fit *) = {
        fit_sentence_next, fit_sentence_limits, fit_sentence_safe};
    char all[2 * FIT_SENTENCE_SIZE];
    const size_t entries = fit->logbook->count;
    fputs("<p class=\"verdict\">", out);
    for (size_t i = 0; i < sizeof sentences / sizeof *sentences; i++) {
        char sentence[FIT_SENTENCE_SIZE];
        sentences[i](sentence, fit);
        text_html(out, sentence);
        fputc(' ', out);
    }
    fputs("</p>\n", out);
    const struct logbook_row *rows = fit->logbook->rows;
    (void)snprintf(all, sizeof all,
                   "Learned from %zu %s in %zu %s, day %s to day %s. After the last "
                   "entry it goes on "
                   "by the strategy \"%s\".",
                   fit->readings,
                   text_plural((double)fit->readings, "reading", "readings"), entries,
                   text_plural((double)entries, "entry", "entries"),
                   display_day_text(fit->scenario, rows[0].day_d, 2).text,
                   display_day_text(fit->scenario, rows[entries - 1].day_d, 2).text,
                   fit->strategy->name);
    sheet_element(out, "p", "", all);
}

static void page_surprises(FILE *out, const struct fit *fit)
{
    sheet_element(out, "h2", "", "What was unexpected");
    if (fit->surprise_count == 0) {
        sheet_element(out, "p", "", "Nothing: each reading is within what chance gives.");
    }
    for (size_t i = 0; i < fit->surprise_count; i++) {
        const struct fit_surprise *surprise = &fit->surprises[i];
        char line[FIT_REMARK_SIZE + 64];
        (void)snprintf(line, sizeof line, "On day %s: %s",
                       display_day_text(fit->scenario, surprise->day_d, 2).text,
                       surprise->what);
        sheet_element(out, "h3", "", line);
        fputs("<ul>\n", out);
        for (size_t c = 0; c < surprise->cause_count; c++) {
            sheet_element(out, "li", "", surprise->causes[c]);
        }
        fputs("</ul>\n", out);
    }
}

static void page_number(FILE *out, double value, int digits)
{
    fprintf(out, "<td>%.*f</td>", digits, value);
}

static void page_unknown(FILE *out, const struct fit *fit, enum fit_unknown unknown)
{
    static const char *const told[FIT_UNKNOWNS] = {
        [FIT_DRINKING] = "Drinking, times what the crop drinks",
        [FIT_EATING] = "Eating, times what the crop eats",
        [FIT_GROWTH] = "Growth, times what the crop grows",
        [FIT_START_SHARE] = "Stock in the first filling, as a share",
        [FIT_EVAPORATION] = "Evaporation, times the scenario's",
        [FIT_PEN] = "The pen reads too high by"};
    const struct scenario_display *display = &fit->scenario->display;
    const struct fit_value *value = &fit->value[unknown];
    const bool pen = unknown == FIT_PEN;
    const int digits = pen && display->ec != DISPLAY_MS_CM ? 0 : 3;
    char line[FIT_SENTENCE_SIZE];
    (void)snprintf(line, sizeof line, "%s%s%s", told[unknown], pen ? ", " : "",
                   pen ? display_ec_unit(display) : "");
    fputs("<tr>", out);
    sheet_element(out, "td", "", line);
    page_number(out, pen ? display_ec(display, value->estimate) : value->estimate,
                digits);
    page_number(out, pen ? display_ec(display, value->low) : value->low, digits);
    page_number(out, pen ? display_ec(display, value->high) : value->high, digits);
    fit_sentence_unknown(line, fit, unknown);
    sheet_element(out, "td", " class=\"words\"", line);
    fputs("</tr>\n", out);
}

static void page_unknowns(FILE *out, const struct fit *fit)
{
    sheet_element(out, "h2", "", "What the logbook says of this bucket");
    fputs("<div class=\"wide\"><table>\n<thead><tr><th>Unknown</th><th "
          "scope=\"col\">Estimate</th><th scope=\"col\">95 %, from</th><th "
          "scope=\"col\">to</th><th scope=\"col\" class=\"words\">In "
          "words</th></tr></thead>\n<tbody>\n",
          out);
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        page_unknown(out, fit, (enum fit_unknown)k);
    }
    fputs("</tbody></table></div>\n<ul>\n", out);
    for (size_t i = 0; i < fit->remark_count; i++) {
        sheet_element(out, "li", "", fit->remarks[i]);
    }
    fputs("</ul>\n<p class=\"note\">The truth lies within the interval 19 times in 20. "
          "fitted.cfg holds the estimates for the scenario to include.</p>\n",
          out);
}

static void page_figures(FILE *out, const char *folder, const struct fit *fit, bool drawn)
{
    sheet_element(out, "h2", "", "Readings and forecast");
    sheet_hint(out);
    for (size_t i = 0; i < FIT_KINDS; i++) {
        const struct fit_plot *plot = &fit_plots[i];
        char path[FILE_PATH_SIZE];
        char *svg = NULL;
        size_t length = 0;
        if (!fit_plot_applies(plot, fit)) {
            continue;
        }
        const int wrote = snprintf(path, sizeof path, "%s/%s.svg", folder, plot->stem);
        if (drawn && wrote > 0 && (size_t)wrote < sizeof path) {
            (void)slurp_path(&svg, &length, path);
        }
        sheet_figure(out, svg, length, plot->heading, plot->caption);
        free(svg);
    }
}

static void page_band(FILE *out, struct fit_band band, int digits)
{
    fprintf(out, "<td>%.*f</td><td>%.*f to %.*f</td>", digits, band.median, digits,
            band.low, digits, band.high);
}

static void page_ec(FILE *out, const struct scenario_display *display,
                    const struct fit_band *ec)
{
    page_band(out,
              (struct fit_band){display_ec(display, ec->low),
                                display_ec(display, ec->median),
                                display_ec(display, ec->high)},
              display_ec_digits(display));
}

static void page_forecast(FILE *out, const struct fit *fit)
{
    const struct scenario_display *display = &fit->scenario->display;
    sheet_element(out, "h2", "", "The days ahead");
    fprintf(out,
            "<div class=\"wide\"><table>\n<thead><tr><th>Day</th><th scope=\"col\">EC, "
            "%s</th><th scope=\"col\">9 in 10</th><th scope=\"col\">Water, %s</th><th "
            "scope=\"col\">9 in 10</th><th scope=\"col\">pH</th><th scope=\"col\">9 in "
            "10</th></tr></thead>\n<tbody>\n",
            display_ec_unit(display), display_volume_unit(display));
    const size_t step = page_every_d * FIT_MOMENTS_A_DAY;
    for (size_t i = step - 1; i < fit->moment_count; i += step) {
        const struct fit_moment *day = &fit->moments[i];
        const struct fit_band water = {display_volume(display, day->volume_l.low),
                                       display_volume(display, day->volume_l.median),
                                       display_volume(display, day->volume_l.high)};
        fprintf(out, "<tr><td>%.2f</td>", day->day_d);
        page_ec(out, display, &day->ec_ms_cm);
        page_band(out, water, 1);
        page_band(out, day->ph, 1);
        fputs("</tr>\n", out);
    }
    fputs("</tbody></table></div>\n<p class=\"note\">What pen and ruler will show before "
          "that day's pours, if any.</p>\n",
          out);
}

/* Nutrients and sodium on the same days: the middle, and what 9 in 10 lie within. */
static void page_ions(FILE *out, const struct fit *fit)
{
    static const enum ion shown[] = {ION_NO3, ION_NH4, ION_P,   ION_K,
                                     ION_CA,  ION_MG,  ION_SO4, ION_NA};
    const size_t count = sizeof shown / sizeof *shown;
    fputs("<div class=\"wide\"><table>\n<thead><tr><th>In the bucket, mmol/L; day</th>",
          out);
    for (size_t k = 0; k < count; k++) {
        fprintf(out, "<th scope=\"col\">%s</th>", ion_table[shown[k]].name);
    }
    fputs("</tr></thead>\n<tbody>\n", out);
    const size_t step = page_every_d * FIT_MOMENTS_A_DAY;
    for (size_t i = step - 1; i < fit->moment_count; i += step) {
        fprintf(out, "<tr><td>%.2f</td>", fit->moments[i].day_d);
        for (size_t k = 0; k < count; k++) {
            const struct fit_band *band = &fit->moments[i].ion_mmol_l[shown[k]];
            fprintf(out, "<td>%.2f<br><small>%.2f to %.2f</small></td>", band->median,
                    band->low, band->high);
        }
        fputs("</tr>\n", out);
    }
    fputs(
        "</tbody></table></div>\n<p class=\"note\">The pen does not see these: they are "
        "what the fitted bucket holds.</p>\n",
        out);
}

/* One line a strategy: what to do first, and what becomes of the bucket. */
static void page_choice(FILE *out, const struct fit *fit, const struct fit_choice *choice)
{
    const struct scenario_display *display = &fit->scenario->display;
    char words[FIT_SENTENCE_SIZE];
    fputs("<tr>", out);
    sheet_element(out, "td", "", choice->strategy->name);
    if (isnan(choice->next_visit.day_d)) {
        sheet_element(out, "td", " class=\"words\"", "nobody comes");
    } else {
        char line[2 * FIT_SENTENCE_SIZE];
        fit_sentence_visit(words, &choice->next_visit, display);
        (void)snprintf(line, sizeof line, "day %s: %s",
                       display_day_text(fit->scenario, choice->next_visit.day_d, 2).text,
                       words);
        sheet_element(out, "td", " class=\"words\"", line);
    }
    page_ec(out, display, &choice->ec_ms_cm);
    page_number(out, display_volume(display, choice->least_l), 1);
    page_number(out, choice->sodium_mmol_l.median, 1);
    fit_sentence_risk(words, choice);
    sheet_element(out, "td", " class=\"words\"", words);
    fputs("</tr>\n", out);
}

static void page_choices(FILE *out, const struct fit *fit)
{
    const struct scenario_display *display = &fit->scenario->display;
    const double end_d = fit->moments[fit->moment_count - 1].day_d;
    sheet_element(out, "h2", "", "How to go on");
    fprintf(out,
            "<div class=\"wide\"><table>\n<thead><tr><th>Strategy</th><th scope=\"col\" "
            "class=\"words\">First visit</th><th scope=\"col\">EC at the end, %s</th><th "
            "scope=\"col\">9 in 10</th><th scope=\"col\">Least water, %s</th><th "
            "scope=\"col\">Sodium at the end, mmol/L</th><th scope=\"col\" "
            "class=\"words\">Goes wrong</th></tr></thead>\n<tbody>\n",
            display_ec_unit(display), display_volume_unit(display));
    for (size_t i = 0; i < fit->choice_count; i++) {
        page_choice(out, fit, &fit->choices[i]);
    }
    fprintf(
        out,
        "</tbody></table></div>\n<p class=\"note\">From the last entry to day %s, each "
        "in the same %d buckets such as this one may be. 19 of 20 of them never hold "
        "less than the least water. What goes wrong in fewer than one in twenty is not "
        "told.</p>\n",
        display_day_text(fit->scenario, end_d, 2).text, FIT_LIVES);
}

enum status fit_page_write(const char *folder, const struct fit *fit, bool drawn,
                           struct error *error)
{
    struct sheet sheet;
    enum status status = sheet_open(&sheet, folder, "fit.html", fit->scenario->title,
                                    fit->scenario, error);
    if (status != STATUS_OK) {
        return status;
    }
    page_next(sheet.out, fit);
    page_surprises(sheet.out, fit);
    page_unknowns(sheet.out, fit);
    page_figures(sheet.out, folder, fit, drawn);
    if (fit->moment_count > 0) {
        page_forecast(sheet.out, fit);
        page_ions(sheet.out, fit);
    }
    if (fit->choice_count > 0) {
        page_choices(sheet.out, fit);
    }
    sheet_warnings(sheet.out, fit->scenario);
    return sheet_close(&sheet, "fit.json and fitted.cfg", error);
}
