/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"

void figure_ec(char to[FIGURE_CELL_SIZE], const struct scenario_display *display,
               double ec_ms_cm)
{
    (void)snprintf(to, FIGURE_CELL_SIZE, "%.*f", display_ec_digits(display),
                   display_ec(display, ec_ms_cm));
}

void figure_volume(char to[FIGURE_CELL_SIZE], const struct scenario_display *display,
                   double volume_l)
{
    (void)snprintf(to, FIGURE_CELL_SIZE, "%.1f", display_volume(display, volume_l));
}

/* "-" for never; blank where the scenario sets no such limit. */
static void figure_day(char to[FIGURE_CELL_SIZE], double day_d, bool limit_set)
{
    if (isfinite(day_d)) {
        (void)snprintf(to, FIGURE_CELL_SIZE, "%.1f", day_d);
    } else {
        (void)snprintf(to, FIGURE_CELL_SIZE, "%s", limit_set ? "-" : "");
    }
}

/* "NO3", "K", "Ca": the key in the spelling of chemistry, without charge. */
static void figure_ion(char to[FIGURE_CELL_SIZE], enum ion ion)
{
    const char *key = ion_table[ion].key;
    const bool element = strlen(key) == 2 && strpbrk(key, "0123456789") == NULL;
    size_t used = 0;
    for (; key[used] != '\0' && used + 1 < FIGURE_CELL_SIZE; used++) {
        to[used] =
            (char)(element && used > 0 ? key[used] : toupper((unsigned char)key[used]));
    }
    to[used] = '\0';
}

const struct sample *figure_last(const struct compare *compare, size_t row)
{
    static const struct sample none;
    const struct trajectory *path = &compare->rows[row].life.trajectory;
    return path->sample_count > 0 ? &path->samples[path->sample_count - 1] : &none;
}

static void figure_cell_ec(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                           size_t row)
{
    char low[FIGURE_CELL_SIZE];
    char high[FIGURE_CELL_SIZE];
    figure_ec(low, &compare->scenario->display, compare->rows[row].ec_min);
    figure_ec(high, &compare->scenario->display, compare->rows[row].ec_max);
    (void)snprintf(to, FIGURE_CELL_SIZE, "%.60s-%.60s", low, high);
}

static void figure_cell_ec_high(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                                size_t row)
{
    figure_day(to, compare->rows[row].life.first.ec_high,
               isfinite(compare->scenario->limits.ec_high_ms_cm));
}

static void figure_cell_ec_low(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                               size_t row)
{
    figure_day(to, compare->rows[row].life.first.ec_low,
               compare->scenario->limits.ec_low_ms_cm > 0);
}

static void figure_cell_sodium_high(char to[FIGURE_CELL_SIZE],
                                    const struct compare *compare, size_t row)
{
    figure_day(to, compare->rows[row].life.first.ion_high[ION_NA],
               isfinite(compare->scenario->limits.high_mmol_l[ION_NA]));
}

static void figure_cell_ran_out(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                                size_t row)
{
    const struct compare_row *told = &compare->rows[row];
    if (told->nutrient_low >= ION_COUNT) {
        (void)snprintf(to, FIGURE_CELL_SIZE, "-");
        return;
    }
    char ion[FIGURE_CELL_SIZE];
    figure_ion(ion, told->nutrient_low);
    (void)snprintf(to, FIGURE_CELL_SIZE, "%.16s %.1f", ion, told->nutrient_low_d);
}

static void figure_cell_sodium(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                               size_t row)
{
    (void)snprintf(to, FIGURE_CELL_SIZE, "%.1f", compare->rows[row].sodium_last_mmol_l);
}

static void figure_cell_poured(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                               size_t row)
{
    const struct sample *last = figure_last(compare, row);
    figure_volume(to, &compare->scenario->display,
                  last->water_poured_l + last->stock_poured_l);
}

static void figure_cell_salt(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                             size_t row)
{
    (void)snprintf(to, FIGURE_CELL_SIZE, "%.0f",
                   compare->rows[row].life.ledger.salt_poured_g);
}

static void figure_cell_dumped(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                               size_t row)
{
    figure_volume(to, &compare->scenario->display, figure_last(compare, row)->drained_l);
}

static void figure_cell_visits(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                               size_t row)
{
    const struct ledger *ledger = &compare->rows[row].life.ledger;
    (void)snprintf(to, FIGURE_CELL_SIZE, "%d/%d", ledger->visits, ledger->renewals);
}

static void figure_cell_growth(char to[FIGURE_CELL_SIZE], const struct compare *compare,
                               size_t row)
{
    const double index = compare->rows[row].growth_index;
    to[0] = '\0';
    if (isfinite(index)) {
        (void)snprintf(to, FIGURE_CELL_SIZE, "%.0f", 100 * index);
    }
}

const struct figure_column figure_columns[] = {
    {"EC", "range", "EC, lowest to highest", display_ec_unit, NULL, 10, figure_cell_ec},
    {"EC", "high", "EC first above its limit", NULL, "day", 5, figure_cell_ec_high},
    {"EC", "low", "EC first below its limit", NULL, "day", 5, figure_cell_ec_low},
    {"Na", "high", "Sodium first above its limit", NULL, "day", 5,
     figure_cell_sodium_high},
    {"ran", "out", "Nutrient that ran out first", NULL, "day", 9, figure_cell_ran_out},
    {"Na", "end", "Sodium at the end", NULL, "mmol/L", 6, figure_cell_sodium},
    {"water", "poured", "Water and stock poured", display_volume_unit, NULL, 6,
     figure_cell_poured},
    {"salt", "poured", "Salt poured", NULL, "g", 6, figure_cell_salt},
    {"", "dumped", "Solution dumped", display_volume_unit, NULL, 6, figure_cell_dumped},
    {"visits", "/renew", "Visits / renewals", NULL, "", 6, figure_cell_visits},
    {"", "growth", "Growth against the unstressed plant", NULL, "%", 6,
     figure_cell_growth},
};
const size_t figure_column_count = sizeof figure_columns / sizeof figure_columns[0];

const char *figure_unit(const struct figure_column *column,
                        const struct scenario_display *display)
{
    return column->unit != NULL ? column->unit(display) : column->fixed_unit;
}

void figure_limits(char to[FIGURE_LINE_SIZE], const struct scenario *scenario)
{
    const struct scenario_limits *limits = &scenario->limits;
    const char *unit = display_ec_unit(&scenario->display);
    const char *link = "Limits: ";
    char ec[FIGURE_CELL_SIZE];
    struct text_line line = text_line_in(to, FIGURE_LINE_SIZE);
    if (limits->ec_low_ms_cm > 0) {
        figure_ec(ec, &scenario->display, limits->ec_low_ms_cm);
        text_line_add(&line, "%sEC at least %s %s", link, ec, unit);
        link = "; ";
    }
    if (isfinite(limits->ec_high_ms_cm)) {
        figure_ec(ec, &scenario->display, limits->ec_high_ms_cm);
        text_line_add(&line, "%sEC at most %s %s", link, ec, unit);
        link = "; ";
    }
    if (limits->ph_low > 0) {
        text_line_add(&line, "%spH at least %g", link, limits->ph_low);
        link = "; ";
    }
    if (isfinite(limits->ph_high)) {
        text_line_add(&line, "%spH at most %g", link, limits->ph_high);
        link = "; ";
    }
    for (size_t i = 0; i < ION_COUNT; i++) {
        if (isfinite(limits->high_mmol_l[i])) {
            text_line_add(&line, "%s%s at most %.3g mmol/L", link, ion_table[i].name,
                          limits->high_mmol_l[i]);
            link = "; ";
        }
    }
    text_line_add(&line, "%s", line.used > 0 ? "." : "");
}

void figure_days(char to[FIGURE_LINE_SIZE], const struct scenario *scenario)
{
    const struct date first = display_date_of(scenario, 0);
    (void)snprintf(
        to, FIGURE_LINE_SIZE,
        "Days are counted from the first fill%s%s%s%s; - never; blank: no limit "
        "set.",
        first.iso[0] != '\0' ? ", on " : "", first.weekday,
        first.iso[0] != '\0' ? " " : "", first.iso);
}
