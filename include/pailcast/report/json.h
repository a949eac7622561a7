/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The comparison as JSON: summary.json and `run --json`. */
#ifndef PAILCAST_REPORT_JSON_H
#define PAILCAST_REPORT_JSON_H

#include <stdio.h>

#include "pailcast/study/compare.h"

enum status json_write_summary(FILE *out, const struct compare *compare,
                               struct error *error) STATUS_MUST_CHECK;

#endif
