/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CSV files (RFC 4180, read with libcsv) whose first line names their columns: one way of
 * matching headings, reading numbers and telling FILE:LINE. */
#ifndef SIM_SCENARIO_COLUMNS_H
#define SIM_SCENARIO_COLUMNS_H

#include <stdbool.h>
#include <stddef.h>

#include "pailcast/base/status.h"
#include "pailcast/scenario/quantity.h"

enum {
    COLUMNS_MAX = 24, /* known ones */
    COLUMNS_NAME_SIZE = 48,
    COLUMNS_TEXT_SIZE = 128
};

enum columns_cells {
    COLUMNS_NUMBER,
    COLUMNS_TEXT,
    COLUMNS_UNREAD /* for people alone: anything may stand in it */
};

/* A column that may stand in the file; a number is from least to most. */
struct columns_kind {
    const char *name;
    enum columns_cells cells;
    double least, most;
    const char *otherwise; /* what to do where a cell is no number: "leave it blank" */
};

/* What stays of a kind's name when another unit of the quantity takes the place of its
 * own: "volume" of "volume_L". */
struct columns_stem {
    const char *text; /* NULL: no other unit is taken */
    enum quantity quantity;
};

/* How the file names a column. */
struct columns_heading {
    char name[COLUMNS_NAME_SIZE]; /* as it stands there, cut to this size */
    double size; /* of its unit in that of the column's kind: of gal in L */
};

/* A reading. Borrows all; value and text are those of the row being told. */
struct columns {
    const char *path;
    const struct columns_kind *kinds;
    size_t count;                        /* of kinds, at most COLUMNS_MAX */
    const struct columns_stem *stems;    /* of each kind; NULL: none has one */
    void (*headed)(struct columns *own); /* the first line is read and was good */
    void (*row)(struct columns *own);    /* a row that is not all blank */
    void *context;
    struct error *error;
    enum status status; /* any but STATUS_OK ends the reading; headed, row may set it */
    bool present[COLUMNS_MAX];
    struct columns_heading heading[COLUMNS_MAX]; /* of those present */
    size_t line;                                 /* where the row begins */
    double value[COLUMNS_MAX];    /* in the kind's unit; NAN: blank, or not there */
    char text[COLUMNS_TEXT_SIZE]; /* of the column of text; "" */
    bool spoilt; /* a cell of the row cannot be read, and that was told */
    bool curt;   /* it has fewer cells than the first line */
};

/* Reads the file; returns own->status. STATUS_INPUT also where the file cannot be read or
 * is not CSV, a column is not known or stands twice. Own: path, kinds, count, stems,
 * callbacks, context, error are set, the rest zero. */
enum status columns_read(struct columns *own) STATUS_MUST_CHECK;

/* Tells `FILE:LINE: what` of the row; beyond twenty such lines they are only counted. */
void columns_tell(const struct columns *own, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* As columns_tell, and the row is spoilt. */
void columns_spoil(struct columns *own, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Asks about a reading that is no EC: in mS/cm, is it uS/cm, or ppm? The row is then
 * spoilt. */
void columns_check_ec(struct columns *own, size_t column);

/* The number of a column, 0 where its cell is blank or not there. */
double columns_amount(const struct columns *own, size_t column);

#endif
