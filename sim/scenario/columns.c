/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "columns.h"

#include <csv.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "headings.h"
#include "pailcast/base/file.h"
#include "pailcast/base/text.h"

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
    const struct columns_heading *heading = &own->heading[column];
    const double ms_cm = own->value[column];
    const double typed = ms_cm / heading->size;
    if (isnan(ms_cm) || ms_cm <= columns_most_ec) {
        return;
    }
    if (heading->size != 1) {
        columns_spoil(own,
                      "%s: %g is %.4g mS/cm, which no nutrient solution reads; does the "
                      "heading name the pen's unit?",
                      heading->name, typed, ms_cm);
        return;
    }
    char named[COLUMNS_TEXT_SIZE] = "";
    if (own->stems != NULL) {
        const char *stem = own->stems[column].text;
        (void)snprintf(named, sizeof named,
                       "; or name the column %s_uS_cm, %s_ppm500 or %s_ppm700", stem,
                       stem, stem);
    }
    columns_spoil(
        own,
        "%s: %g is no EC in mS/cm. Is it uS/cm? Then write %.4g. Is it ppm? Then "
        "write %.4g (a pen of scale 500) or %.4g (of scale 700)%s",
        heading->name, typed, typed / 1000, typed / 500, typed / 700, named);
}

double columns_amount(const struct columns *own, size_t column)
{
    return isnan(own->value[column]) ? 0 : own->value[column];
}

static void columns_heading(struct place *place, const char *cell)
{
    struct columns *own = place->own;
    /* The mark some programs put in front of UTF-8. */
    const bool marked = place->cell == 0 && strncmp(cell, "\xef\xbb\xbf", 3) == 0;
    if (place->cell >= COLUMNS_CELLS_MAX) {
        columns_tell(own, "names more than %d columns", COLUMNS_CELLS_MAX);
        own->status = STATUS_INPUT;
        return;
    }
    place->column_of[place->cell] = (int)headings_take(own, marked ? cell + 3 : cell);
    place->cells = place->cell + 1;
}

/* A jug or a ruler is read in fractions, as in scenarios; elsewhere one is a date that
 * lost its year, or nothing that belongs in a table. */
static bool columns_takes_fractions(const struct columns *own, size_t column)
{
    return own->stems != NULL && own->stems[column].text != NULL;
}

static bool columns_is_number(double *value, const char *cell, bool fractions)
{
    return (fractions || strchr(cell, '/') == NULL) &&
           quantity_parse(value, cell, QUANTITY_NUMBER, NULL, NULL) == STATUS_OK;
}

static void columns_refuse_size(struct columns *own, size_t column, double typed)
{
    const struct columns_kind *kind = &own->kinds[column];
    const struct columns_heading *heading = &own->heading[column];
    char most[32] = "or more";
    if (isfinite(kind->most)) {
        (void)snprintf(most, sizeof most, "to %g", kind->most / heading->size);
    }
    columns_spoil(own, "%s: %g is out of range; accepted is %g %s", heading->name, typed,
                  kind->least / heading->size, most);
}

static void columns_number(struct columns *own, size_t column, const char *cell)
{
    const struct columns_kind *kind = &own->kinds[column];
    const struct columns_heading *heading = &own->heading[column];
    double value = NAN;
    char pointed[COLUMNS_TEXT_SIZE];
    (void)snprintf(pointed, sizeof pointed, "%s", cell);
    char *comma = strchr(pointed, ',');
    if (comma != NULL) {
        *comma = '.';
    }
    const bool fractions = columns_takes_fractions(own, column);
    if (columns_is_number(&value, cell, fractions)) {
        own->value[column] = value * heading->size;
        if (own->value[column] < kind->least || own->value[column] > kind->most) {
            columns_refuse_size(own, column, value);
        }
    } else if (comma != NULL && columns_is_number(&value, pointed, fractions)) {
        columns_spoil(own, "%s: \"%.40s\" is not a number; write it with a point, %.40s",
                      heading->name, cell, pointed);
    } else {
        columns_spoil(own, "%s: \"%.40s\" is not a number; %s", heading->name, cell,
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
