/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/logbook.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>

#include "columns.h"
#include "pailcast/base/grow.h"
#include "pailcast/base/hash.h"

enum logbook_column {
    LOGBOOK_DAY,
    LOGBOOK_EC,
    LOGBOOK_VOLUME,
    LOGBOOK_LEVEL,
    LOGBOOK_PH,
    LOGBOOK_WATER,
    LOGBOOK_STOCK,
    LOGBOOK_DRAINED,
    LOGBOOK_NOTE,
    LOGBOOK_COLUMNS
};

static const char logbook_unread[] = "leave the cell blank where nothing was read";
static const char logbook_unpoured[] =
    "a pour or drain needs its litres, leave the cell blank if there was none";

/* Most of each column: beyond any bucket in a house (chosen). */
static const struct columns_kind logbook_kinds[LOGBOOK_COLUMNS] = {
    {"day", COLUMNS_NUMBER, 0, 3653, "count days from the first filling"},
    {"ec_mS_cm", COLUMNS_NUMBER, 0, INFINITY, logbook_unread},
    {"volume_L", COLUMNS_NUMBER, 0, 2000, logbook_unread},
    {"level_cm", COLUMNS_NUMBER, 0, 400, logbook_unread},
    {"ph", COLUMNS_NUMBER, 0, 14, logbook_unread},
    {"water_poured_L", COLUMNS_NUMBER, 0, 2000, logbook_unpoured},
    {"stock_poured_L", COLUMNS_NUMBER, 0, 2000, logbook_unpoured},
    {"drained_L", COLUMNS_NUMBER, 0, 2000, logbook_unpoured},
    {"note", COLUMNS_UNREAD, 0, 0, ""}};

/* What is read, and whether a line of it was refused. */
struct logbook_reading {
    struct logbook *logbook;
    bool refused;
};

static void logbook_headed(struct columns *own)
{
    if (!own->present[LOGBOOK_DAY]) {
        columns_tell(own, "has no column named day; the first line names the columns");
        own->status = STATUS_INPUT;
    }
}

static void logbook_check_day(struct columns *own, const struct logbook *logbook)
{
    const double day_d = own->value[LOGBOOK_DAY];
    if (isnan(day_d)) {
        columns_spoil(own, "day: is blank; every entry needs its day, counted from the "
                           "first filling");
        return;
    }
    if (logbook->count == 0) {
        return;
    }
    const struct logbook_row *before = &logbook->rows[logbook->count - 1];
    if (day_d == before->day_d) {
        columns_spoil(own,
                      "day %g stands on line %zu already; make one entry of the two, or "
                      "add the hour as a fraction (%g)",
                      day_d, before->line, day_d + 0.5);
    } else if (day_d < before->day_d) {
        columns_spoil(own,
                      "day %g comes after day %g of line %zu; entries stand in order of "
                      "day",
                      day_d, before->day_d, before->line);
    }
}

static void logbook_row(struct columns *own)
{
    struct logbook_reading *reading = own->context;
    if (!own->spoilt) {
        columns_check_ec(own, LOGBOOK_EC);
        logbook_check_day(own, reading->logbook);
    }
    if (!own->spoilt && reading->logbook->count >= LOGBOOK_ROWS_MAX) {
        columns_spoil(own,
                      "more than %d entries; keep the visits and, of a pen that logs by "
                      "itself, a reading an hour",
                      LOGBOOK_ROWS_MAX);
        own->status = STATUS_INPUT;
    }
    if (own->spoilt) {
        reading->refused = true;
        return;
    }
    const struct logbook_row row = {.day_d = own->value[LOGBOOK_DAY],
                                    .ec_ms_cm = own->value[LOGBOOK_EC],
                                    .volume_l = own->value[LOGBOOK_VOLUME],
                                    .level_cm = own->value[LOGBOOK_LEVEL],
                                    .ph = own->value[LOGBOOK_PH],
                                    .water_l = columns_amount(own, LOGBOOK_WATER),
                                    .stock_l = columns_amount(own, LOGBOOK_STOCK),
                                    .drained_l = columns_amount(own, LOGBOOK_DRAINED),
                                    .line = own->line};
    own->status = logbook_add(reading->logbook, &row, own->error);
}

enum status logbook_read(struct logbook *logbook, const char *path, struct error *error)
{
    *logbook = (struct logbook){.path = path};
    struct logbook_reading reading = {logbook, false};
    struct columns columns = {.path = path,
                              .kinds = logbook_kinds,
                              .count = LOGBOOK_COLUMNS,
                              .headed = logbook_headed,
                              .row = logbook_row,
                              .context = &reading,
                              .error = error};
    enum status status = columns_read(&columns);
    if (status == STATUS_OK && reading.refused) {
        status = STATUS_INPUT;
    } else if (status == STATUS_OK && logbook->count == 0) {
        status = status_error(error, STATUS_INPUT,
                              "%s:1: holds no entry; below the line of column names each "
                              "entry has a line of its own",
                              path);
    }
    if (status != STATUS_OK) {
        logbook_free(logbook);
    }
    return status;
}

enum status logbook_refuse(const struct logbook *logbook, const struct logbook_row *row,
                           struct error *error, const char *format, ...)
{
    char what[300];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(what, sizeof what, format, arguments);
    va_end(arguments);
    return logbook->path != NULL
               ? status_error(error, STATUS_INPUT, "%s:%zu: %s", logbook->path, row->line,
                              what)
               : status_error(error, STATUS_INPUT, "day %g: %s", row->day_d, what);
}

enum status logbook_add(struct logbook *logbook, const struct logbook_row *row,
                        struct error *error)
{
    struct logbook_row *rows =
        grow_array(logbook->rows, logbook->count, &logbook->room, sizeof *rows);
    if (rows == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the logbook");
    }
    logbook->rows = rows;
    logbook->rows[logbook->count++] = *row;
    return STATUS_OK;
}

uint64_t logbook_fingerprint(const struct logbook *logbook, size_t entries)
{
    uint64_t hash = hash_text_start;
    for (size_t i = 0; i < entries; i++) {
        const struct logbook_row *row = &logbook->rows[i];
        const double values[] = {row->day_d,    row->ec_ms_cm, row->volume_l,
                                 row->level_cm, row->ph,       row->water_l,
                                 row->stock_l,  row->drained_l};
        for (size_t k = 0; k < sizeof values / sizeof *values; k++) {
            char text[32]; /* as a number that was not read has many bit patterns */
            const int size =
                snprintf(text, sizeof text, "%.17g,", isnan(values[k]) ? -1 : values[k]);
            hash = hash_text(hash, text, (size_t)size);
        }
    }
    return hash;
}

static void logbook_write_cell(FILE *out, double value, bool wanted)
{
    if (wanted && isfinite(value)) {
        fprintf(out, "%.9g", value);
    }
    fputc(',', out);
}

void logbook_write(FILE *out, const struct logbook *logbook)
{
    for (int i = 0; i < LOGBOOK_COLUMNS; i++) {
        fprintf(out, "%s%s", i > 0 ? "," : "", logbook_kinds[i].name);
    }
    fputc('\n', out);
    for (size_t i = 0; i < logbook->count; i++) {
        const struct logbook_row *row = &logbook->rows[i];
        logbook_write_cell(out, row->day_d, true);
        logbook_write_cell(out, row->ec_ms_cm, true);
        logbook_write_cell(out, row->volume_l, true);
        logbook_write_cell(out, row->level_cm, true);
        logbook_write_cell(out, row->ph, true);
        logbook_write_cell(out, row->water_l, row->water_l > 0);
        logbook_write_cell(out, row->stock_l, row->stock_l > 0);
        logbook_write_cell(out, row->drained_l, row->drained_l > 0);
        fputc('\n', out);
    }
}

void logbook_free(struct logbook *logbook)
{
    if (logbook != NULL) {
        free(logbook->rows);
        *logbook = (struct logbook){0};
    }
}
