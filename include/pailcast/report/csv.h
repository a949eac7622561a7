/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One life as CSV, a row a sample; the header is part of the contract. */
#ifndef PAILCAST_REPORT_CSV_H
#define PAILCAST_REPORT_CSV_H

#include <stdio.h>

#include "pailcast/study/compare.h"

/* Writes to an open stream; write errors are seen by file_close. */
void csv_write(FILE *out, const struct compare *compare, size_t row);

#endif
