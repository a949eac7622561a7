/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Laboratory analyses from a CSV file. */
#ifndef PAILCAST_SCENARIO_ANALYSES_H
#define PAILCAST_SCENARIO_ANALYSES_H

#include <stdbool.h>
#include <stddef.h>

#include "pailcast/base/status.h"
#include "pailcast/base/text.h"
#include "pailcast/chem/liquid.h"

/* One line of the file. */
struct analysis {
    char label[TEXT_NAME_SIZE];   /* "line N" where the file gives none */
    struct liquid liquid;         /* 0 where a cell is blank or the column is not there */
    double ph, measured_ec_ms_cm; /* NAN where not given */
    size_t line;
    bool usable; /* false: a cell of it cannot be, and it counts for its label only */
};

/* Owns its rows; zero-initialise, release with analyses_free. */
struct analyses {
    struct analysis *rows;
    size_t count, room;
    size_t usable_count;
};

/* Reads path, whose first line names any of no3_mmol_L ... cl_mmol_L, alkalinity_meq_L,
 * label, ph, measured_ec_mS_cm, in any order, and perhaps day, date and note, which are
 * not read. All that is odd is told in `error` with its FILE:LINE, on STATUS_OK too:
 * columns that are missing (they count as 0), cells that are missing, no numbers or out
 * of range, rows without an ion. A row with such a cell is kept as not usable and the
 * others are read. STATUS_INPUT when no row is usable, a column is not known or stands
 * twice, none holds an ion or alkalinity, the file is not CSV or has more than a million
 * rows. */
enum status analyses_read(struct analyses *analyses, const char *path,
                          struct error *error) STATUS_MUST_CHECK;

void analyses_free(struct analyses *analyses);

#endif
