/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "wording.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "pailcast/chem/ion.h"
#include "random_liquid.h"
#include "scratch.h"

/* Units as docs/scenario.md defines them. */
static const double litres_a_gallon = 3.785411784;
static const double cm_an_inch = 2.54;
static const double hours_a_day = 24;
static const double mg_caco3_a_meq = 50.043;
static const double grams_an_ounce = 28.349523125;
static const double lux_an_umol = 68;

void wording_add(struct wording_sheet *sheet, const char *format, ...)
{
    struct scratch_text text;
    va_list values;
    if (sheet->count == WORDING_KEYS_MAX) {
        abort();
    }
    scratch_open(&text);
    va_start(values, format);
    (void)vfprintf(text.out, format, values);
    va_end(values);
    sheet->items[sheet->count++] = scratch_close(&text);
}

void wording_put(struct wording_sheet *sheet, const struct wording *wording,
                 const char *key, enum wording_unit unit, double value)
{
    static const struct {
        const char *metric;
        const char *customary;
        double factor, zero;
    } units[WORDING_UNITS] = {
        [WORDING_L] = {"L", "gal", 1 / litres_a_gallon, 0},
        [WORDING_CM] = {"cm", "inch", 1 / cm_an_inch, 0},
        [WORDING_L_D] = {"L/d", "gal/d", 1 / litres_a_gallon, 0},
        [WORDING_D] = {"d", "h", hours_a_day, 0},
        [WORDING_DEGC] = {"degC", "degF", 1.8, 32},
        [WORDING_MS_CM] = {"mS/cm", "ppm500", 500, 0},
        [WORDING_MEQ_L] = {"meq/L", "mg/L", mg_caco3_a_meq, 0},
        [WORDING_G_L] = {"g/L", "g/gal", litres_a_gallon, 0},
        [WORDING_G] = {"g", "oz", 1 / grams_an_ounce, 0},
        [WORDING_SHARE] = {"", "%", 100, 0},
    };
    if (unit == WORDING_SHARE && !wording->customary) {
        wording_add(sheet, "%s = %.17g", key, value);
    } else if (wording->customary) {
        wording_add(sheet, "%s = \"%.17g %s\"", key,
                    value * units[unit].factor + units[unit].zero, units[unit].customary);
    } else {
        wording_add(sheet, "%s = \"%.17g %s\"", key, value, units[unit].metric);
    }
}

/* 2028-02-25 00:00 UTC in seconds; lives from there pass a leap day. */
static const time_t wording_epoch_s = 1835049600;

/* "2028-02-25 00:00" so many minutes later. */
static void wording_date(char to[32], double minutes)
{
    struct tm date;
    const time_t moment_s = wording_epoch_s + (time_t)(60 * minutes);
    if (gmtime_r(&moment_s, &date) == NULL ||
        strftime(to, 32, "%Y-%m-%d %H:%M", &date) == 0) {
        abort();
    }
}

void wording_put_day(struct wording_sheet *sheet, const struct wording *wording,
                     const char *key, double day_d)
{
    const double minutes = day_d * 24 * 60;
    char date[32];
    if (wording->customary && minutes == floor(minutes)) {
        wording_date(date, minutes);
        wording_add(sheet, "%s = \"%s\"", key, date);
    } else {
        wording_put(sheet, wording, key, WORDING_D, day_d);
    }
}

void wording_start(struct wording_sheet *top, const struct wording *wording)
{
    char date[32];
    if (wording->customary) {
        wording_date(date, 0);
        wording_add(top, "start = \"%.10s\"", date);
    }
}

void wording_put_ion(struct wording_sheet *sheet, const struct wording *wording, int ion,
                     double mmol_l)
{
    const struct ion_row *row = &ion_table[ion];
    wording_add(sheet, "%s = \"%.17g %s\"", row->key,
                wording->customary ? mmol_l * row->molar_mass : mmol_l,
                wording->customary ? "ppm" : "mmol/L");
}

void wording_put_light(struct wording_sheet *sheet, const struct wording *wording,
                       double umol_m2_s)
{
    if (wording->customary) {
        wording_add(sheet, "lux = \"%.17g lux\"", lux_an_umol * umol_m2_s);
    } else {
        wording_add(sheet, "ppfd = \"%.17g umol/m2/s\"", umol_m2_s);
    }
}

/* Fisher and Yates; the same mixture for sheets of one length, which is mixture enough.
 */
static void wording_mix(struct wording_sheet *sheet, uint64_t seed)
{
    for (size_t i = sheet->count; seed != 0 && i > 1; i--) {
        const size_t j = (size_t)random_between(&seed, 0, (double)i);
        char *const item = sheet->items[j];
        sheet->items[j] = sheet->items[i - 1];
        sheet->items[i - 1] = item;
    }
}

char *wording_join(struct wording_sheet *sheet, const struct wording *wording,
                   const char *open, const char *after, const char *close)
{
    struct scratch_text text;
    wording_mix(sheet, wording->shuffle);
    scratch_open(&text);
    (void)fputs(open, text.out);
    for (size_t i = 0; i < sheet->count; i++) {
        const bool include = strncmp(sheet->items[i], "@include", 8) == 0;
        (void)fprintf(text.out, include ? "\n%s\n" : "%s", sheet->items[i]);
        (void)fputs(include || (i + 1 == sheet->count && after[0] == ',') ? "" : after,
                    text.out);
        free(sheet->items[i]);
    }
    (void)fputs(close, text.out);
    sheet->count = 0;
    return scratch_close(&text);
}

void wording_group(struct wording_sheet *parent, struct wording_sheet *sheet,
                   const struct wording *wording, const char *key)
{
    char *const text = wording_join(sheet, wording, "{ ", "; ", "}");
    wording_add(parent, "%s = %s", key, text);
    free(text);
}

void wording_list(struct wording_sheet *parent, struct wording_sheet *sheet,
                  const char *key)
{
    const struct wording as_drawn = {0};
    char *const text = wording_join(sheet, &as_drawn, "(\n  ", ",\n  ", " )");
    wording_add(parent, "%s = %s", key, text);
    free(text);
}

void wording_part(struct wording_sheet *list, struct wording_sheet *sheet,
                  const struct wording *wording)
{
    char *const text = wording_join(sheet, wording, "{ ", "; ", "}");
    wording_add(list, "%s", text);
    free(text);
}
