/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is to be done at each visit of a life, as CSV: a row a visit. */
#ifndef PAILCAST_REPORT_VISITS_H
#define PAILCAST_REPORT_VISITS_H

#include <stdio.h>

#include "pailcast/report/slug.h"

enum {
    VISITS_NAME_SIZE = SLUG_SIZE + 16
};

/* "<slug>-visits.csv" of row's strategy. */
void visits_csv_name(char to[VISITS_NAME_SIZE], const struct compare *compare,
                     size_t row);

/* Writes to an open stream; write errors are seen by file_close. Amounts are those of the
 * visit, not running totals; levels are heights of the water over the bottom; weekday and
 * date are blank where the scenario has no start. */
void visits_csv_write(FILE *out, const struct compare *compare, size_t row);

#endif
