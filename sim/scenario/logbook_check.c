/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A logbook against the bucket it is said to be of. */
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

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

/* A reading as it was typed: "level_cm: 12.3", "level_in: 4.84 (12.29 cm)". */
static void check_typed(char words[CHECK_WORDS], const struct logbook_heading *heading,
                        double value, const char *name, const char *unit)
{
    if (check_converted(heading)) {
        (void)snprintf(words, CHECK_WORDS, "%s: %g (%.4g %s)", heading->name,
                       value / heading->size, value, unit);
    } else {
        (void)snprintf(words, CHECK_WORDS, "%s: %g",
                       heading->name[0] != '\0' ? heading->name : name, value);
    }
}

/* The level or volume typed, and for a level its litres: "level_cm: 12.3 is 7.1 L". */
static void check_words(char words[CHECK_WORDS], const struct check *check,
                        const struct logbook_row *row, double read_l)
{
    if (isnan(row->volume_l)) {
        check_typed(words, &check->logbook->level, row->level_cm, "level_cm", "cm");
        const size_t used = strlen(words);
        (void)snprintf(words + used, CHECK_WORDS - used, " is %.4g L", read_l);
    } else {
        check_typed(words, &check->logbook->volume, row->volume_l, "volume_L", "L");
    }
}

static void check_size(struct check *check, const struct logbook_row *row)
{
    const struct shape *shape = &check->scenario->bucket;
    const double rim_l = shape_rim_l(shape);
    char words[CHECK_WORDS];
    if (row->level_cm > shape->height_cm) {
        check_typed(words, &check->logbook->level, row->level_cm, "level_cm", "cm");
        check->status = logbook_refuse(
            check->logbook, row, check->error,
            "%s is above the rim, %.4g cm; check bucket.height in the scenario, or is it "
            "%s?",
            words, shape->height_cm,
            check_converted(&check->logbook->level) ? "another unit" : "millimetres");
    } else if (row->volume_l > rim_l) {
        check_typed(words, &check->logbook->volume, row->volume_l, "volume_L", "L");
        check->status = logbook_refuse(
            check->logbook, row, check->error,
            "%s is more than the bucket holds to its rim, %.4g L; check the bucket in "
            "the scenario",
            words, rim_l);
    }
    if (row->water_l + row->stock_l > rim_l + row->drained_l) {
        check->status = logbook_refuse(
            check->logbook, row, check->error,
            "%.6g L were poured and %.6g drained, yet the bucket holds %.4g L "
            "to its rim; is it another unit, such as millilitres, or was a drain not "
            "noted?",
            row->water_l + row->stock_l, row->drained_l, rim_l);
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
                                       "%s, and %.4g L more were poured than drained, "
                                       "yet the bucket holds %.4g L to "
                                       "its rim",
                                       words, poured_l, rim_l);
    }
}

/* Water that came from nowhere was poured. */
static void check_gain(struct check *check, const struct logbook_row *row, double read_l)
{
    const double held_l = check->held_l;
    if (read_l > held_l + check_gain_l + check_gain_share * held_l) {
        char words[CHECK_WORDS];
        check_words(words, check, row, read_l);
        check->status = logbook_refuse(
            check->logbook, row, check->error,
            "%s, yet line %zu leaves only %.4g L; a pour without its volume? "
            "Write the litres poured there",
            words, check->held_line, held_l);
    }
}

static void check_start(struct check *check, const struct logbook_row *row, double read_l)
{
    const double start_l = check->scenario->start_l;
    if (row->day_d < check_start_d &&
        fabs(read_l - start_l) > check_gain_l + check_start_share * start_l) {
        char words[CHECK_WORDS];
        check_words(words, check, row, read_l);
        check->status = logbook_refuse(
            check->logbook, row, check->error,
            "%s, yet the scenario begins with %.4g L; check bucket.start, and "
            "the bucket's size and shape, in the scenario",
            words, start_l);
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
