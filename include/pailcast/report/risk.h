/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A study of many lives, told: table, JSON, CSV of the bands, and plots. */
#ifndef PAILCAST_REPORT_RISK_H
#define PAILCAST_REPORT_RISK_H

#include <stdio.h>

#include "pailcast/study/risk_sum.h"

/* Chances, bands, differences and what matters, in words and numbers for people. */
void risk_table_write(FILE *out, const struct risk_sum *sum);

/* The same and the bands day by day. Nothing in it tells the time, the machine or the
 * number of threads: equal studies give equal bytes. */
enum status risk_json_write(FILE *out, const struct risk_sum *sum,
                            struct error *error) STATUS_MUST_CHECK;

/* Bands of all strategies, a row a strategy and grid day, to an open stream. */
void risk_csv_write(FILE *out, const struct risk_sum *sum);

/* Writes risk.json, risk-bands.csv and the plots risk-fans.svg, risk-quiet.svg and (where
 * it can be told) risk-matters.svg. Numbers come first: STATUS_PLOT leaves them written.
 */
enum status risk_folder_write(const char *folder, const struct risk_sum *sum,
                              struct error *error) STATUS_MUST_CHECK;

enum status risk_plot_draw(const char *folder, const struct risk_sum *sum,
                           struct error *error) STATUS_MUST_CHECK;

#endif
