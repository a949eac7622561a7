/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer's numbers as a person reads them, in display units: the columns of the
 * comparison, shared by the terminal and the page. */
#ifndef SIM_REPORT_FIGURE_H
#define SIM_REPORT_FIGURE_H

#include <stddef.h>

#include "pailcast/study/compare.h"

enum {
    FIGURE_CELL_SIZE = 128,
    FIGURE_LINE_SIZE = 2048
};

/* One column of the comparison. A new one is one line in figure_columns. */
struct figure_column {
    const char *top, *under; /* terminal heading, two lines, at most `width` */
    const char *title;       /* the page's heading */
    /* Unit in display units, third heading line; NULL: the same always, in fixed_unit. */
    const char *(*unit)(const struct scenario_display *display);
    const char *fixed_unit;
    int width; /* of the terminal column */
    void (*cell)(char to[FIGURE_CELL_SIZE], const struct compare *compare, size_t row);
};

extern const struct figure_column figure_columns[];
extern const size_t figure_column_count;

const char *figure_unit(const struct figure_column *column,
                        const struct scenario_display *display);

/* An EC (mS/cm) with its digits, without unit: "1.93", "966". */
void figure_ec(char to[FIGURE_CELL_SIZE], const struct scenario_display *display,
               double ec_ms_cm);

/* A volume (L) with its digits, without unit: "123.4". */
void figure_volume(char to[FIGURE_CELL_SIZE], const struct scenario_display *display,
                   double volume_l);

/* The last sample of a row; all zero when there is none. Borrowed. */
const struct sample *figure_last(const struct compare *compare, size_t row);

/* The limits of EC, pH and ions as one sentence: "Limits: EC at least 0.80 mS/cm; sodium
 * at most 6 mmol/L."; "" when there are none. */
void figure_limits(char to[FIGURE_LINE_SIZE], const struct scenario *scenario);

/* How the table tells days: "Days are counted from the first fill, on Sun 2026-03-15; -
 * never; blank: no limit set." */
void figure_days(char to[FIGURE_LINE_SIZE], const struct scenario *scenario);

#endif
