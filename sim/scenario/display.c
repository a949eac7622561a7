/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/display.h"

#include <math.h>
#include <stdio.h>

#include "pailcast/base/moment.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/date.h"

/* US gallon: 231 cubic inches. */
static const double display_l_per_gal = 3.785411784;

static const double display_cm_per_inch = 2.54;

/* Factors of the two kinds of TDS pens (common practice). */
static const double display_ppm500 = 500, display_ppm700 = 700;

double display_volume(const struct scenario_display *display, double litres)
{
    return display->volume == DISPLAY_GALLON ? litres / display_l_per_gal : litres;
}

const char *display_volume_unit(const struct scenario_display *display)
{
    return display->volume == DISPLAY_GALLON ? "gal" : "L";
}

double display_length(const struct scenario_display *display, double cm)
{
    return display->length == DISPLAY_INCH ? cm / display_cm_per_inch : cm;
}

const char *display_length_unit(const struct scenario_display *display)
{
    return display->length == DISPLAY_INCH ? "inch" : "cm";
}

double display_ec(const struct scenario_display *display, double ms_cm)
{
    switch (display->ec) {
    case DISPLAY_PPM500:
        return ms_cm * display_ppm500;
    case DISPLAY_PPM700:
        return ms_cm * display_ppm700;
    default:
        return ms_cm;
    }
}

const char *display_ec_unit(const struct scenario_display *display)
{
    static const char *const units[] = {[DISPLAY_MS_CM] = "mS/cm",
                                        [DISPLAY_PPM500] = "ppm500",
                                        [DISPLAY_PPM700] = "ppm700"};
    return units[display->ec];
}

int display_ec_digits(const struct scenario_display *display)
{
    return display->ec == DISPLAY_MS_CM ? 2 : 0;
}

double display_temperature(const struct scenario_display *display, double celsius)
{
    return display->temperature == DISPLAY_FAHRENHEIT ? 1.8 * celsius + 32 : celsius;
}

const char *display_temperature_unit(const struct scenario_display *display)
{
    return display->temperature == DISPLAY_FAHRENHEIT ? "degF" : "degC";
}

struct display_text display_ec_text(const struct scenario_display *display, double ms_cm)
{
    struct display_text shown;
    (void)snprintf(shown.text, sizeof shown.text, "%.*f %s", display_ec_digits(display),
                   display_ec(display, ms_cm), display_ec_unit(display));
    return shown;
}

struct display_text display_volume_text(const struct scenario_display *display,
                                        double litres)
{
    static const double least = 5e-4; /* far below it two digits need an exponent */
    struct display_text shown;
    const double volume = display_volume(display, litres);
    const bool small = volume >= least && volume < 0.1;
    (void)snprintf(shown.text, sizeof shown.text, small ? "%.*g %s" : "%.*f %s",
                   volume < 1 ? 2 : 1, volume, display_volume_unit(display));
    return shown;
}

/* Four digits, and none left out of a larger number. */
static struct display_text display_fine(double value, const char *unit)
{
    struct display_text shown;
    (void)snprintf(shown.text, sizeof shown.text, value < 1000 ? "%.4g %s" : "%.0f %s",
                   value, unit);
    return shown;
}

struct display_text display_volume_fine(const struct scenario_display *display,
                                        double litres)
{
    return display_fine(display_volume(display, litres), display_volume_unit(display));
}

struct display_text display_length_fine(const struct scenario_display *display, double cm)
{
    return display_fine(display_length(display, cm), display_length_unit(display));
}

void display_range(char to[QUANTITY_RANGE_SIZE], double low, double high,
                   enum quantity quantity, const struct scenario_display *display)
{
    const bool length = quantity == QUANTITY_LENGTH && display->length != DISPLAY_CM;
    const bool volume = quantity == QUANTITY_VOLUME && display->volume != DISPLAY_LITRE;
    char range[QUANTITY_RANGE_SIZE];
    quantity_range(range, low, high, quantity);
    struct text_line line = text_line_in(to, QUANTITY_RANGE_SIZE);
    if (length || volume) {
        struct display_text (*const shown)(const struct scenario_display *, double) =
            length ? display_length_fine : display_volume_fine;
        text_line_add(&line, "%s to %s (%s)", shown(display, low).text,
                      shown(display, high).text, range);
    } else {
        text_line_add(&line, "%s", range);
    }
}

struct date display_date_of(const struct scenario *scenario, double day_d)
{
    const bool dated = scenario->start[0] != '\0' && isfinite(day_d);
    return dated ? date_after(scenario->start, (long)floor(day_d + moment_slack_d))
                 : (struct date){"", ""};
}

struct display_text display_date_text(const struct scenario *scenario, double day_d)
{
    struct display_text shown = {""};
    const struct date date = display_date_of(scenario, day_d);
    if (date.iso[0] != '\0') {
        (void)snprintf(shown.text, sizeof shown.text, " (%s %s)", date.weekday, date.iso);
    }
    return shown;
}

struct display_text display_day_text(const struct scenario *scenario, double day_d,
                                     int digits)
{
    struct display_text shown;
    const struct display_text date = display_date_text(scenario, day_d);
    /* Beside its date a day is not rounded up into the next. */
    day_d = fabs(day_d) < moment_slack_d ? 0 : day_d;
    const double last = floor(day_d + moment_slack_d) + 1 - pow(10, -digits);
    (void)snprintf(shown.text, sizeof shown.text, "%.*f%.22s", digits,
                   date.text[0] != '\0' ? fmin(day_d, last) : day_d, date.text);
    return shown;
}
