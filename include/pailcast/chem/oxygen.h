/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dissolved oxygen: saturation (Benson & Krause 1984) and how long it lasts without air.
 */
#ifndef PAILCAST_CHEM_OXYGEN_H
#define PAILCAST_CHEM_OXYGEN_H

/* mg/L at 1 atm of moist air in fresh water, 0-40 degC. */
double oxygen_saturation_mg_l(double temperature_c);

/* Hours from saturation down to `floor_mg_l` when the air pump stops: volume x
 * (saturation - floor) / respiration of root_mass_g of dry root. INFINITY without roots;
 * surface gas exchange is left out, so the answer is on the safe side. Respiration per
 * gram of root and its Q10 are in docs/sources.md. */
double oxygen_reserve_h(double volume_l, double temperature_c, double root_mass_g,
                        double floor_mg_l);

#endif
