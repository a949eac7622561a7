/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/chem/recipe.h"

#include <string.h>

#include "pailcast/base/text.h"

void recipe_add(struct recipe *recipe, const char *name, double g_l)
{
    char known[RECIPE_NAME_SIZE];
    text_copy(known, sizeof known, name);
    size_t i = 0;
    while (i < recipe->count && strcmp(recipe->parts[i].name, known) != 0) {
        i++;
    }
    if (i == RECIPE_PARTS_MAX) {
        i--;
    } else if (i == recipe->count) {
        recipe->count++;
        text_copy(recipe->parts[i].name, RECIPE_NAME_SIZE, known);
        recipe->parts[i].g_l = 0;
    }
    recipe->parts[i].g_l += g_l;
}

double recipe_g_l(const struct recipe *recipe)
{
    double sum = 0;
    for (size_t i = 0; i < recipe->count; i++) {
        sum += recipe->parts[i].g_l;
    }
    return sum;
}
