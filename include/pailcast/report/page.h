/* SPDX-License-Identifier: GPL-3.0-or-later */
/* report.html: one self-contained page with the plots in it. */
#ifndef PAILCAST_REPORT_PAGE_H
#define PAILCAST_REPORT_PAGE_H

#include "pailcast/study/compare.h"

/* Writes folder/report.html, embedding the SVG files that plot_draw left in folder; a
 * missing plot is said to be missing. */
enum status page_write(const char *folder, const struct compare *compare,
                       struct error *error) STATUS_MUST_CHECK;

#endif
