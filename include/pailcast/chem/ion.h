/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one table of ions: enum, state length, CSV columns, file keys and ledger grow from
 * it. */
#ifndef PAILCAST_CHEM_ION_H
#define PAILCAST_CHEM_ION_H

#include <stdbool.h>

/* Order is that of the CSV columns. P is all dissolved phosphate, counted as H2PO4-. */
enum ion {
    ION_NO3,
    ION_NH4,
    ION_P,
    ION_K,
    ION_CA,
    ION_MG,
    ION_SO4,
    ION_NA,
    ION_CL,
    ION_COUNT
};

struct ion_row {
    const char *key;    /* file key and column stem: "no3" */
    const char *symbol; /* plain-text symbol: "NO3-" */
    const char *name;   /* the grower's word: "nitrate" */
    int charge;         /* elementary charges of the counted form */
    double molar_mass;  /* g/mol of the counted form */
    bool nutrient;      /* a plant can run short of it */
};

/* IUPAC 2021 abridged atomic weights; see docs/sources.md. */
extern const struct ion_row ion_table[ION_COUNT];

/* The ion of a file key, or ION_COUNT when there is none. */
enum ion ion_by_key(const char *key);

#endif
