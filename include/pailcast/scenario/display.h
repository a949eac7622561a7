/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Internal numbers in the units a person asked to see. */
#ifndef PAILCAST_SCENARIO_DISPLAY_H
#define PAILCAST_SCENARIO_DISPLAY_H

#include "pailcast/scenario/date.h"
#include "pailcast/scenario/quantity.h"
#include "pailcast/scenario/scenario.h"

double display_volume(const struct scenario_display *display, double litres);
const char *display_volume_unit(const struct scenario_display *display);
double display_length(const struct scenario_display *display, double cm);
const char *display_length_unit(const struct scenario_display *display);
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

/* With four digits, for what is held against a limit: "7.135 L", "14.53 inch". */
struct display_text display_volume_fine(const struct scenario_display *display,
                                        double litres);
struct display_text display_length_fine(const struct scenario_display *display,
                                        double cm);

/* The range that is accepted of a quantity, as quantity_range tells it, with the units of
 * the display before it where they are others: "0.02642 gal to 264.2 gal (0.1 L to 1000
 * L)". */
void display_range(char to[QUANTITY_RANGE_SIZE], double low, double high,
                   enum quantity quantity, const struct scenario_display *display);

/* The calendar day on which a moment of the life falls; both "" where the scenario has no
 * start. */
struct date display_date_of(const struct scenario *scenario, double day_d);

/* The same behind a day that was told: " (Tue 2026-11-03)", or "". */
struct display_text display_date_text(const struct scenario *scenario, double day_d);

/* A day of the life, with its date where the scenario has one: "63.75 (Tue 2026-11-03)".
 * With a date it stays within that day however few its digits: 63 of 63.75. */
struct display_text display_day_text(const struct scenario *scenario, double day_d,
                                     int digits);

#endif
