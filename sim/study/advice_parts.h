/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Advice in parts: what is said of pH, and how a line is said. */
#ifndef SIM_STUDY_ADVICE_PARTS_H
#define SIM_STUDY_ADVICE_PARTS_H

#include "pailcast/study/compare.h"

/* Adds a sentence before those about later days. */
void advice_say(struct compare_row *row, double day_d, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* One line at most, whichever limits of pH were passed. */
void advice_ph(struct compare_row *row, const struct scenario *scenario);

#endif
