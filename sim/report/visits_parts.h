/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is to be done at the visits of a life, for people. */
#ifndef SIM_REPORT_VISITS_PARTS_H
#define SIM_REPORT_VISITS_PARTS_H

#include "figure.h"

/* How often something is done at visits, and the least and the most of it, litres or
 * grams, of the visits that do it at all. */
struct visits_range {
    size_t count;
    double least, most;
};

struct visits_sum {
    struct visits_range poured, water, stock, drained, dosed_g; /* poured: both */
};

struct visits_sum visits_sum_of(const struct compare_row *row);

/* Grams of the strategy's acid or base, pure, that a visit adds. */
double visits_dose_g(const struct visit_record *visit, const struct strategy *strategy);

/* "A visit pours 0.3 to 1.6 gal, of which stock 0.1 to 0.8 gal; each is listed in
 * hold-800-ppm-visits.csv." */
void visits_sentence(char to[FIGURE_LINE_SIZE], const struct compare *compare,
                     size_t row);

/* The list as a table of the page, folded where it is long; nothing without a visit. */
void visits_page(FILE *out, const struct compare *compare, size_t row);

#endif
