/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A grower's notebook as CSV: readings before each visit, and what was then done. */
#ifndef PAILCAST_SCENARIO_LOGBOOK_H
#define PAILCAST_SCENARIO_LOGBOOK_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "pailcast/base/status.h"

enum {
    LOGBOOK_ROWS_MAX = 5000,
    LOGBOOK_NAME_SIZE = 48
};

/* One entry. A reading that was not taken is NAN; what was not done is 0. */
struct logbook_row {
    double day_d;
    double ec_ms_cm, volume_l, level_cm, ph; /* on arrival */
    double water_l, stock_l, drained_l;
    double adjust_g; /* of the strategy's acid or base, pure; NAN: it has no column */
    size_t line;     /* of the file; 0 where it comes from none */
};

/* A reading as its file has it. */
struct logbook_heading {
    char name[LOGBOOK_NAME_SIZE]; /* "volume_gal"; "": of no file, or not there */
    double size;                  /* of its unit, in L or cm */
};

/* Rows in order of day, no two of one day. Owns its array; zero-initialise. */
struct logbook {
    struct logbook_row *rows;
    size_t count, room;
    const char *path; /* borrowed; NULL: of no file */
    struct logbook_heading volume, level;
};

/* Reads path: day,ec_mS_cm,volume_L,level_cm,ph,water_poured_L,stock_poured_L,drained_L,
 * adjust_g,note in any order, day required, cells may be blank. Another unit may end a
 * name, as in volume_gal or ec_ppm500; and date (ISO 8601) may take the place of day,
 * counted from start, the date of day 0, "" where there is none. On STATUS_INPUT each
 * line of error is `FILE:LINE: what is wrong`; *logbook is then empty. */
enum status logbook_read(struct logbook *logbook, const char *path, const char *start,
                         struct error *error) STATUS_MUST_CHECK;

/* A number that differs between logbooks whose first `entries` (at most their count)
 * differ: FNV-1a (Fowler, Noll & Vo, RFC 9923). */
uint64_t logbook_fingerprint(const struct logbook *logbook, size_t entries);

struct scenario;

/* STATUS_INPUT with FILE:LINE of the row: what contradicts what. */
enum status logbook_refuse(const struct logbook *logbook, const struct logbook_row *row,
                           struct error *error, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Whether what was poured, drained and read can have happened in the scenario's bucket:
 * no pour beyond its rim, no water from nowhere, the first level near its filling. */
enum status logbook_check(const struct logbook *logbook, const struct scenario *scenario,
                          struct error *error) STATUS_MUST_CHECK;

enum status logbook_add(struct logbook *logbook, const struct logbook_row *row,
                        struct error *error) STATUS_MUST_CHECK;

/* Writes header and rows, without adjust_g; write errors are seen by file_close. */
void logbook_write(FILE *out, const struct logbook *logbook);

void logbook_free(struct logbook *logbook);

#endif
