/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a logbook has taught: as text, as JSON, as a page with plots, and as a file for
 * scenarios to include. */
#ifndef PAILCAST_REPORT_FIT_H
#define PAILCAST_REPORT_FIT_H

#include <stdio.h>

#include "pailcast/study/fit.h"

void fit_text_write(FILE *out, const struct fit *fit);

enum status fit_json_write(FILE *out, const struct fit *fit,
                           struct error *error) STATUS_MUST_CHECK;

/* The group `learned`, to be included by a scenario. */
void fit_settings_write(FILE *out, const struct fit *fit);

/* folder/report.html, with the plots that lie in folder if they were drawn. */
enum status fit_page_write(const char *folder, const struct fit *fit, bool drawn,
                           struct error *error) STATUS_MUST_CHECK;

/* The whole folder, made where there is none: fitted.cfg, fit.json, plots, page. As
 * folder_write: numbers first, STATUS_PLOT with all but the plots there. */
enum status fit_folder_write(const char *folder, const struct fit *fit,
                             struct error *error) STATUS_MUST_CHECK;

#endif
