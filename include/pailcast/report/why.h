/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Why EC changed, told: table and sentences, JSON, and a waterfall of the whole stretch.
 */
#ifndef PAILCAST_REPORT_WHY_H
#define PAILCAST_REPORT_WHY_H

#include <stdio.h>

#include "pailcast/study/why.h"

enum {
    WHY_SENTENCE_SIZE = 1024,
    WHY_FILE_NAME_SIZE = TEXT_NAME_SIZE + 16
};

/* The stretch in sentences that can be repeated: "From day 0 to day 9 the plant drank
 * 9.0 L and ate only 41 % of the salt in them, so EC rose by 0.80 mS/cm. ...", the days
 * with their dates where the scenario has a start. */
void why_sentence(char to[WHY_SENTENCE_SIZE], const struct why_interval *interval,
                  const struct scenario *scenario);

/* What to make of the whole stretch: whether salt stays behind, which limit it will reach
 * and when, whether the solution must be renewed, and what has run out behind the EC. */
void why_verdict(char to[WHY_SENTENCE_SIZE], const struct why *why);

/* A row a stretch, a row an ion of the whole stretch, its sentences, the verdict. */
void why_table_write(FILE *out, const struct why *why);

enum status why_json_write(FILE *out, const struct why *why,
                           struct error *error) STATUS_MUST_CHECK;

/* "<strategy>-why.svg". */
void why_plot_file_name(char to[WHY_FILE_NAME_SIZE], const struct why *why);

/* Draws the waterfall of the whole stretch into folder, making it where there is none.
 * STATUS_PLOT as plot_draw. */
enum status why_plot_draw(const char *folder, const struct why *why,
                          struct error *error) STATUS_MUST_CHECK;

#endif
