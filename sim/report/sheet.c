/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet.h"

#include <stdbool.h>
#include <stdlib.h>

#include "figure.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "picture.h"
#include "svg.h"

#ifndef PAILCAST_VERSION
#define PAILCAST_VERSION "unversioned"
#endif

/* Nothing is fetched: styles and scripts are in the page. */
static const char sheet_policy[] =
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; "
    "base-uri 'none'; form-action 'none'";

static const char *const sheet_cautions[] = {
    "Mains power and water: keep plugs, timers and the air pump above the water line, "
    "with drip loops and a residual-current device (ground-fault breaker).",
    "Lamps run hot: keep them away from leaves, cloth and splashing water.",
    "Acids and bases burn: wear goggles and gloves, pour acid into water and never water "
    "into acid, and never mix acid with base or with bleach.",
    "Old solution holds nitrate and phosphate: keep it out of wells, streams and "
    "drinking water, out of the reach of children and animals, and dispose of it as "
    "local rules say.",
    "What stands here is a calculation. It does not replace local codes, product labels "
    "or the work of licensed people.",
};

void sheet_element(FILE *out, const char *tag, const char *attributes, const char *text)
{
    fprintf(out, "<%s%s>", tag, attributes);
    text_html(out, text);
    fprintf(out, "</%s>\n", tag);
}

static void sheet_head(FILE *out, const char *title, const char *style)
{
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
          out);
    fprintf(out, "<meta http-equiv=\"Content-Security-Policy\" content=\"%s\">\n",
            sheet_policy);
    fputs("<meta name=\"referrer\" content=\"no-referrer\">\n", out);
    sheet_element(out, "title", "", title);
    fprintf(out, "<style>\n%s</style>\n</head>\n<body>\n", style);
}

/* Nothing where there is nothing to say. */
static void sheet_fact(FILE *out, const char *lead, const char *fact)
{
    if (fact[0] != '\0') {
        fputs(lead, out);
        text_html(out, fact);
    }
}

static void sheet_facts(FILE *out, const struct scenario *scenario)
{
    char full[FIGURE_CELL_SIZE];
    figure_volume(full, &scenario->display, scenario->bucket.full_l);
    fprintf(out, "<p class=\"facts\">A bucket of %s %s, %g %s", full,
            display_volume_unit(&scenario->display), scenario->duration_d,
            text_plural(scenario->duration_d, "day", "days"));
    sheet_fact(out, " from ", scenario->start);
    sheet_fact(out,
               "; crop: ", scenario->crop.kind != CROP_NONE ? scenario->crop.name : "");
    sheet_fact(out, "; water: ", scenario->water_name);
    sheet_fact(out, "; stock: ", scenario->stock_name);
    fputs(".</p>\n", out);
}

enum status sheet_open(struct sheet *sheet, const char *folder, const char *name,
                       const char *title, const struct scenario *scenario,
                       struct error *error)
{
    size_t length = 0;
    *sheet = (struct sheet){0};
    enum status status = file_open(&sheet->file, folder, name, error);
    if (status == STATUS_OK) {
        sheet->out = sheet->file.stream;
        (void)picture_part(&sheet->style, &length, "page.css");
        (void)picture_part(&sheet->script, &length, "readout.js");
        sheet_head(sheet->out, title, sheet->style != NULL ? sheet->style : "");
        sheet_element(sheet->out, "h1", "", title);
        sheet_facts(sheet->out, scenario);
    }
    return status;
}

void sheet_warnings(FILE *out, const struct scenario *scenario)
{
    if (scenario->warning_count == 0) {
        return;
    }
    sheet_element(out, "h2", "", "About the scenario");
    fputs("<div class=\"warning\"><ul>\n", out);
    for (size_t i = 0; i < scenario->warning_count; i++) {
        sheet_element(out, "li", "", scenario->warnings[i]);
    }
    fputs("</ul></div>\n", out);
}

void sheet_hint(FILE *out)
{
    sheet_element(out, "p", " class=\"note hint\"",
                  "Move over a plot to read values; click a name in its key to switch "
                  "that curve off or on.");
}

void sheet_figure(FILE *out, const char *svg, size_t length, const char *heading,
                  const char *caption)
{
    fputs("<figure>\n", out);
    if (svg != NULL) {
        fputs("<div>", out);
        svg_inline(out, svg, length);
        fputs("</div>\n", out);
    } else {
        sheet_element(out, "div", " class=\"missing\"", "This plot could not be drawn.");
    }
    fputs("<figcaption><b>", out);
    text_html(out, heading);
    fputs(".</b> ", out);
    text_html(out, caption);
    fputs("</figcaption>\n</figure>\n", out);
}

static void sheet_cautions_list(FILE *out)
{
    sheet_element(out, "h2", "", "Cautions");
    fputs("<ul>\n", out);
    for (size_t i = 0; i < sizeof sheet_cautions / sizeof sheet_cautions[0]; i++) {
        sheet_element(out, "li", "", sheet_cautions[i]);
    }
    fputs("</ul>\n", out);
}

enum status sheet_close(struct sheet *sheet, const char *numbers, struct error *error)
{
    const bool dressed = sheet->style != NULL && sheet->script != NULL;
    sheet_cautions_list(sheet->out);
    fprintf(
        sheet->out,
        "<footer class=\"note\">Computed by pailcast %s. Full numbers: %s beside this "
        "page.</footer>\n<script>\n%s</script>\n</body>\n</html>\n",
        PAILCAST_VERSION, numbers, sheet->script != NULL ? sheet->script : "");
    free(sheet->style);
    free(sheet->script);
    enum status status = file_close(&sheet->file, error);
    if (status == STATUS_OK && !dressed) {
        status = status_error(error, STATUS_FILE,
                              "plots/page.css or plots/readout.js could not be read: "
                              "the page is without style or script");
    }
    return status;
}
