/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/logbook.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>

#include "pailcast/base/grow.h"
#include "pailcast/base/hash.h"

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
        if (!isnan(row->adjust_g)) {
            char text[32];
            const int size = snprintf(text, sizeof text, "adjust %.17g,", row->adjust_g);
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
    fputs("day,ec_mS_cm,volume_L,level_cm,ph,water_poured_L,stock_poured_L,drained_L,"
          "note\n",
          out);
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
