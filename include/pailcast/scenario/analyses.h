/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Laboratory analyses from a CSV file (RFC 4180, read with libcsv). */
#ifndef PAILCAST_SCENARIO_ANALYSES_H
#define PAILCAST_SCENARIO_ANALYSES_H

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
};

/* Owns its rows; zero-initialise, release with analyses_free. */
struct analyses {
    struct analysis *rows;
    size_t count, room;
    size_t short_count; /* lines with fewer cells than the header */
};

/* Reads path, whose first line names any of label, no3_mmol_L ... cl_mmol_L,
 * alkalinity_meq_L, ph, measured_ec_mS_cm, in any order. STATUS_INPUT, with FILE:LINE
 * lines, for a column that is not one, a cell that is no number or negative, a file
 * without rows or of more than a million; lines with fewer cells are kept and counted. */
enum status analyses_read(struct analyses *analyses, const char *path,
                          struct error *error) STATUS_MUST_CHECK;

void analyses_free(struct analyses *analyses);

#endif
