/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first line of a CSV file: which known column a heading names, and in which unit. */
#ifndef SIM_SCENARIO_HEADINGS_H
#define SIM_SCENARIO_HEADINGS_H

#include "columns.h"

/* Takes one heading: the name of a known column, or its stem with another unit of the
 * same kind, "volume_gal" for "volume_L", an underscore standing for a slash. Returns the
 * column's number. What it cannot take is told, and own->status set; where it names no
 * column that is own->count. */
size_t headings_take(struct columns *own, const char *name);

#endif
