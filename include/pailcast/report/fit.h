/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a logbook has taught: as text, as JSON, and as a file for scenarios to include. */
#ifndef PAILCAST_REPORT_FIT_H
#define PAILCAST_REPORT_FIT_H

#include <stdio.h>

#include "pailcast/study/fit.h"

void fit_text_write(FILE *out, const struct fit *fit);

enum status fit_json_write(FILE *out, const struct fit *fit,
                           struct error *error) STATUS_MUST_CHECK;

/* The group `learned`, to be included by a scenario. */
void fit_settings_write(FILE *out, const struct fit *fit);

#endif
