/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Amounts as they are poured and weighed: jugs, cups, spoons and a kitchen scale. */
#ifndef SIM_REPORT_AMOUNT_H
#define SIM_REPORT_AMOUNT_H

#include "pailcast/scenario/display.h"

struct amount_text {
    char text[48];
};

/* Litres (>= 0) to a hundredth, or millilitres below one; in gallons whole gallons and
 * cups to a quarter: "4.35 L", "350 mL", "1 gal 2 1/4 cups", "3.2 tbsp". */
struct amount_text amount_volume(const struct scenario_display *display, double litres);

/* Grams (>= 0): "0.43 g", "12.6 g", "130 g". */
struct amount_text amount_mass(double grams);

/* The litres and grams that those words say. */
double amount_volume_told(const struct scenario_display *display, double litres);
double amount_mass_told(double grams);

#endif
