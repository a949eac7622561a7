/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plots through a pipe to gnuplot; the only place that opens one. */
#ifndef PAILCAST_REPORT_PLOT_H
#define PAILCAST_REPORT_PLOT_H

#include "pailcast/study/compare.h"

/* Draws every plot of the comparison as SVG files into folder. STATUS_PLOT names the
 * package when gnuplot is missing, or says that it died; SVGs finished before stay. */
enum status plot_draw(const char *folder, const struct compare *compare,
                      struct error *error) STATUS_MUST_CHECK;

/* Draws EC over time of all strategies in the terminal, as text, to stdout. */
enum status plot_show(const struct compare *compare,
                      struct error *error) STATUS_MUST_CHECK;

#endif
