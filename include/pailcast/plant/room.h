/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The room: lamp, air and the bucket's water temperature. */
#ifndef PAILCAST_PLANT_ROOM_H
#define PAILCAST_PLANT_ROOM_H

#include <stdbool.h>

/* Air while the lamp is on, or off. */
struct room_air {
    double temperature_c; /* 0-50 */
    double humidity;      /* relative, 0-1 */
};

struct room {
    bool given; /* false: no room in the scenario, the lamp is never switched */
    double ppfd_umol_m2_s; /* at the canopy, lamp on, 0-2500 */
    double umol_per_j;     /* photons per joule of absorbed lamp heat; 5.0 white LED */
    double lamp_hours;     /* 0-24 */
    double lamp_on_h;      /* clock hour the lamp comes on, 0-24 */
    struct room_air day;   /* lamp on */
    struct room_air night; /* lamp off */
    double water_temperature_c; /* 0-40 */
    double co2_ppm;             /* of the air */
    double root_co2_ppm;        /* in the aerated root zone */
    double
        boundary_s_m; /* leaf boundary-layer resistance: 100 still air, 65 with a fan */
};

/* Whether the lamp is on at day_d (days since midnight of the first day). At the very
 * moment of a switch the new state holds. */
bool room_lamp_on(const struct room *room, double day_d);

/* Day of the first lamp switch later than day_d; INFINITY when the lamp never changes. */
double room_next_switch(const struct room *room, double day_d);

#endif
