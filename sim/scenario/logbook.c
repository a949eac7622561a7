/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/logbook.h"

#include <csv.h>
#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum {
    LOGBOOK_POURS = 5, /* first of the three columns of litres */
    LOGBOOK_NOTE = 8,
    LOGBOOK_COLUMNS = 9,
    LOGBOOK_CELLS_MAX = 64,
    LOGBOOK_PIECE_SIZE = 4096,
    LOGBOOK_COMPLAINTS_MAX = 40
};

/* A nutrient solution never reads more, mS/cm: what does is in other units (chosen). */
static const double logbook_most_ec = 20;

/* Most of each column (chosen: beyond any bucket in a house). */
static const double logbook_most[LOGBOOK_COLUMNS] = {3653, 20,   2000, 400, 14,
                                                     2000, 2000, 2000, 0};

/* A bucket that gained more than this since the last entry was filled: litres, and a
 * share of what it held (chosen, five times a level read to 2 mm in a common pail). */
static const double logbook_gain_l = 0.5;
static const double logbook_gain_share = 0.03;

static const char *const logbook_columns[LOGBOOK_COLUMNS] = {
    "day", "ec_mS_cm",       "volume_L",       "level_cm",
    "ph",  "water_poured_L", "stock_poured_L", "drained_L",
    "note"};

struct logbook_reading {
    struct logbook *logbook;
    const char *path;
    struct error *error;
    enum status status;
    size_t line, row_line; /* now, and where the present row began */
    size_t last_line;      /* of the last good row */
    size_t complaints;
    bool headed;
    int column_of[LOGBOOK_CELLS_MAX]; /* cell to column, -1: none */
    size_t cell_count;
    bool blank, bad;
    double value[LOGBOOK_COLUMNS];
};

static void logbook_refuse(struct logbook_reading *reading, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void logbook_refuse(struct logbook_reading *reading, const char *format, ...)
{
    char what[400];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(what, sizeof what, format, arguments);
    va_end(arguments);
    reading->bad = true;
    if (reading->complaints++ < LOGBOOK_COMPLAINTS_MAX) {
        reading->status = status_error(reading->error, STATUS_INPUT, "%s:%zu: %s",
                                       reading->path, reading->row_line, what);
    }
    reading->status = STATUS_INPUT;
}

static void logbook_take_heading(struct logbook_reading *reading, const char *word)
{
    int column = 0;
    if (reading->cell_count >= LOGBOOK_CELLS_MAX) {
        return; /* refused by then: there are not so many names */
    }
    while (column < LOGBOOK_COLUMNS && strcmp(word, logbook_columns[column]) != 0) {
        column++;
    }
    if (column == LOGBOOK_COLUMNS) {
        logbook_refuse(reading,
                       "column \"%.40s\" is not known; accepted are day, ec_mS_cm, "
                       "volume_L, level_cm, ph, water_poured_L, stock_poured_L, "
                       "drained_L, note",
                       word);
        column = -1;
    }
    for (size_t i = 0; i < reading->cell_count && column >= 0; i++) {
        if (reading->column_of[i] == column) {
            logbook_refuse(reading, "column %s stands here twice", word);
        }
    }
    reading->column_of[reading->cell_count] = column;
}

static void logbook_refuse_word(struct logbook_reading *reading, int column,
                                const char *word)
{
    const char *name = column < LOGBOOK_COLUMNS ? logbook_columns[column] : "";
    if (column >= LOGBOOK_POURS) {
        logbook_refuse(reading,
                       "%s: \"%.40s\" is no number; a pour or drain needs its litres, "
                       "leave the cell blank if there was none",
                       name, word);
    } else {
        logbook_refuse(reading,
                       "%s: \"%.40s\" is not a number; leave the cell blank "
                       "where nothing was read",
                       name, word);
    }
}

static void logbook_check(struct logbook_reading *reading, int column, double value)
{
    if (column == 1 && value > logbook_most_ec) {
        logbook_refuse(reading,
                       "ec_mS_cm: %g is no EC in mS/cm. Is it uS/cm? Then write %.4g. "
                       "Is it ppm? Then write %.4g (a pen of scale 500) or %.4g (of "
                       "scale 700)",
                       value, value / 1000, value / 500, value / 700);
    } else if (value < 0 || value > logbook_most[column]) {
        logbook_refuse(reading, "%s: %g is out of range; accepted is 0 to %g",
                       logbook_columns[column], value, logbook_most[column]);
    }
}

static void logbook_take_cell(void *text, size_t length, void *context)
{
    struct logbook_reading *reading = context;
    char word[80];
    (void)snprintf(word, sizeof word, "%.*s", (int)(length < 79 ? length : 79),
                   text != NULL ? (const char *)text : "");
    if (reading->cell_count == 0) {
        reading->row_line = reading->line;
    }
    if (!reading->headed) {
        const char *bare = strncmp(word, "\xef\xbb\xbf", 3) == 0 ? word + 3 : word;
        logbook_take_heading(reading, bare);
        reading->cell_count++;
        return;
    }
    const size_t cell = reading->cell_count++;
    const int column = cell < LOGBOOK_CELLS_MAX ? reading->column_of[cell] : -1;
    if (word[0] == '\0') {
        return;
    }
    reading->blank = false;
    if (column < 0 || column == LOGBOOK_NOTE) {
        if (column < 0) {
            logbook_refuse(reading, "has more cells than the first line has columns");
        }
        return;
    }
    char *end;
    const double value = strtod(word, &end);
    if (*end != '\0' || !isfinite(value)) {
        logbook_refuse_word(reading, column, word);
        return;
    }
    logbook_check(reading, column, value);
    reading->value[column] = value;
}

/* Water that came from nowhere was poured. */
static void logbook_check_gain(struct logbook_reading *reading,
                               const struct logbook_row *row)
{
    const struct logbook *logbook = reading->logbook;
    if (logbook->count == 0) {
        return;
    }
    const struct logbook_row *last = &logbook->rows[logbook->count - 1];
    const double held = last->volume_l + last->water_l + last->stock_l - last->drained_l;
    if (row->volume_l > held + logbook_gain_l + logbook_gain_share * held) {
        logbook_refuse(reading,
                       "volume_L: %g, yet line %zu leaves only %.4g L; a pour without "
                       "its volume? Write the litres poured there",
                       row->volume_l, reading->last_line, held);
    }
}

static void logbook_take_row(struct logbook_reading *reading)
{
    const double *v = reading->value;
    if (isnan(v[0])) {
        logbook_refuse(reading, "day: is blank; every entry needs its day, counted from "
                                "the first filling");
        return;
    }
    struct logbook_row row = {.day_d = v[0],
                              .ec_ms_cm = v[1],
                              .volume_l = v[2],
                              .level_cm = v[3],
                              .ph = v[4],
                              .water_l = isnan(v[5]) ? 0 : v[5],
                              .stock_l = isnan(v[6]) ? 0 : v[6],
                              .drained_l = isnan(v[7]) ? 0 : v[7]};
    const struct logbook *logbook = reading->logbook;
    const double before =
        logbook->count > 0 ? logbook->rows[logbook->count - 1].day_d : -1;
    if (row.day_d == before) {
        logbook_refuse(reading,
                       "day %g stands on line %zu already; make one entry of "
                       "the two, or add the hour as a fraction (%g)",
                       row.day_d, reading->last_line, row.day_d + 0.5);
    } else if (row.day_d < before) {
        logbook_refuse(reading,
                       "day %g comes after day %g of line %zu; entries stand in "
                       "order of day",
                       row.day_d, before, reading->last_line);
    }
    logbook_check_gain(reading, &row);
    if (!reading->bad) {
        enum status status = logbook_add(reading->logbook, &row, reading->error);
        reading->status = reading->status == STATUS_OK ? status : reading->status;
        reading->last_line = reading->row_line;
    }
}

static void logbook_end_row(int by, void *context)
{
    (void)by;
    struct logbook_reading *reading = context;
    if (!reading->headed && reading->cell_count > 0) {
        bool dated = false;
        for (size_t i = 0; i < reading->cell_count && i < LOGBOOK_CELLS_MAX; i++) {
            dated = dated || reading->column_of[i] == 0;
        }
        if (!dated) {
            logbook_refuse(reading, "has no column named day; the first line names the "
                                    "columns");
        }
        reading->headed = true;
        for (size_t i = reading->cell_count; i < LOGBOOK_CELLS_MAX; i++) {
            reading->column_of[i] = -1;
        }
    } else if (reading->cell_count > 0 && !reading->blank && !reading->bad) {
        logbook_take_row(reading);
    }
    reading->cell_count = 0;
    reading->blank = true;
    reading->bad = false;
    for (int i = 0; i < LOGBOOK_COLUMNS; i++) {
        reading->value[i] = NAN;
    }
}

/* One line, or the part of it that a piece of the file holds; false ends the reading. */
static bool logbook_take_line(struct logbook_reading *reading, struct csv_parser *parser,
                              const char *line, size_t length)
{
    if (reading->logbook->count >= LOGBOOK_ROWS_MAX) {
        reading->row_line = reading->line;
        logbook_refuse(reading,
                       "more than %d entries; keep the visits and, of a pen that logs by "
                       "itself, a reading an hour",
                       LOGBOOK_ROWS_MAX);
        return false;
    }
    if (memchr(line, '\0', length) != NULL) {
        reading->row_line = reading->line;
        logbook_refuse(reading,
                       "holds a byte that no text does; save it as CSV in UTF-8");
        return false;
    }
    if (csv_parse(parser, line, length, logbook_take_cell, logbook_end_row, reading) !=
        length) {
        reading->status = status_error(reading->error, STATUS_MEMORY, "no memory");
        return false;
    }
    reading->line += line[length - 1] == '\n' ? 1 : 0;
    return reading->complaints < LOGBOOK_COMPLAINTS_MAX;
}

static void logbook_parse(struct logbook_reading *reading, FILE *in)
{
    struct csv_parser parser;
    char piece[LOGBOOK_PIECE_SIZE];
    size_t length;
    bool going = true;
    if (csv_init(&parser, CSV_APPEND_NULL) != 0) {
        reading->status = status_error(reading->error, STATUS_MEMORY, "no memory");
        return;
    }
    reading->line = 1;
    while (going && (length = fread(piece, 1, sizeof piece, in)) > 0) {
        for (size_t at = 0; going && at < length;) {
            const char *newline = memchr(piece + at, '\n', length - at);
            const size_t next = newline != NULL ? (size_t)(newline - piece) + 1 : length;
            going = logbook_take_line(reading, &parser, piece + at, next - at);
            at = next;
        }
    }
    (void)csv_fini(&parser, logbook_take_cell, logbook_end_row, reading);
    csv_free(&parser);
}

enum status logbook_read(struct logbook *logbook, const char *path, struct error *error)
{
    *logbook = (struct logbook){0};
    FILE *in = fopen(path, "r");
    if (in == NULL) {
        return status_error(error, STATUS_INPUT, "%s:1: cannot be read: %s", path,
                            strerror(errno));
    }
    struct logbook_reading reading = {
        .logbook = logbook, .path = path, .error = error, .row_line = 1, .blank = true};
    for (int i = 0; i < LOGBOOK_COLUMNS; i++) {
        reading.value[i] = NAN;
    }
    logbook_parse(&reading, in);
    if (ferror(in) != 0) {
        reading.status = status_error(error, STATUS_INPUT, "%s:1: cannot be read", path);
    }
    (void)fclose(in);
    if (reading.status == STATUS_OK && logbook->count == 0) {
        reading.row_line = 1;
        logbook_refuse(&reading, "holds no entry; below the line of column names each "
                                 "entry has a line of its own");
    }
    if (reading.status != STATUS_OK) {
        logbook_free(logbook);
    }
    return reading.status;
}

enum status logbook_add(struct logbook *logbook, const struct logbook_row *row,
                        struct error *error)
{
    if (logbook->count == logbook->room) {
        const size_t room = logbook->room == 0 ? 64 : 2 * logbook->room;
        struct logbook_row *rows = realloc(logbook->rows, room * sizeof *rows);
        if (rows == NULL) {
            return status_error(error, STATUS_MEMORY, "no memory for the logbook");
        }
        logbook->rows = rows;
        logbook->room = room;
    }
    logbook->rows[logbook->count++] = *row;
    return STATUS_OK;
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
        fprintf(out, "%s%s", i > 0 ? "," : "", logbook_columns[i]);
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
