/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sentences on a terminal: words in lines of WRAP_COLUMNS. Text is UTF-8. */
#ifndef SIM_REPORT_WRAP_H
#define SIM_REPORT_WRAP_H

#include <stdio.h>

enum {
    WRAP_COLUMNS = 96
};

/* Writes words from column `at` on, later lines indented, and ends the line. */
void wrap_words(FILE *out, const char *text, int at, int indent);

/* A sentence of its own, all lines indented. */
void wrap_line(FILE *out, const char *text, int indent);

#endif
