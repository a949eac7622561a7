/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Internal numbers in the units a person asked to see. */
#ifndef PAILCAST_SCENARIO_DISPLAY_H
#define PAILCAST_SCENARIO_DISPLAY_H

#include "pailcast/scenario/scenario.h"

double display_volume(const struct scenario_display *display, double litres);
const char *display_volume_unit(const struct scenario_display *display);
double display_ec(const struct scenario_display *display, double ms_cm);
const char *display_ec_unit(const struct scenario_display *display);
/* Digits after the point that an EC deserves. */
int display_ec_digits(const struct scenario_display *display);
double display_temperature(const struct scenario_display *display, double celsius);
const char *display_temperature_unit(const struct scenario_display *display);

/* A number with the digits it deserves and its unit: "1.93 mS/cm", "966 ppm500", "7.4 L".
 */
struct display_text {
    char text[32];
};

struct display_text display_ec_text(const struct scenario_display *display, double ms_cm);
struct display_text display_volume_text(const struct scenario_display *display,
                                        double litres);

/* The calendar day on which a moment of the life falls; both "" where the scenario has no
 * start. */
struct display_date {
    char weekday[4]; /* "Tue" */
    char iso[16];    /* "2026-11-03" */
};
struct display_date display_date_of(const struct scenario *scenario, double day_d);

/* The same behind a day that was told: " (Tue 2026-11-03)", or "". */
struct display_text display_date_text(const struct scenario *scenario, double day_d);

/* A day of the life, with its date where the scenario has one: "63.75 (Tue 2026-11-03)".
 * With a date it stays within that day however few its digits: 63 of 63.75. */
struct display_text display_day_text(const struct scenario *scenario, double day_d,
                                     int digits);

#endif
