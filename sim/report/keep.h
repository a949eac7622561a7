/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sketch drawn and kept as an SVG file. */
#ifndef SIM_REPORT_KEEP_H
#define SIM_REPORT_KEEP_H

#include "pailcast/report/plot.h"

/* Draws sketch into folder/<its name>.svg, whole or not at all. STATUS_PLOT as plot_draw,
 * STATUS_FILE. */
enum status keep_sketch(const char *folder, const struct plot_sketch *sketch,
                        const char *title, struct error *error) STATUS_MUST_CHECK;

#endif
