/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain salts, acids and bases by formula, and what a mole of each adds. */
#ifndef PAILCAST_CHEM_SALT_H
#define PAILCAST_CHEM_SALT_H

#include <stddef.h>

#include "pailcast/chem/liquid.h"

struct salt {
    const char *formula;    /* "Ca(NO3)2.4H2O" */
    const char *name;       /* "calcium nitrate, tetrahydrate" */
    double molar_mass;      /* g/mol, IUPAC 2021 abridged weights */
    double ions[ION_COUNT]; /* mol of each ion per mol */
    double alkalinity;      /* eq per mol; -1 for HNO3, +1 for KHCO3 and KOH */
};

extern const struct salt salt_table[];
extern const size_t salt_count;

/* The salt of a formula (case-sensitive first, then case-insensitive); NULL if unknown.
 * Borrowed, static. */
const struct salt *salt_by_formula(const char *formula);

/* Grams of so many mmol of the pure salt. */
double salt_g(const struct salt *salt, double mmol);

/* mmol in so many grams of the pure salt. */
double salt_mmol(const struct salt *salt, double grams);

/* Mol of carbonate (as CO2, bicarbonate or carbonate) a mol brings. */
double salt_carbonate(const struct salt *salt);

/* Adds `grams_per_litre` (>= 0) of a salt to a liquid. */
void salt_dissolve(struct liquid *liquid, const struct salt *salt,
                   double grams_per_litre);

/* Adds mmol_l of a salt to a liquid; negative takes it away. */
void salt_dissolve_mmol(struct liquid *liquid, const struct salt *salt, double mmol_l);

#endif
