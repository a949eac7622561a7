/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scenario text put in one wording or another: units, and the order of keys. */
#ifndef TESTS_SUPPORT_WORDING_H
#define TESTS_SUPPORT_WORDING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* How a scenario is put into words; none of it changes what is said. */
struct wording {
    bool customary; /* gallons, inches, degF, ppm, lux, hours, dates */
    uint64_t
        shuffle; /* 0: keys and strategies in the order they were drawn; else mixed */
};

enum {
    WORDING_KEYS_MAX = 40
};

/* The keys of one group, or the parts of a list. Zero-initialise; its strings are given
 * away by wording_join. */
struct wording_sheet {
    size_t count;
    char *items[WORDING_KEYS_MAX];
};

/* Adds one `key = value`, formatted. */
void wording_add(struct wording_sheet *sheet, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Quantities in internal units, written with 17 digits in the units of the wording. */
enum wording_unit {
    WORDING_L,
    WORDING_CM,
    WORDING_L_D,
    WORDING_D,
    WORDING_DEGC,
    WORDING_MS_CM,
    WORDING_MEQ_L, /* of alkalinity */
    WORDING_G_L,
    WORDING_G,
    WORDING_SHARE,
    WORDING_UNITS
};
void wording_put(struct wording_sheet *sheet, const struct wording *wording,
                 const char *key, enum wording_unit unit, double value);

/* A day of the life: in customary words its date and time where that is a whole number of
 * minutes. Such scenarios have the start that wording_start puts. */
void wording_put_day(struct wording_sheet *sheet, const struct wording *wording,
                     const char *key, double day_d);
void wording_start(struct wording_sheet *top, const struct wording *wording);

/* An ion of the table by its key, mmol/L or mg/L. */
void wording_put_ion(struct wording_sheet *sheet, const struct wording *wording, int ion,
                     double mmol_l);

/* Light, umol/m2/s or lux of a white LED. */
void wording_put_light(struct wording_sheet *sheet, const struct wording *wording,
                       double umol_m2_s);

/* All items, mixed if the wording says so, each followed by `after`, between open and
 * close; the text is to be freed and the sheet is empty again. Items that begin with
 * @include stand on lines of their own. */
char *wording_join(struct wording_sheet *sheet, const struct wording *wording,
                   const char *open, const char *after, const char *close);

/* As a group and as a value of key in parent; takes the sheet's items. */
void wording_group(struct wording_sheet *parent, struct wording_sheet *sheet,
                   const struct wording *wording, const char *key);

/* As a list in the order of drawing, whatever the wording. */
void wording_list(struct wording_sheet *parent, struct wording_sheet *sheet,
                  const char *key);

/* The group as a further part of a list. */
void wording_part(struct wording_sheet *list, struct wording_sheet *sheet,
                  const struct wording *wording);

#endif
