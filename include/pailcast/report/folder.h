/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The output folder of a run: CSV, summary.json, plots, page. */
#ifndef PAILCAST_REPORT_FOLDER_H
#define PAILCAST_REPORT_FOLDER_H

#include "pailcast/study/compare.h"

/* Writes the whole folder, making it where there is none. Numbers come first: when the
 * plots cannot be drawn (STATUS_PLOT) the CSV files, summary.json and a page without them
 * are there all the same. STATUS_FILE when something could not be written; no file is
 * then half there. */
enum status folder_write(const char *folder, const struct compare *compare,
                         struct error *error) STATUS_MUST_CHECK;

#endif
