/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The visits of a life searched for the one at which something had to be done. */
#ifndef PAILCAST_STUDY_ADVICE_VISIT_H
#define PAILCAST_STUDY_ADVICE_VISIT_H

#include <stdbool.h>

#include "pailcast/chem/saturation.h"
#include "pailcast/study/compare.h"

/* Growth shares closer than this are as good as each other. */
extern const double advice_same_growth;

/* An action: on day_d, drain so many litres of what is there, then refill with water. */
struct advice_drain {
    double day_d;
    double drain_l;
    double full_ec_ms_cm; /* had it been filled with water alone */
    bool possible;        /* draining helps at all */
};

/* Visits whose fill could not reach its aim, on one side of it. */
struct advice_missed {
    size_t count;
    double day_d; /* the first of them, and what that one came to */
    double first_drain_l, best_ec_ms_cm, aim_ec_ms_cm;
    bool met_later; /* an aim was met after that day */
};

/* First visit at which the bucket, filled with plain water, would still read above the
 * upper EC limit, and the litres to drain so that it reads four fifths of it. False if
 * there is none. */
bool advice_visit_too_strong(struct advice_drain *drain, const struct compare_row *row,
                             const struct scenario *scenario);

/* Finds the first visit that leaves the bucket stronger than that. */
bool advice_visit_left_strong(double *day_d, const struct compare_row *row,
                              double limit_ms_cm);

/* First visit at which an ion would still be above its limit in a full bucket, and the
 * litres to drain to halve it. False if there is none. */
bool advice_visit_ion(struct advice_drain *drain, const struct compare_row *row,
                      const struct scenario *scenario, enum ion ion);

/* The visits that end weaker than they aim even with stock alone, or stronger even with
 * water alone. False if there are none. */
bool advice_visit_weak(struct advice_missed *missed, const struct compare_row *row);
bool advice_visit_strong(struct advice_missed *missed, const struct compare_row *row);

/* First visit that found a solid supersaturated (calcite by 0.5, slow to start; chosen),
 * and which: the one furthest over. False if none. */
bool advice_visit_solid(double *day_d, enum solid *solid, const struct compare_row *row,
                        const struct scenario *scenario);

/* Whether the visit before day_d aimed at an EC that the water's own salt fills in good
 * part, so that little stock is poured whatever the recipe holds. */
bool advice_visit_salty_water(const struct compare_row *row,
                              const struct scenario *scenario, double day_d);

/* EC of the last sample at or before day_d. */
double advice_visit_ec_on(const struct compare_row *row, double day_d);

#endif
