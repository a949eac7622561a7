/* SPDX-License-Identifier: GPL-3.0-or-later */
/* File-name stems of the strategies, unlike each other even where names are not. */
#ifndef PAILCAST_REPORT_SLUG_H
#define PAILCAST_REPORT_SLUG_H

#include "pailcast/study/compare.h"

enum {
    SLUG_SIZE = 72
};

/* Behind the stem of a strategy in the name of its list of visits. */
extern const char slug_visits[];

/* Writes the stem of row's files into to[SLUG_SIZE]: text_slug of the strategy's name;
 * when an earlier row has taken it, one of the two would be the other's list of visits,
 * or it is "compare" (the stem of the plots over all strategies), "-2", "-3" ... is
 * added. row < compare->row_count. */
void slug_of_row(char to[SLUG_SIZE], const struct compare *compare, size_t row);

#endif
