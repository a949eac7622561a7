/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/analyses.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <csv.h>

#include "pailcast/scenario/quantity.h"

enum {
    ANALYSES_COLUMNS_MAX = 64,
    ANALYSES_ROWS_MAX = 1000000,
    ANALYSES_REMARKS_MAX = 20
};

/* What a column means: an ion, or one of these. */
enum analyses_column {
    COLUMN_LABEL = ION_COUNT,
    COLUMN_ALKALINITY,
    COLUMN_PH,
    COLUMN_EC,
    COLUMN_KINDS,
    COLUMN_UNKNOWN = COLUMN_KINDS
};

/* From which value on a cell is no analysis any more; acids have negative alkalinity. */
static const double analyses_most = 1e4;

struct analyses_reading {
    struct analyses *analyses;
    const char *path;
    struct error *error;
    enum status status; /* what ends the reading */
    size_t line, cell, columns;
    bool headed;   /* the columns are read */
    bool after_cr; /* the last thing read was a CR, of which an LF is a part */
    int meaning[ANALYSES_COLUMNS_MAX];
    bool present[COLUMN_KINDS];
    struct analysis row;
    bool any; /* a cell of this line is not blank */
};

/* Something odd in this line, told; beyond so many it is only counted. */
static void analyses_remark(const struct analyses_reading *reading, const char *cell,
                            const char *what)
{
    char shown[48];
    text_copy(shown, sizeof shown, cell);
    if (reading->error != NULL && reading->error->count >= ANALYSES_REMARKS_MAX) {
        reading->error->count++;
        return;
    }
    (void)status_error(reading->error, STATUS_INPUT, "%s:%zu: \"%s\" %s", reading->path,
                       reading->row.line, shown, what);
}

static void analyses_end(struct analyses_reading *reading, enum status status,
                         const char *cell, const char *what)
{
    analyses_remark(reading, cell, what);
    reading->status = status;
}

static void analyses_column_name(char name[32], int column)
{
    static const char *const others[] = {"label", "alkalinity_meq_L", "ph",
                                         "measured_ec_mS_cm"};
    if (column < ION_COUNT) {
        (void)snprintf(name, 32, "%s_mmol_L", ion_table[column].key);
    } else {
        (void)snprintf(name, 32, "%s", others[column - COLUMN_LABEL]);
    }
}

static int analyses_meaning(const char *name)
{
    int column = 0;
    for (; column < COLUMN_KINDS; column++) {
        char known[32];
        analyses_column_name(known, column);
        if (strcmp(name, known) == 0) {
            break;
        }
    }
    return column;
}

/* The mark some programs put in front of UTF-8. */
static const char *analyses_after_mark(const char *cell)
{
    return strncmp(cell, "\xef\xbb\xbf", 3) == 0 ? cell + 3 : cell;
}

static void analyses_header(struct analyses_reading *reading, const char *cell)
{
    const char *name = reading->cell == 0 ? analyses_after_mark(cell) : cell;
    const int meaning = analyses_meaning(name);
    if (reading->cell >= ANALYSES_COLUMNS_MAX) {
        analyses_end(reading, STATUS_INPUT, name, "is one column too many");
        return;
    }
    reading->meaning[reading->cell] = meaning;
    reading->columns = reading->cell + 1;
    if (meaning == COLUMN_UNKNOWN) {
        analyses_remark(
            reading, name,
            "is no column of analyses and is left out; accepted are label, no3_mmol_L, "
            "nh4_mmol_L, p_mmol_L, k_mmol_L, ca_mmol_L, mg_mmol_L, so4_mmol_L, "
            "na_mmol_L, cl_mmol_L, alkalinity_meq_L, ph, measured_ec_mS_cm, with commas "
            "between");
    } else if (reading->present[meaning]) {
        analyses_end(reading, STATUS_INPUT, name,
                     "stands twice among the columns; keep one");
    } else {
        reading->present[meaning] = true;
    }
}

/* Once the header is read: which columns of the charge are not there. */
static void analyses_missing(struct analyses_reading *reading)
{
    char names[256] = "";
    size_t used = 0;
    int missing = 0;
    for (int column = 0; column <= COLUMN_ALKALINITY; column++) {
        char name[32];
        if (column == COLUMN_LABEL || reading->present[column]) {
            continue;
        }
        analyses_column_name(name, column);
        used += (size_t)snprintf(names + used, sizeof names - used, "%s%s",
                                 missing > 0 ? ", " : "", name);
        missing++;
    }
    if (missing == ION_COUNT + 1) {
        reading->status = status_error(
            reading->error, STATUS_INPUT,
            "%s:1: no column holds an ion; the first line must name its columns, such as "
            "label,no3_mmol_L,k_mmol_L",
            reading->path);
    } else if (missing > 0) {
        (void)status_error(reading->error, STATUS_INPUT,
                           "%s:1: without column%s %s: counted as 0", reading->path,
                           missing > 1 ? "s" : "", names);
    }
}

static void analyses_spoil(struct analyses_reading *reading, const char *cell,
                           const char *what)
{
    analyses_remark(reading, cell, what);
    reading->row.usable = false;
}

static void analyses_number(struct analyses_reading *reading, int meaning,
                            const char *cell)
{
    double value = NAN;
    const bool parsed =
        quantity_parse(&value, cell, QUANTITY_NUMBER, NULL, NULL) == STATUS_OK;
    if (!parsed) {
        analyses_spoil(reading, cell, "is not a number; the row is left out");
    } else if (value < 0 && meaning != COLUMN_ALKALINITY) {
        analyses_spoil(reading, cell, "is negative; the row is left out");
    } else if (fabs(value) > analyses_most) {
        analyses_spoil(reading, cell, "is too large a number; the row is left out");
    } else if (meaning < ION_COUNT) {
        reading->row.liquid.mmol_l[meaning] = value;
    } else if (meaning == COLUMN_ALKALINITY) {
        reading->row.liquid.alkalinity_meq_l = value;
    } else if (meaning == COLUMN_PH) {
        reading->row.ph = value;
    } else {
        reading->row.measured_ec_ms_cm = value;
    }
}

static void analyses_cell(void *text, size_t length, void *context)
{
    struct analyses_reading *reading = context;
    char cell[128];
    (void)snprintf(cell, sizeof cell, "%.*s", (int)(length < 127 ? length : 127),
                   (const char *)text);
    reading->any = reading->any || length > 0;
    reading->after_cr = false;
    for (size_t i = 0; i < length; i++) {
        reading->line += ((const char *)text)[i] == '\n';
    }
    if (reading->status != STATUS_OK) {
        return;
    }
    if (!reading->headed) {
        analyses_header(reading, cell);
    } else if (reading->cell >= reading->columns) {
        if (cell[0] != '\0') {
            analyses_spoil(reading, cell,
                           "stands beyond the last column; the row is left out");
        }
    } else if (reading->meaning[reading->cell] == COLUMN_LABEL) {
        if (cell[0] != '\0') {
            text_copy(reading->row.label, sizeof reading->row.label, cell);
        }
    } else if (cell[0] != '\0' && reading->meaning[reading->cell] != COLUMN_UNKNOWN) {
        analyses_number(reading, reading->meaning[reading->cell], cell);
    }
    reading->cell++;
}

static struct analysis analyses_blank(size_t line)
{
    struct analysis row = {
        .ph = NAN, .measured_ec_ms_cm = NAN, .line = line, .usable = true};
    (void)snprintf(row.label, sizeof row.label, "line %zu", line);
    return row;
}

static void analyses_keep(struct analyses_reading *reading)
{
    struct analyses *analyses = reading->analyses;
    if (analyses->count == ANALYSES_ROWS_MAX) {
        analyses_end(reading, STATUS_INPUT, reading->row.label, "is past a million rows");
        return;
    }
    if (analyses->count == analyses->room) {
        const size_t room = analyses->room == 0 ? 64 : 2 * analyses->room;
        struct analysis *rows = realloc(analyses->rows, room * sizeof *rows);
        if (rows == NULL) {
            analyses_end(reading, STATUS_MEMORY, reading->row.label, "finds no memory");
            return;
        }
        analyses->rows = rows;
        analyses->room = room;
    }
    if (reading->cell < reading->columns) {
        analyses_remark(reading, reading->row.label,
                        "has fewer cells than the header; what is missing counts as 0");
    }
    analyses->usable_count += reading->row.usable;
    analyses->rows[analyses->count++] = reading->row;
}

static void analyses_line(int terminator, void *context)
{
    struct analyses_reading *reading = context;
    if (terminator == '\n' && reading->after_cr) {
        reading->after_cr = false;
        return;
    }
    reading->after_cr = terminator == '\r';
    if (reading->status == STATUS_OK && reading->any) {
        if (reading->headed) {
            analyses_keep(reading);
        } else {
            analyses_missing(reading);
            reading->headed = true;
        }
    }
    reading->line++;
    reading->cell = 0;
    reading->any = false;
    reading->row = analyses_blank(reading->line);
}

static void analyses_parse(struct analyses_reading *reading, FILE *file)
{
    struct csv_parser parser;
    char piece[4096];
    size_t length;
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_REPALL_NL) != 0) {
        reading->status = STATUS_MEMORY;
        return;
    }
    while ((length = fread(piece, 1, sizeof piece, file)) > 0 &&
           reading->status == STATUS_OK) {
        if (csv_parse(&parser, piece, length, analyses_cell, analyses_line, reading) !=
            length) {
            analyses_end(reading, STATUS_INPUT, "", "is not CSV: a quote stands astray");
            break;
        }
    }
    if (csv_fini(&parser, analyses_cell, analyses_line, reading) != 0 &&
        reading->status == STATUS_OK) {
        analyses_end(reading, STATUS_INPUT, "the file", "ends inside a quoted cell");
    }
    csv_free(&parser);
}

enum status analyses_read(struct analyses *analyses, const char *path,
                          struct error *error)
{
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        return status_error(error, STATUS_INPUT, "%s: %s", path, strerror(errno));
    }
    struct analyses_reading reading = {.analyses = analyses,
                                       .path = path,
                                       .error = error,
                                       .line = 1,
                                       .row = analyses_blank(1)};
    analyses_parse(&reading, file);
    const bool failed = ferror(file) != 0;
    (void)fclose(file);
    if (failed) {
        return status_error(error, STATUS_INPUT, "%s: cannot be read", path);
    }
    if (reading.status == STATUS_OK && analyses->count == 0) {
        return status_error(error, STATUS_INPUT, "%s:1: holds no analysis", path);
    }
    if (reading.status == STATUS_OK && analyses->usable_count == 0) {
        return STATUS_INPUT; /* each row's own mistake is told */
    }
    return reading.status;
}

void analyses_free(struct analyses *analyses)
{
    free(analyses->rows);
    *analyses = (struct analyses){0};
}
