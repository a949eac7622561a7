/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What gnuplot drew, kept as a finished SVG file. */
#ifndef SIM_REPORT_KEEP_H
#define SIM_REPORT_KEEP_H

#include <stdio.h>

#include "pailcast/report/plot.h"

/* Of a picture to be kept. Borrowed. */
struct keep_label {
    const char *stem;  /* of the file name: letters, digits and hyphens */
    const char *title; /* plain text */
    const char *stamp; /* a line by which the file is known again, "" for none */
};

/* Writes folder/<stem>.svg from the SVG in `drawn` and the "panel" lines among
 * `complaints`. STATUS_PLOT when the drawing is not whole. */
enum status keep_drawn(const char *folder, const struct keep_label *label, FILE *drawn,
                       FILE *complaints, struct error *error) STATUS_MUST_CHECK;

/* Draws sketch into folder/<stem>.svg, whole or not at all. STATUS_PLOT as plot_draw,
 * STATUS_FILE. */
enum status keep_sketch(const char *folder, const char *stem,
                        const struct plot_sketch *sketch, const char *title,
                        struct error *error) STATUS_MUST_CHECK;

/* "panel " opens a line by which a script says where its axes lie; see plots/style.gp. */
extern const char keep_panel_word[];

/* Takes folder/NAME.svg away if it is there. */
void keep_none(const char *folder, const char *name);

#endif
