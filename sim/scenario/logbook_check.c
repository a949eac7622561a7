/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A logbook against the bucket it is said to be of. */
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "pailcast/scenario/display.h"
#include "pailcast/scenario/logbook.h"
#include "pailcast/scenario/scenario.h"

/* A bucket that gained more than this since the last entry was filled: litres, and a
 * share of what it held (chosen, five times a level read to 2 mm in a common pail). */
static const double check_gain_l = 0.5;
static const double check_gain_share = 0.03;

/* A first level further than this share, and those litres, from the scenario's filling is
 * that of another bucket (chosen). */
static const double check_start_share = 0.1;

/* A level counts as the first filling's until then, d (chosen). */
static const double check_start_d = 0.25;

/* A walk through the entries. */
struct check {
    const struct logbook *logbook;
    const struct scenario *scenario;
    struct error *error;
    enum status status;
    double held_l;    /* after the entry before at most: evaporation only takes; NAN */
    size_t held_line; /* of the reading it rests on */
};

/* Litres read, by volume or level; NAN when neither was. */
static double check_read_l(const struct check *check, const struct logbook_row *row)
{
    return isnan(row->volume_l) && !isnan(row->level_cm)
               ? shape_volume_l(&check->scenario->bucket,
                                fmin(row->level_cm, check->scenario->bucket.height_cm))
               : row->volume_l;
}

enum {
    CHECK_WORDS = 128
};

static bool check_converted(const struct logbook_heading *heading)
{
    return heading->name[0] != '\0' && heading->size != 1;
}

/* A level (or else a volume) as it was typed, and as it is shown where that is another
 * unit: "level_cm: 12.3", "level_in: 4.84 (12.29 cm)". */
static void check_typed(char words[CHECK_WORDS], const struct check *check, double value,
                        bool level)
{
    static const double rounding = 1e-9; /* of an inch that UDUNITS made */
    const struct scenario_display *display = &check->scenario->display;
    const struct logbook_heading *heading =
        level ? &check->logbook->level : &check->logbook->volume;
    const double size = check_converted(heading) ? heading->size : 1;
    const double shown =
        level ? display_length(display, size) : display_volume(display, size);
    const char *name = level ? "level_cm" : "volume_L";
    struct text_line line = text_line_in(words, CHECK_WORDS);
    text_line_add(&line, "%s: %g", heading->name[0] != '\0' ? heading->name : name,
                  value / size);
    if (fabs(shown - 1) > rounding) {
        text_line_add(&line, " (%s)",
                      level ? display_length_fine(display, value).text
                            : display_volume_fine(display, value).text);
    }
}

static struct display_text check_litres(const struct check *check, double litres)
{
    return display_volume_fine(&check->scenario->display, litres);
}

/* The level or volume typed, and for a level its litres: "level_cm: 12.3 is 7.1 L". */
static void check_words(char words[CHECK_WORDS], const struct check *check,
                        const struct logbook_row *row, double read_l)
{
    if (isnan(row->volume_l)) {
        check_typed(words, check, row->level_cm, true);
        const size_t used = strlen(words);
        (void)snprintf(words + used, CHECK_WORDS - used, " is %s",
                       check_litres(check, read_l).text);
    } else {
        check_typed(words, check, row->volume_l, false);
    }
}

static void check_size(struct check *check, const struct logbook_row *row)
{
    const struct shape *shape = &check->scenario->bucket;
    const double rim_l = shape_rim_l(shape);
    char words[CHECK_WORDS];
    if (row->level_cm > shape->height_cm) {
        check_typed(words, check, row->level_cm, true);
        check->status = logbook_refuse(
            check->logbook, row, check->error,
            "%s is above the rim, %s; check bucket.height in the scenario, or is it "
            "%s?",
            words, display_length_fine(&check->scenario->display, shape->height_cm).text,
            check_converted(&check->logbook->level) ? "another unit" : "millimetres");
    } else if (row->volume_l > rim_l) {
        check_typed(words, check, row->volume_l, false);
        check->status = logbook_refuse(
            check->logbook, row, check->error,
            "%s is more than the bucket holds to its rim, %s; check the bucket in "
            "the scenario",
            words, check_litres(check, rim_l).text);
    }
    if (row->water_l + row->stock_l > rim_l + row->drained_l) {
        check->status = logbook_refuse(
            check->logbook, row, check->error,
            "%s were poured and %s drained, yet the bucket holds %s to its rim; is it "
            "another unit, such as millilitres, or was a drain not noted?",
            check_litres(check, row->water_l + row->stock_l).text,
            check_litres(check, row->drained_l).text, check_litres(check, rim_l).text);
    }
}

/* What was there and what was poured fit under the rim, as far as a level can tell. */
static void check_rim(struct check *check, const struct logbook_row *row, double read_l)
{
    const double rim_l = shape_rim_l(&check->scenario->bucket);
    const double poured_l = row->water_l + row->stock_l - row->drained_l;
    if (read_l + poured_l > rim_l + check_gain_l + check_gain_share * rim_l) {
        char words[CHECK_WORDS];
        check_words(words, check, row, read_l);
        check->status = logbook_refuse(check->logbook, row, check->error,
                                       "%s, and %s more were poured than drained, yet "
                                       "the bucket holds %s to its rim",
                                       words, check_litres(check, poured_l).text,
                                       check_litres(check, rim_l).text);
    }
}

/* Water that came from nowhere was poured. */
static void check_gain(struct check *check, const struct logbook_row *row, double read_l)
{
    const double held_l = check->held_l;
    if (read_l > held_l + check_gain_l + check_gain_share * held_l) {
        char words[CHECK_WORDS];
        check_words(words, check, row, read_l);
        check->status =
            logbook_refuse(check->logbook, row, check->error,
                           "%s, yet line %zu leaves only %s; write the pour that is "
                           "missing, or leave the wrong reading of the two blank",
                           words, check->held_line, check_litres(check, held_l).text);
    }
}

static void check_start(struct check *check, const struct logbook_row *row, double read_l)
{
    const double start_l = check->scenario->start_l;
    if (row->day_d < check_start_d &&
        fabs(read_l - start_l) > check_gain_l + check_start_share * start_l) {
        char words[CHECK_WORDS];
        check_words(words, check, row, read_l);
        check->status =
            logbook_refuse(check->logbook, row, check->error,
                           "%s, yet the scenario begins with %s; check bucket.start, and "
                           "the bucket's size and shape, in the scenario",
                           words, check_litres(check, start_l).text);
    }
}

enum status logbook_check(const struct logbook *logbook, const struct scenario *scenario,
                          struct error *error)
{
    struct check check = {logbook, scenario, error, STATUS_OK, NAN, 0};
    for (size_t i = 0; i < logbook->count; i++) {
        const struct logbook_row *row = &logbook->rows[i];
        const double read_l = check_read_l(&check, row);
        check_size(&check, row);
        if (!isnan(read_l) && i == 0) {
            check_start(&check, row, read_l);
        } else if (!isnan(read_l)) {
            check_gain(&check, row, read_l);
        }
        if (!isnan(read_l)) {
            check_rim(&check, row, read_l);
            check.held_l = read_l;
            check.held_line = row->line;
        }
        check.held_l += row->water_l + row->stock_l - row->drained_l;
    }
    return check.status;
}
