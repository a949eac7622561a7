/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pour_wish.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "measured.h"
#include "pailcast/scenario/display.h"

/* What is asked. */
enum wish_question {
    WISH_VISIT = 1,
    WISH_PAST = 2, /* --before and --after */
    WISH_OUT = 4   /* --outage */
};

/* An option with a quantity: between what it must lie, in which questions it has a part,
 * and where it goes. */
struct wish_row {
    const char *name;
    enum quantity quantity;
    double low, high;
    unsigned questions;
    size_t place;
};

#define WISH(member) offsetof(struct pour_wish, member)

static const struct wish_row wish_rows[] = {
    {"volume", QUANTITY_VOLUME, 0, 1000, WISH_VISIT | WISH_OUT, WISH(volume_l)},
    {"full", QUANTITY_VOLUME, 0.1, 1000, WISH_VISIT | WISH_PAST, WISH(full_l)},
    {"level", QUANTITY_LENGTH, 0, 300, WISH_VISIT, WISH(level_cm)},
    {"full-level", QUANTITY_LENGTH, 1, 300, WISH_VISIT, WISH(full_level_cm)},
    {"ec", QUANTITY_EC, 0, 30, WISH_VISIT, WISH(ec_ms_cm)},
    {"ph", QUANTITY_PH, 3, 10, WISH_VISIT, WISH(ph)},
    {"aim", QUANTITY_EC, 0.01, 20, WISH_VISIT | WISH_PAST, WISH(aim_ms_cm)},
    {"water-ec", QUANTITY_EC, 0, 30, WISH_VISIT | WISH_PAST, WISH(water_ms_cm)},
    {"stock-ec", QUANTITY_EC, 0, 30, WISH_VISIT, WISH(stock_ms_cm)},
    {"before", QUANTITY_EC, 0.01, 30, WISH_PAST, WISH(before_ms_cm)},
    {"after", QUANTITY_EC, 0.01, 30, WISH_PAST, WISH(after_ms_cm)},
    {"pen-error", QUANTITY_EC, 0, 2, WISH_VISIT | WISH_PAST, WISH(pen_error_ms_cm)},
    {"day", QUANTITY_NUMBER, 0.001, 3653, WISH_VISIT | WISH_PAST | WISH_OUT,
     WISH(day.day_d)},
    {"temperature", QUANTITY_TEMPERATURE, 0, 40, WISH_OUT, WISH(temperature_c)},
    {"roots", QUANTITY_MASS, 0.01, 10000, WISH_OUT, WISH(root_mass_g)},
};

enum {
    WISH_ROWS = sizeof wish_rows / sizeof *wish_rows,
    WISH_STRATEGY = WISH_ROWS,
    WISH_OUTAGE,
    WISH_OPTION_SIZE = 24
};

const struct option pour_wish_options[] = {
    {"volume", required_argument, NULL, 0},   {"full", required_argument, NULL, 0},
    {"level", required_argument, NULL, 0},    {"full-level", required_argument, NULL, 0},
    {"ec", required_argument, NULL, 0},       {"ph", required_argument, NULL, 0},
    {"aim", required_argument, NULL, 0},      {"water-ec", required_argument, NULL, 0},
    {"stock-ec", required_argument, NULL, 0}, {"before", required_argument, NULL, 0},
    {"after", required_argument, NULL, 0},    {"pen-error", required_argument, NULL, 0},
    {"day", required_argument, NULL, 0},      {"temperature", required_argument, NULL, 0},
    {"roots", required_argument, NULL, 0},    {"strategy", required_argument, NULL, 0},
    {"outage", no_argument, NULL, 0},         {0}};

const char pour_wish_help[] =
    "At a visit, by pen only or by the ions of a scenario's water and stock:\n"
    "  --volume V       what the bucket holds now (\"12 L\", \"3.2 gal\"); or --level H\n"
    "  --full V         what it holds at the fill line (a scenario knows it)\n"
    "  --level H        height of the water (\"21 cm\"); by pen only with\n"
    "  --full-level H   height of the fill line\n"
    "  --ec EC          what the pen says now (\"2.4 mS/cm\", \"1200 ppm500\")\n"
    "  --ph PH          what the pH pen says now, with a SCENARIO\n"
    "  --aim EC         what it should say; else a scenario's strategy fills as it does\n"
    "                   at visits\n"
    "  --water-ec EC    of the water at hand; 0 if left out\n"
    "  --stock-ec EC    of the stock at hand; none if left out\n"
    "  --pen-error EC   how far the pen may be off, for a range with the answer\n"
    "  --strategy NAME  whose water and stock (the scenario's first)\n"
    "  --day N          the bucket's ions as that strategy has them on day N, or on a "
    "date\n"
    "                   (2026-05-29) where the scenario has a start\n"
    "\nHow full a bucket was that has been filled up with water:\n"
    "  --before EC      what the pen said before; with --water-ec, --full, --pen-error,\n"
    "                   and --aim, the fill that the salt is compared with\n"
    "  --after EC       and what it said after\n"
    "\nHow long the roots have when the air pump stops:\n"
    "  --outage         with --volume, or a SCENARIO and, unless its worst day is "
    "wanted,\n                   --day\n"
    "  --temperature T  of the water\n"
    "  --roots MASS     of dry roots\n"
    "\nAn EC without a unit is taken as mS/cm, a volume as litres.\n\n";

static void wish_put(struct pour_wish *wish, size_t place, double value)
{
    memcpy((char *)wish + place, &value, sizeof value);
}

struct pour_wish pour_wish_none(void)
{
    struct pour_wish wish = {.choose = {.one = true}};
    for (size_t i = 0; i < WISH_ROWS; i++) {
        wish_put(&wish, wish_rows[i].place, NAN);
    }
    return wish;
}

/* In which units the grower thinks, from what was typed. */
static void wish_note_units(struct pour_wish *wish, enum quantity quantity,
                            const char *text, bool bare)
{
    if (quantity == QUANTITY_VOLUME) {
        wish->typed_volume = true;
        wish->bare_volume = wish->bare_volume || bare;
        if (measured_in_gallons(text)) {
            wish->display.volume = DISPLAY_GALLON;
        }
    } else if (quantity == QUANTITY_LENGTH) {
        wish->typed_length = true;
        wish->display.length = measured_in_inches(text) ? DISPLAY_INCH : DISPLAY_CM;
    } else if (quantity == QUANTITY_EC && strstr(text, "ppm") != NULL) {
        wish->typed_ec = true;
        wish->display.ec =
            strstr(text, "ppm700") != NULL ? DISPLAY_PPM700 : DISPLAY_PPM500;
    } else if (quantity == QUANTITY_TEMPERATURE) {
        wish->typed_temperature = true;
        const bool fahrenheit =
            strpbrk(text, "Ff") != NULL; /* no "f" in degC, Celsius, K */
        wish->display.temperature = fahrenheit ? DISPLAY_FAHRENHEIT : DISPLAY_CELSIUS;
    }
}

/* With its unit; a bare number only where litres or mS/cm may be meant. */
static bool wish_parse(double *value, const char *option, const char *text,
                       enum quantity quantity, bool *bare)
{
    *bare = (quantity == QUANTITY_EC || quantity == QUANTITY_VOLUME) &&
            quantity_parse(value, text, QUANTITY_NUMBER, NULL, NULL) == STATUS_OK;
    return *bare || measured_parse(value, "pour", option, text, quantity, NULL);
}

/* A number of days, or a date. */
static bool wish_take_day(struct pour_wish *wish, const char *option, const char *text,
                          const struct wish_row *row)
{
    return when_take(&wish->day, "pour", option, text) &&
           (wish->day.date != NULL ||
            measured_within(wish->day.day_d, "pour", option, row->quantity, row->low,
                            row->high));
}

bool pour_wish_take(void *context, size_t index, const char *argument)
{
    struct pour_wish *wish = context;
    if (index == WISH_STRATEGY) {
        return choose_take(&wish->choose, argument, "pour");
    }
    if (index == WISH_OUTAGE) {
        wish->outage = true;
        return true;
    }
    const struct wish_row *row = &wish_rows[index];
    char option[WISH_OPTION_SIZE];
    double value = NAN;
    bool bare = false;
    (void)snprintf(option, sizeof option, "--%s", row->name);
    if (row->place == WISH(day.day_d)) {
        return wish_take_day(wish, option, argument, row);
    }
    if (!wish_parse(&value, option, argument, row->quantity, &bare) ||
        !measured_within(value, "pour", option, row->quantity, row->low, row->high)) {
        return false;
    }
    wish_put(wish, row->place, value);
    wish_note_units(wish, row->quantity, argument, bare);
    return true;
}

static enum status wish_needs(const char *name, const char *example, struct error *error)
{
    return status_error(error, STATUS_INPUT,
                        "pailcast pour: --%s is missing; give for example --%s \"%s\"",
                        name, name, example);
}

static enum status wish_check_past(const struct pour_wish *wish, struct error *error)
{
    if (isnan(wish->before_ms_cm)) {
        return wish_needs("before", "3.0 mS/cm", error);
    }
    if (isnan(wish->after_ms_cm)) {
        return wish_needs("after", "1.2 mS/cm", error);
    }
    if (wish->after_ms_cm >= wish->before_ms_cm) {
        return status_error(error, STATUS_INPUT,
                            "pailcast pour: --after: must be below --before, since water "
                            "only weakens; was it stock that was poured?");
    }
    if (wish->water_ms_cm >= wish->after_ms_cm) {
        return status_error(error, STATUS_INPUT,
                            "pailcast pour: --after: must be above the EC of the water");
    }
    return STATUS_OK;
}

static enum status wish_check_visit(const struct pour_wish *wish, bool has_scenario,
                                    struct error *error)
{
    enum status status = STATUS_OK;
    const bool lived = has_scenario && when_given(&wish->day);
    const bool levelled = !isnan(wish->level_cm);
    if (isnan(wish->volume_l) && !levelled && !lived) {
        status = wish_needs("volume", "12 L", error);
    }
    if (!isnan(wish->volume_l) && levelled) {
        status = status_error(error, STATUS_INPUT,
                              "pailcast pour: --volume and --level both say how full the "
                              "bucket is; keep one of the two");
    }
    if (levelled && !has_scenario && isnan(wish->full_level_cm)) {
        status = wish_needs("full-level", "31 cm", error);
    }
    if (levelled && wish->level_cm > wish->full_level_cm) {
        status =
            status_error(error, STATUS_INPUT,
                         "pailcast pour: --level: %s is above the fill line at %s",
                         display_length_fine(&wish->display, wish->level_cm).text,
                         display_length_fine(&wish->display, wish->full_level_cm).text);
    }
    if (isnan(wish->full_l) && !has_scenario) {
        status = wish_needs("full", "19 L", error);
    }
    if (isnan(wish->ec_ms_cm) && !lived && !(wish->volume_l == 0)) {
        status = wish_needs("ec", "2.4 mS/cm", error);
    }
    if (isnan(wish->aim_ms_cm) && !has_scenario) {
        status = wish_needs("aim", "1.9 mS/cm", error);
    }
    if (wish->stock_ms_cm <= (isnan(wish->water_ms_cm) ? 0 : wish->water_ms_cm)) {
        status = status_error(error, STATUS_INPUT,
                              "pailcast pour: --stock-ec: must be above the EC of the "
                              "water, or there is nothing to mix between; were they "
                              "exchanged?");
    }
    return status;
}

/* What was typed and has no part in what is asked. */
static enum status wish_check_question(const struct pour_wish *wish,
                                       enum wish_question asked, struct error *error)
{
    enum status status = STATUS_OK;
    for (size_t i = 0; i < WISH_ROWS; i++) {
        const struct wish_row *row = &wish_rows[i];
        double value;
        memcpy(&value, (const char *)wish + row->place, sizeof value);
        if (isnan(value) || (row->questions & asked) != 0) {
            continue;
        }
        status = status_error(
            error, STATUS_INPUT,
            asked == WISH_VISIT ? "pailcast pour: --%s goes with --outage only"
                                : "pailcast pour: --%s does not go with %s; ask one "
                                  "thing at a time",
            row->name, asked == WISH_OUT ? "--outage" : "--before and --after");
    }
    return status;
}

enum status pour_wish_check(const struct pour_wish *wish, bool has_scenario,
                            struct error *error)
{
    const bool past = !isnan(wish->before_ms_cm) || !isnan(wish->after_ms_cm);
    const enum wish_question asked = wish->outage ? WISH_OUT
                                     : past       ? WISH_PAST
                                                  : WISH_VISIT;
    enum status status = wish_check_question(wish, asked, error);
    if (!has_scenario && (wish->choose.count > 0 || when_given(&wish->day))) {
        status = status_error(error, STATUS_INPUT,
                              "pailcast pour: --strategy and --day need a SCENARIO");
    }
    if (!has_scenario && !isnan(wish->ph)) {
        status =
            status_error(error, STATUS_INPUT,
                         "pailcast pour: --ph needs a SCENARIO: what acid does hangs "
                         "on the alkalinity of its water");
    }
    if (status != STATUS_OK) {
        return status;
    }
    if (wish->outage) {
        return isnan(wish->volume_l) && !has_scenario
                   ? wish_needs("volume", "12 L", error)
                   : STATUS_OK;
    }
    return past ? wish_check_past(wish, error)
                : wish_check_visit(wish, has_scenario, error);
}
