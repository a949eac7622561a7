/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The kinds of plant that plant.c lists. */
#ifndef PAILCAST_PLANT_PLANTS_H
#define PAILCAST_PLANT_PLANTS_H

#include "pailcast/plant/plant.h"

/* What a grower measured: stages with litres a day and uptake per litre. Without a
 * drinking stage it is no plant at all. */
extern const struct plant_kind table_plant;

/* Computed from light, air and the solution. */
extern const struct plant_kind grown_plant;

#endif
