/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What gnuplot drew, kept as a finished SVG file. */
#ifndef SIM_REPORT_KEEP_H
#define SIM_REPORT_KEEP_H

#include "pailcast/report/plot.h"

/* Of a picture to be kept. Borrowed. */
struct keep_label {
    const char *stem;  /* of the file name: letters, digits and hyphens */
    const char *title; /* plain text */
    const char *stamp; /* a line by which the file is known again, "" for none */
};

/* Draws sketch into folder/<stem>.svg, whole or not at all. STATUS_PLOT as plot_draw, and
 * when the drawing is not whole; STATUS_FILE. */
enum status keep_sketch(const char *folder, const struct keep_label *label,
                        const struct plot_sketch *sketch,
                        struct error *error) STATUS_MUST_CHECK;

/* "panel " opens a line by which a script says where its axes lie; see plots/style.gp. */
extern const char keep_panel_word[];

/* Takes folder/NAME.svg away if it is there. */
void keep_none(const char *folder, const char *name);

#endif
