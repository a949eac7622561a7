/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A logbook from its file: the columns it may have, and what each entry must hold. */
#include <math.h>
#include <stdbool.h>
#include <stdio.h>

#include "columns.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/date.h"
#include "pailcast/scenario/logbook.h"

enum logbook_column {
    LOGBOOK_DAY,
    LOGBOOK_EC,
    LOGBOOK_VOLUME,
    LOGBOOK_LEVEL,
    LOGBOOK_PH,
    LOGBOOK_WATER,
    LOGBOOK_STOCK,
    LOGBOOK_DRAINED,
    LOGBOOK_ADJUST,
    LOGBOOK_NOTE,
    LOGBOOK_DATE,
    LOGBOOK_COLUMNS
};

static const char logbook_unread[] = "leave the cell blank where nothing was read";
static const char logbook_unpoured[] =
    "a pour or drain needs its volume, leave the cell blank if there was none";

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
    {"adjust_g", COLUMNS_NUMBER, 0, 10000,
     "acid or base needs its grams, as pure, leave the cell blank if there was none"},
    {"note", COLUMNS_UNREAD, 0, 0, ""},
    {"date", COLUMNS_TEXT, 0, 0, ""}};

static const struct columns_stem logbook_stems[LOGBOOK_COLUMNS] = {
    [LOGBOOK_EC] = {"ec", QUANTITY_EC},
    [LOGBOOK_VOLUME] = {"volume", QUANTITY_VOLUME},
    [LOGBOOK_LEVEL] = {"level", QUANTITY_LENGTH},
    [LOGBOOK_WATER] = {"water_poured", QUANTITY_VOLUME},
    [LOGBOOK_STOCK] = {"stock_poured", QUANTITY_VOLUME},
    [LOGBOOK_DRAINED] = {"drained", QUANTITY_VOLUME},
    [LOGBOOK_ADJUST] = {"adjust", QUANTITY_MASS},
};

/* What is read, and whether a line of it was refused. */
struct logbook_reading {
    struct logbook *logbook;
    const char *start; /* date of day 0; "" */
    char before[32];   /* the day of the last row, as it was typed: "day 3.5" */
    bool refused;
};

static struct logbook_heading logbook_heading(const struct columns *own, size_t column)
{
    struct logbook_heading heading = {.size = own->heading[column].size};
    text_copy(heading.name, sizeof heading.name, own->heading[column].name);
    return heading;
}

static void logbook_headed(struct columns *own)
{
    struct logbook_reading *reading = own->context;
    const bool dated = own->present[LOGBOOK_DATE];
    if (dated && own->present[LOGBOOK_DAY]) {
        columns_tell(own, "has both day and date; keep one");
        own->status = STATUS_INPUT;
    } else if (dated && reading->start[0] == '\0') {
        columns_tell(own, "has dates, but the scenario has no start to count them from; "
                          "give it the date of the first filling, such as start = "
                          "\"2026-09-01\"");
        own->status = STATUS_INPUT;
    } else if (!dated && !own->present[LOGBOOK_DAY]) {
        columns_tell(own, "has no column named day or date; the first line names the "
                          "columns");
        own->status = STATUS_INPUT;
    }
    reading->logbook->volume = logbook_heading(own, LOGBOOK_VOLUME);
    reading->logbook->level = logbook_heading(own, LOGBOOK_LEVEL);
}

/* The date typed becomes the day; false where it cannot, which is told. */
static bool logbook_count_day(struct columns *own, const char *start)
{
    const double most_d = own->kinds[LOGBOOK_DAY].most;
    double day_d;
    if (!date_days(&day_d, start, own->text)) {
        columns_spoil(own,
                      "date: \"%.40s\" is no date; write year-month-day and perhaps the "
                      "time, such as 2026-09-14 or 2026-09-14 18:30",
                      own->text);
    } else if (day_d < 0) {
        columns_spoil(own, "date: %s is before the scenario's start, %s", own->text,
                      start);
    } else if (day_d > most_d) {
        columns_spoil(own, "date: %s is more than %g days after the scenario's start, %s",
                      own->text, most_d, start);
    } else {
        own->value[LOGBOOK_DAY] = day_d;
    }
    return !isnan(own->value[LOGBOOK_DAY]);
}

/* The row's day as it was typed: "day 3.5", "2026-09-14 18:30". */
static void logbook_day_words(char words[32], const struct columns *own)
{
    if (own->present[LOGBOOK_DATE]) {
        text_copy(words, 32, own->text);
    } else {
        (void)snprintf(words, 32, "day %g", own->value[LOGBOOK_DAY]);
    }
}

static void logbook_check_order(struct columns *own,
                                const struct logbook_reading *reading)
{
    const struct logbook *logbook = reading->logbook;
    const struct logbook_row *before = &logbook->rows[logbook->count - 1];
    const double day_d = own->value[LOGBOOK_DAY];
    char words[32];
    logbook_day_words(words, own);
    if (day_d < before->day_d) {
        columns_spoil(own, "%s comes after %s of line %zu; entries stand in order of day",
                      words, reading->before, before->line);
    } else if (day_d == before->day_d && own->present[LOGBOOK_DATE]) {
        columns_spoil(own,
                      "%s stands on line %zu already; make one entry of the two, or add "
                      "the time of each, such as 18:30",
                      words, before->line);
    } else if (day_d == before->day_d) {
        columns_spoil(own,
                      "%s stands on line %zu already; make one entry of the two, or "
                      "add the hour as a fraction (%g)",
                      words, before->line, day_d + 0.5);
    }
}

static void logbook_check_day(struct columns *own, const struct logbook_reading *reading)
{
    const bool dated = own->present[LOGBOOK_DATE];
    if (dated && own->text[0] != '\0' && !logbook_count_day(own, reading->start)) {
        return;
    }
    if (isnan(own->value[LOGBOOK_DAY])) {
        columns_spoil(own, "%s: is blank; every entry needs its %s",
                      dated ? "date" : "day",
                      dated ? "date" : "day, counted from the first filling");
    } else if (reading->logbook->count > 0) {
        logbook_check_order(own, reading);
    }
}

static void logbook_row(struct columns *own)
{
    struct logbook_reading *reading = own->context;
    if (!own->spoilt) {
        columns_check_ec(own, LOGBOOK_EC);
        logbook_check_day(own, reading);
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
                                    .adjust_g = own->present[LOGBOOK_ADJUST]
                                                    ? columns_amount(own, LOGBOOK_ADJUST)
                                                    : NAN,
                                    .line = own->line};
    logbook_day_words(reading->before, own);
    own->status = logbook_add(reading->logbook, &row, own->error);
}

enum status logbook_read(struct logbook *logbook, const char *path, const char *start,
                         struct error *error)
{
    *logbook = (struct logbook){.path = path};
    struct logbook_reading reading = {.logbook = logbook, .start = start};
    struct columns columns = {.path = path,
                              .kinds = logbook_kinds,
                              .count = LOGBOOK_COLUMNS,
                              .stems = logbook_stems,
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
