/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fertiliser label read as ions: percent by mass, with the oxides labels use. */
#ifndef PAILCAST_CHEM_LABEL_H
#define PAILCAST_CHEM_LABEL_H

#include "pailcast/chem/liquid.h"

/* Percent by mass; zero where the label is silent. */
struct label {
    double n_nitrate, n_ammonium; /* as N */
    double p2o5, k2o;
    double ca, mg, s;
    double na, cl;
};

/* Adds the ions of `grams_per_litre` (>= 0) of the product to a liquid. What the label
 * leaves open in charge is closed with `closing` (ion of the sign that is missing;
 * chloride or sulfate where an anion is missing, potassium or sodium where a cation is).
 * Returns the charge closed, meq/L: positive when anion was added, negative when cation
 * was, NAN when `closing` has the wrong sign (liquid is then left as the label says); 0
 * when no more than rounding is open. */
double label_dissolve(struct liquid *liquid, const struct label *label,
                      double grams_per_litre, enum ion closing);

#endif
