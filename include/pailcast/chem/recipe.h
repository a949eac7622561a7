/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A recipe as it goes on the scale: names of salts or products and grams a litre. */
#ifndef PAILCAST_CHEM_RECIPE_H
#define PAILCAST_CHEM_RECIPE_H

#include <stddef.h>

enum {
    RECIPE_PARTS_MAX = 56, /* every salt of the table and sixteen products */
    RECIPE_NAME_SIZE = 48
};

struct recipe_part {
    char name[RECIPE_NAME_SIZE]; /* a formula of salt.h, or a product's name */
    double g_l;                  /* as weighed, crystal water included; >= 0 */
};

/* Zero-initialise. What the parts bring as ions is kept beside it, as a liquid. */
struct recipe {
    size_t count;
    struct recipe_part parts[RECIPE_PARTS_MAX];
};

/* Adds g_l (>= 0) of a part; one of the same name grows. When there is no place left it
 * goes to the last part, so that the total stays right. */
void recipe_add(struct recipe *recipe, const char *name, double g_l);

/* Grams a litre of everything. */
double recipe_g_l(const struct recipe *recipe);

#endif
