/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counts the atoms of a chemical formula: "5Ca(NO3)2.NH4NO3.10H2O". */
#ifndef TESTS_CHEM_FORMULA_H
#define TESTS_CHEM_FORMULA_H

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

enum element {
    ELEMENT_H,
    ELEMENT_C,
    ELEMENT_N,
    ELEMENT_O,
    ELEMENT_NA,
    ELEMENT_MG,
    ELEMENT_SI,
    ELEMENT_P,
    ELEMENT_S,
    ELEMENT_CL,
    ELEMENT_K,
    ELEMENT_CA,
    ELEMENT_COUNT
};

/* IUPAC 2021 abridged standard atomic weights (Prohaska et al. 2022, Pure Appl. Chem.
 * 94:573), g/mol. */
static const struct {
    const char *symbol;
    double weight;
} formula_elements[ELEMENT_COUNT] = {
    {"H", 1.0080},  {"C", 12.011},  {"N", 14.007},  {"O", 15.999},
    {"Na", 22.990}, {"Mg", 24.305}, {"Si", 28.085}, {"P", 30.974},
    {"S", 32.06},   {"Cl", 35.45},  {"K", 39.098},  {"Ca", 40.078},
};

static inline int formula_number(const char **at)
{
    int number = 0;
    while (isdigit((unsigned char)**at)) {
        number = number * 10 + (*(*at)++ - '0');
    }
    return number > 0 ? number : 1;
}

static inline enum element formula_element(const char **at)
{
    const size_t length = islower((unsigned char)(*at)[1]) ? 2 : 1;
    for (int e = 0; e < ELEMENT_COUNT; e++) {
        const char *symbol = formula_elements[e].symbol;
        if (strlen(symbol) == length && strncmp(symbol, *at, length) == 0) {
            *at += length;
            return (enum element)e;
        }
    }
    return ELEMENT_COUNT;
}

/* Adds `times` the atoms of the part that begins at *at and ends at '.', ')' or the end;
 * false on anything that is not a formula. */
static inline bool formula_part(double atoms[ELEMENT_COUNT], const char **at,
                                double times)
{
    while (**at != '\0' && **at != '.' && **at != ')') {
        double inner[ELEMENT_COUNT] = {0};
        if (**at == '(') {
            (*at)++;
            if (!formula_part(inner, at, 1) || **at != ')') {
                return false;
            }
            (*at)++;
        } else {
            const enum element e = formula_element(at);
            if (e == ELEMENT_COUNT) {
                return false;
            }
            inner[e] = 1;
        }
        const double count = times * formula_number(at);
        for (int e = 0; e < ELEMENT_COUNT; e++) {
            atoms[e] += count * inner[e];
        }
    }
    return true;
}

/* Writes the atoms of a whole formula; false when it cannot be read. */
static inline bool formula_atoms(double atoms[ELEMENT_COUNT], const char *formula)
{
    const char *at = formula;
    memset(atoms, 0, ELEMENT_COUNT * sizeof atoms[0]);
    for (;;) {
        const double times = formula_number(&at);
        if (!formula_part(atoms, &at, times)) {
            return false;
        }
        if (*at == '\0') {
            return true;
        }
        if (*at++ != '.') {
            return false;
        }
    }
}

static inline double formula_mass(const double atoms[ELEMENT_COUNT])
{
    double mass = 0;
    for (int e = 0; e < ELEMENT_COUNT; e++) {
        mass += atoms[e] * formula_elements[e].weight;
    }
    return mass;
}

#endif
