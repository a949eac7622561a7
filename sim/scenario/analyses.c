/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/analyses.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <csv.h>

enum {
    ANALYSES_COLUMNS_MAX = ION_COUNT + 4,
    ANALYSES_ROWS_MAX = 1000000,
    ANALYSES_MISTAKES_MAX = 20
};

/* What a column means: an ion, or one of these. */
enum analyses_column {
    COLUMN_LABEL = ION_COUNT,
    COLUMN_ALKALINITY,
    COLUMN_PH,
    COLUMN_EC,
    COLUMN_UNKNOWN
};

struct analyses_reading {
    struct analyses *analyses;
    const char *path;
    struct error *error;
    enum status status;
    size_t line, cell, columns;
    int meaning[ANALYSES_COLUMNS_MAX];
    struct analysis row;
    bool any;
};

static void analyses_refuse(struct analyses_reading *reading, enum status status,
                            const char *what, const char *cell)
{
    char shown[48];
    text_copy(shown, sizeof shown, cell);
    reading->status = status;
    if (reading->error == NULL || reading->error->count < ANALYSES_MISTAKES_MAX) {
        (void)status_error(reading->error, status, "%s:%zu: \"%s\" %s", reading->path,
                           reading->line, shown, what);
    }
}

static int analyses_meaning(const char *name)
{
    static const char *const others[] = {"label", "alkalinity_meq_L", "ph",
                                         "measured_ec_mS_cm"};
    for (int i = 0; i < ION_COUNT; i++) {
        char column[32];
        (void)snprintf(column, sizeof column, "%s_mmol_L", ion_table[i].key);
        if (strcmp(name, column) == 0) {
            return i;
        }
    }
    for (int i = 0; i < 4; i++) {
        if (strcmp(name, others[i]) == 0) {
            return COLUMN_LABEL + i;
        }
    }
    return COLUMN_UNKNOWN;
}

static void analyses_header(struct analyses_reading *reading, const char *cell)
{
    const int meaning = analyses_meaning(cell);
    if (meaning == COLUMN_UNKNOWN || reading->cell >= ANALYSES_COLUMNS_MAX) {
        analyses_refuse(
            reading, STATUS_INPUT,
            "is no column of analyses; accepted are label, no3_mmol_L, "
            "nh4_mmol_L, p_mmol_L, k_mmol_L, ca_mmol_L, mg_mmol_L, so4_mmol_L, "
            "na_mmol_L, cl_mmol_L, alkalinity_meq_L, ph, measured_ec_mS_cm",
            cell);
        return;
    }
    reading->meaning[reading->cell] = meaning;
    reading->columns = reading->cell + 1;
}

static void analyses_number(struct analyses_reading *reading, int meaning,
                            const char *cell)
{
    char *end;
    const double value = strtod(cell, &end);
    if (*end != '\0' || !isfinite(value)) {
        analyses_refuse(reading, STATUS_INPUT, "is not a number", cell);
    } else if (value < 0 && meaning != COLUMN_ALKALINITY) {
        analyses_refuse(reading, STATUS_INPUT, "is negative", cell);
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
    if (reading->line == 1) {
        analyses_header(reading, cell);
    } else if (reading->cell >= reading->columns) {
        analyses_refuse(reading, STATUS_INPUT, "stands beyond the last column", cell);
    } else if (reading->meaning[reading->cell] == COLUMN_LABEL) {
        text_copy(reading->row.label, sizeof reading->row.label, cell);
    } else if (cell[0] != '\0') {
        analyses_number(reading, reading->meaning[reading->cell], cell);
    }
    reading->cell++;
}

static struct analysis analyses_blank(size_t line)
{
    struct analysis row = {.ph = NAN, .measured_ec_ms_cm = NAN, .line = line};
    (void)snprintf(row.label, sizeof row.label, "line %zu", line);
    return row;
}

static void analyses_keep(struct analyses_reading *reading)
{
    struct analyses *analyses = reading->analyses;
    if (analyses->count == ANALYSES_ROWS_MAX) {
        analyses_refuse(reading, STATUS_INPUT, "is past a million rows",
                        reading->row.label);
        return;
    }
    if (analyses->count == analyses->room) {
        const size_t room = analyses->room == 0 ? 64 : 2 * analyses->room;
        struct analysis *rows = realloc(analyses->rows, room * sizeof *rows);
        if (rows == NULL) {
            analyses_refuse(reading, STATUS_MEMORY, "finds no memory",
                            reading->row.label);
            return;
        }
        analyses->rows = rows;
        analyses->room = room;
    }
    analyses->short_count += reading->cell < reading->columns;
    analyses->rows[analyses->count++] = reading->row;
}

static void analyses_line(int terminator, void *context)
{
    struct analyses_reading *reading = context;
    (void)terminator;
    if (reading->line > 1 && reading->any) {
        analyses_keep(reading);
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
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0) {
        reading->status = STATUS_MEMORY;
        return;
    }
    while ((length = fread(piece, 1, sizeof piece, file)) > 0 &&
           reading->status != STATUS_MEMORY) {
        if (csv_parse(&parser, piece, length, analyses_cell, analyses_line, reading) !=
            length) {
            analyses_refuse(reading, STATUS_INPUT, "is not CSV: a quote stands astray",
                            "");
            break;
        }
    }
    if (csv_fini(&parser, analyses_cell, analyses_line, reading) != 0 &&
        reading->status == STATUS_OK) {
        analyses_refuse(reading, STATUS_INPUT, "ends inside a quoted cell", "the file");
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
    return reading.status;
}

void analyses_free(struct analyses *analyses)
{
    free(analyses->rows);
    *analyses = (struct analyses){0};
}
