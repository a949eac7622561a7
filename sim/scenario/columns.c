/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "columns.h"

#include <csv.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "nearest.h"
#include "pailcast/base/file.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/quantity.h"

enum {
    COLUMNS_CELLS_MAX = 64,
    COLUMNS_TOLD_MAX = 20
};

/* A nutrient solution never reads more, mS/cm: what does is in other units (chosen). */
static const double columns_most_ec = 20;

/* Where libcsv is in the file. */
struct place {
    struct columns *own;
    size_t line, cell, cells; /* cells: of the first line */
    bool headed, blank;
    bool after_cr;  /* the last thing read was a CR, of which an LF is a part */
    size_t surplus; /* cells of this row that are not blank and have no column */
    int column_of[COLUMNS_CELLS_MAX];
};

static void columns_tell_list(const struct columns *own, const char *format,
                              va_list arguments)
{
    char what[400];
    if (own->error != NULL && own->error->count >= COLUMNS_TOLD_MAX) {
        own->error->count++;
        return;
    }
    (void)vsnprintf(what, sizeof what, format, arguments);
    (void)status_error(own->error, STATUS_INPUT, "%s:%zu: %s", own->path, own->line,
                       what);
}

void columns_tell(const struct columns *own, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    columns_tell_list(own, format, arguments);
    va_end(arguments);
}

void columns_spoil(struct columns *own, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    columns_tell_list(own, format, arguments);
    va_end(arguments);
    own->spoilt = true;
}

void columns_check_ec(struct columns *own, size_t column)
{
    const double value = own->value[column];
    if (value > columns_most_ec) {
        columns_spoil(own,
                      "%s: %g is no EC in mS/cm. Is it uS/cm? Then write %.4g. Is it "
                      "ppm? Then write %.4g (a pen of scale 500) or %.4g (of scale 700)",
                      own->kinds[column].name, value, value / 1000, value / 500,
                      value / 700);
    }
}

double columns_amount(const struct columns *own, size_t column)
{
    return isnan(own->value[column]) ? 0 : own->value[column];
}

/* The column's number, or own->count. */
static size_t columns_find(const struct columns *own, const char *name)
{
    size_t column = 0;
    while (column < own->count && strcmp(name, own->kinds[column].name) != 0) {
        column++;
    }
    return column;
}

static void columns_refuse_heading(struct columns *own, const char *name)
{
    char list[320];
    struct text_line known = text_line_in(list, sizeof list);
    struct nearest nearest = nearest_to(name);
    char hint[NEAREST_HINT_SIZE];
    for (size_t i = 0; i < own->count; i++) {
        nearest_consider(&nearest, own->kinds[i].name);
        text_line_add(&known, "%s%s", i > 0 ? ", " : "", own->kinds[i].name);
    }
    nearest_hint(hint, &nearest);
    if (strpbrk(name, ";\t") != NULL) {
        (void)snprintf(hint, sizeof hint, "; write commas between the columns, not %s",
                       strchr(name, ';') != NULL ? "semicolons" : "tabs");
    }
    columns_tell(own, "column \"%.40s\" is not known%s%s Accepted are %s", name, hint,
                 hint[0] != '\0' && hint[strlen(hint) - 1] == '?' ? "" : ".", list);
    own->status = STATUS_INPUT;
}

static void columns_heading(struct place *place, const char *cell)
{
    struct columns *own = place->own;
    /* The mark some programs put in front of UTF-8. */
    const bool marked = place->cell == 0 && strncmp(cell, "\xef\xbb\xbf", 3) == 0;
    const char *name = marked ? cell + 3 : cell;
    const size_t column = columns_find(own, name);
    if (place->cell >= COLUMNS_CELLS_MAX) {
        columns_tell(own, "names more than %d columns", COLUMNS_CELLS_MAX);
        own->status = STATUS_INPUT;
        return;
    }
    place->column_of[place->cell] = (int)column;
    place->cells = place->cell + 1;
    if (column == own->count) {
        columns_refuse_heading(own, name);
    } else if (own->present[column]) {
        columns_tell(own, "column %s stands here twice; keep one", name);
        own->status = STATUS_INPUT;
    } else {
        own->present[column] = true;
    }
}

/* A fraction is a date that lost its year, or nothing that belongs in a table. */
static bool columns_is_number(double *value, const char *cell)
{
    return strchr(cell, '/') == NULL &&
           quantity_parse(value, cell, QUANTITY_NUMBER, NULL, NULL) == STATUS_OK;
}

static void columns_number(struct columns *own, size_t column, const char *cell)
{
    const struct columns_kind *kind = &own->kinds[column];
    double value = NAN;
    char pointed[COLUMNS_TEXT_SIZE];
    (void)snprintf(pointed, sizeof pointed, "%s", cell);
    char *comma = strchr(pointed, ',');
    if (comma != NULL) {
        *comma = '.';
    }
    if (columns_is_number(&value, cell)) {
        if (value < kind->least || value > kind->most) {
            columns_spoil(own, "%s: %g is out of range; accepted is %g to %g", kind->name,
                          value, kind->least, kind->most);
        }
        own->value[column] = value;
    } else if (comma != NULL && columns_is_number(&value, pointed)) {
        columns_spoil(own, "%s: \"%.40s\" is not a number; write it with a point, %.40s",
                      kind->name, cell, pointed);
    } else {
        columns_spoil(own, "%s: \"%.40s\" is not a number; %s", kind->name, cell,
                      kind->otherwise);
    }
}

static void columns_take(struct place *place, const char *cell)
{
    struct columns *own = place->own;
    if (place->cell >= place->cells) {
        place->surplus++;
        return;
    }
    const size_t column = (size_t)place->column_of[place->cell];
    switch (own->kinds[column].cells) {
    case COLUMNS_NUMBER:
        columns_number(own, column, cell);
        break;
    case COLUMNS_TEXT:
        text_copy(own->text, sizeof own->text, cell);
        break;
    case COLUMNS_UNREAD:
        break;
    }
}

static void columns_cell(void *bytes, size_t length, void *context)
{
    struct place *place = context;
    struct columns *own = place->own;
    char cell[COLUMNS_TEXT_SIZE];
    (void)snprintf(cell, sizeof cell, "%.*s",
                   (int)(length < sizeof cell - 1 ? length : sizeof cell - 1),
                   (const char *)bytes);
    place->blank = place->blank && length == 0;
    place->after_cr = false;
    for (size_t i = 0; i < length; i++) {
        place->line += ((const char *)bytes)[i] == '\n';
    }
    if (length > 0 && memchr(bytes, '\0', length) != NULL) {
        columns_tell(own, "holds a byte that no text does; save it as CSV in UTF-8");
        own->status = STATUS_INPUT;
    } else if (!place->headed) {
        columns_heading(place, cell);
    } else if (own->status == STATUS_OK && cell[0] != '\0') {
        columns_take(place, cell);
    }
    place->cell++;
}

/* Ready for the row that begins on this line. */
static void columns_begin(struct place *place)
{
    struct columns *own = place->own;
    own->line = place->line;
    own->text[0] = '\0';
    own->spoilt = false;
    for (size_t i = 0; i < COLUMNS_MAX; i++) {
        own->value[i] = NAN;
    }
    place->cell = place->surplus = 0;
    place->blank = true;
}

static void columns_row(struct place *place)
{
    struct columns *own = place->own;
    if (place->surplus > 0) {
        columns_spoil(own,
                      "has %zu cells where the first line has %zu; is a number written "
                      "with a decimal comma? Write 1.5, not 1,5",
                      place->cell, place->cells);
    }
    own->curt = place->cell < place->cells;
    own->row(own);
}

static void columns_end_row(int terminator, void *context)
{
    struct place *place = context;
    struct columns *own = place->own;
    if (terminator == '\n' && place->after_cr) {
        place->after_cr = false;
        return;
    }
    place->after_cr = terminator == '\r';
    if (!place->blank && !place->headed) {
        place->headed = true;
        if (own->status == STATUS_OK) {
            own->headed(own);
        }
    } else if (!place->blank && own->status == STATUS_OK) {
        columns_row(place);
    }
    place->line++;
    columns_begin(place);
}

static void columns_parse(struct place *place, FILE *file)
{
    struct columns *own = place->own;
    struct csv_parser parser;
    char piece[4096];
    size_t length;
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_REPALL_NL) != 0) {
        own->status = status_error(own->error, STATUS_MEMORY, "no memory");
        return;
    }
    while (own->status == STATUS_OK &&
           (length = fread(piece, 1, sizeof piece, file)) > 0) {
        if (csv_parse(&parser, piece, length, columns_cell, columns_end_row, place) !=
            length) {
            columns_tell(own, "is not CSV: a quote stands astray");
            own->status = STATUS_INPUT;
        }
    }
    if (own->status == STATUS_OK &&
        csv_fini(&parser, columns_cell, columns_end_row, place) != 0) {
        columns_tell(own, "the file ends inside a quoted cell");
        own->status = STATUS_INPUT;
    }
    csv_free(&parser);
}

enum status columns_read(struct columns *own)
{
    const char *why;
    FILE *file = file_open_plain(own->path, &why);
    own->line = 1;
    if (file == NULL) {
        return status_error(own->error, STATUS_INPUT, "%s:1: cannot be read: %s",
                            own->path, why);
    }
    struct place place = {.own = own, .line = 1};
    columns_begin(&place);
    columns_parse(&place, file);
    if (ferror(file) != 0) {
        own->status =
            status_error(own->error, STATUS_INPUT, "%s:1: cannot be read", own->path);
    }
    (void)fclose(file);
    return own->status;
}
