/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines a grower does not want crossed, as functions that rise through zero. */
#ifndef PAILCAST_RUN_THRESHOLDS_H
#define PAILCAST_RUN_THRESHOLDS_H

#include "pailcast/chem/acidity.h"
#include "pailcast/run/life.h"

enum {
    THRESHOLDS_MAX = 8 + 2 * ION_COUNT
};

struct threshold {
    enum event event;
    enum ion ion; /* ION_COUNT unless the event is about one */
    double limit; /* of pH: as hydrogen-ion activity */
    bool armed;   /* not crossed yet */
};

/* EC and pH are followed with the quick estimates of the rates, tied to the full values
 * at every sample: their ratios hardly move between two samples. */
struct thresholds {
    size_t count;
    struct threshold list[THRESHOLDS_MAX];
    struct shape shape;
    struct acidity acidity;
    bool wants_ec, wants_ph; /* an armed one is about it */
    double ec_ratio;
    double hydrogen_ratio;
};

/* The thresholds of a scenario; those without a limit are left out, and those on
 * nutrients and roots where there is no plant. */
void thresholds_init(struct thresholds *thresholds, const struct scenario *scenario,
                     const struct acidity *acidity);

/* Ties the estimates to a full reading of this state. */
void thresholds_calibrate(struct thresholds *thresholds, const double state[STATE_COUNT],
                          const struct pen_reading *reading);

/* value[count]: positive once the line is crossed; -1 for those no longer armed. */
void thresholds_values(double value[], const double state[STATE_COUNT],
                       const struct thresholds *thresholds);

/* Whether a line that the estimates have just crossed is crossed by the full reading too;
 * ties the estimates to it if it takes one. */
bool thresholds_confirm(struct thresholds *thresholds, size_t index,
                        const double state[STATE_COUNT], const struct pen *pen);

/* Notes the day of a crossing among the first days and disarms the threshold. */
void thresholds_cross(struct thresholds *thresholds, size_t index, double day_d,
                      struct life_first_days *first);

/* Notes day_d for every line that a state with this full reading is beyond, crossed
 * before or not, NAN for the others. */
void thresholds_left(struct life_first_days *left, const struct thresholds *thresholds,
                     const double state[STATE_COUNT], const struct pen_reading *reading,
                     double day_d);

/* No day yet. */
void thresholds_clear(struct life_first_days *days);

#endif
