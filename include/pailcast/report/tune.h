/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A search of settings, told: table with a recommendation, JSON, and the front drawn. */
#ifndef PAILCAST_REPORT_TUNE_H
#define PAILCAST_REPORT_TUNE_H

#include <stdio.h>

#include "pailcast/study/tune.h"

enum {
    TUNE_SENTENCE_SIZE = 1024
};

/* What to do, in plain words, or that no setting keeps the limits and by how much. */
void tune_sentence(char to[TUNE_SENTENCE_SIZE], const struct tune *tune);

void tune_table_write(FILE *out, const struct tune *tune);

/* Equal searches give equal bytes. */
enum status tune_json_write(FILE *out, const struct tune *tune,
                            struct error *error) STATUS_MUST_CHECK;

/* Writes tune.json and tune-front.svg. STATUS_PLOT leaves the numbers written. */
enum status tune_folder_write(const char *folder, const struct tune *tune,
                              struct error *error) STATUS_MUST_CHECK;

#endif
