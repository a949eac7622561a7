/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a fit has to say, in sentences: on the terminal and on the page alike. Unescaped,
 * in display units. */
#ifndef SIM_REPORT_FIT_SENTENCE_H
#define SIM_REPORT_FIT_SENTENCE_H

#include "pailcast/study/fit.h"

enum {
    FIT_SENTENCE_SIZE = 256
};

/* "Next action on day 63.75 (Tue 2026-11-03): pour 3.2 L of water and 1.0 L of stock.",
 * or before which day none is planned; "" without one. */
void fit_sentence_next(char to[FIT_SENTENCE_SIZE], const struct fit *fit);

/* "drain 5 L of solution, pour 3.2 L of water and 1.0 L of stock, then add 2.1 g of pure
 * nitric acid". */
void fit_sentence_visit(char to[FIT_SENTENCE_SIZE], const struct visit_record *visit,
                        const struct scenario_display *display);

/* What goes wrong under a choice, and in how many buckets: "potassium runs out in 31 %";
 * "nothing". */
void fit_sentence_risk(char to[FIT_SENTENCE_SIZE], const struct fit_choice *choice);

/* Where the forecast's middle leaves the limits of EC; "" where it does not. */
void fit_sentence_limits(char to[FIT_SENTENCE_SIZE], const struct fit *fit);

/* How long nobody need come, or that the plant is lost; "" without a forecast or a plant.
 */
void fit_sentence_safe(char to[FIT_SENTENCE_SIZE], const struct fit *fit);

/* An unknown against what the scenario says: "12 % more than the scenario says". */
void fit_sentence_unknown(char to[FIT_SENTENCE_SIZE], const struct fit *fit,
                          enum fit_unknown unknown);

#endif
