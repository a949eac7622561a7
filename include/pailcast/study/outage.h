/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The air pump has stopped: how long the roots have. */
#ifndef PAILCAST_STUDY_OUTAGE_H
#define PAILCAST_STUDY_OUTAGE_H

#include "pailcast/run/life.h"

/* Dissolved oxygen below which roots suffer, mg/L (common practice, no source). */
extern const double outage_floor_mg_l;

struct outage {
    double saturation_mg_l; /* what an aerated bucket holds */
    double reserve_h;       /* until the floor; INFINITY without roots */
    double empty_h;         /* until nothing is left */
};

/* volume_l >= 0, temperature_c 0-40, root_mass_g of dry root >= 0. */
struct outage outage_of(double volume_l, double temperature_c, double root_mass_g);

/* The sample of a life, of a plant not yet lost, at which the roots would have had least
 * time. */
struct outage_worst {
    double day_d; /* NAN where the plant has no roots, as a table plant */
    double volume_l, root_mass_g;
    struct outage outage;
};

struct outage_worst outage_worst_of(const struct life *life,
                                    const struct scenario *scenario);

/* The last sample up to a day, told the same way. */
struct outage_worst outage_on_day(const struct life *life,
                                  const struct scenario *scenario, double day_d);

/* A plant of a kind and the dry roots it has when large, for those who cannot know. */
struct outage_plant {
    const char *name;
    double root_mass_g;
};

enum {
    OUTAGE_PLANTS = 3
};

/* Rounded from the largest roots of the shipped scenarios' lives. */
extern const struct outage_plant outage_plants[OUTAGE_PLANTS];

#endif
