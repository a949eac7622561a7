/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A room with a lamp, in odd numbers. */
#ifndef TESTS_SUPPORT_LIT_ROOM_H
#define TESTS_SUPPORT_LIT_ROOM_H

#include "pailcast/plant/room.h"

static const struct room lit_room = {.given = true,
                                     .ppfd_umol_m2_s = 410,
                                     .umol_per_j = 5,
                                     .lamp_hours = 15,
                                     .lamp_on_h = 6,
                                     .day = {25.3, 0.47},
                                     .night = {19.2, 0.56},
                                     .water_temperature_c = 22.4,
                                     .co2_ppm = 430,
                                     .root_co2_ppm = 1050,
                                     .boundary_s_m = 100};

#endif
