/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/plant/room.h"

#include <math.h>

#include "pailcast/base/moment.h"

static const double room_hours_per_day = 24.0;

static bool room_never_switches(const struct room *room)
{
    return !room->given || room->lamp_hours <= 0 ||
           room->lamp_hours >= room_hours_per_day;
}

/* Days since the lamp last came on, in [0, 1). */
static double room_phase_d(const struct room *room, double day_d)
{
    double phase = fmod(day_d - room->lamp_on_h / room_hours_per_day, 1.0);
    if (phase < 0) {
        phase += 1.0;
    }
    return phase > 1.0 - moment_slack_d ? 0 : phase;
}

bool room_lamp_on(const struct room *room, double day_d)
{
    if (room_never_switches(room)) {
        return room->given && room->lamp_hours > 0;
    }
    return room_phase_d(room, day_d) <
           room->lamp_hours / room_hours_per_day - moment_slack_d;
}

double room_next_switch(const struct room *room, double day_d)
{
    if (room_never_switches(room)) {
        return INFINITY;
    }
    double on = room->lamp_on_h / room_hours_per_day;
    double off = on + room->lamp_hours / room_hours_per_day;
    double next_on = on + floor(day_d - on + moment_slack_d) + 1.0;
    double next_off = off + floor(day_d - off + moment_slack_d) + 1.0;
    return fmin(next_on, next_off);
}
