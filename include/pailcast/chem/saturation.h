/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saturation of the solids that first fall out of a nutrient bucket. */
#ifndef PAILCAST_CHEM_SATURATION_H
#define PAILCAST_CHEM_SATURATION_H

#include "pailcast/chem/speciation.h"

enum solid {
    SOLID_GYPSUM,
    SOLID_CALCITE,
    SOLID_BRUSHITE,
    SOLID_COUNT
};

/* "gypsum", "calcite", "brushite". */
extern const char *const saturation_solid_name[SOLID_COUNT];

/* log10(ion activity product / solubility product) for each solid; above 0 it may form.
 * -INFINITY where an ion is absent. A warning, not a dynamic. */
void saturation_index(double index[SOLID_COUNT], const struct speciation *speciation,
                      const struct equilibrium *equilibrium);

#endif
