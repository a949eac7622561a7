/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer on the terminal: a row a strategy, and advice in sentences. */
#ifndef PAILCAST_REPORT_TABLE_H
#define PAILCAST_REPORT_TABLE_H

#include <stdio.h>

#include "pailcast/study/compare.h"

void table_write(FILE *out, const struct compare *compare);

#endif
