/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which inputs can be ranked by what they matter, and how many rows are missing where
 * they cannot. An index is sure when it is worth telling and at least twice its standard
 * error; those that may be ranked are the largest ones down to the first that is not. */
#ifndef PAILCAST_STUDY_RISK_MATTERS_H
#define PAILCAST_STUDY_RISK_MATTERS_H

#include "pailcast/study/risk_sum.h"

/* Position in risk->inputs of the input with the rank-th largest total index for a target
 * (0: the largest); -1 where it cannot be ranked. */
int risk_matters_ranked(const struct risk_sum *sum, size_t row, size_t target,
                        size_t rank);

/* Whether anything can be ranked for any strategy. */
bool risk_matters_tells(const struct risk_sum *sum);

/* Rows with which the largest index of a target would be sure, its error falling with
 * their root; 0 where it is, or where there is none worth telling. */
size_t risk_matters_rows_short(const struct risk_sum *sum, size_t row, size_t target);

/* Rows with which something could be ranked for some strategy; 0 where it can, where it
 * was not asked, or where more rows promise nothing. */
size_t risk_matters_rows_needed(const struct risk_sum *sum);

#endif
