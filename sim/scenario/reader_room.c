/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reader_parts.h"

/* What a lux meter shows for 1 umol/m2/s, and photons for each joule of heat the leaf
 * takes up (an HPS lamp sends about as much infrared as light). Lux: manufacturer's table
 * after Thimijan & Heins 1983; white LED from memory; red-blue computed from the CIE
 * curve at 450 and 660 nm. The sources stand in docs/sources.md. */
struct room_lamp {
    const char *name;
    double lux_per_umol;
    double umol_per_j;
};

enum {
    ROOM_LAMPS = 8
};

static const struct room_lamp room_lamps[ROOM_LAMPS] = {
    {"white led", 68, 5.0},    {"red-blue led", 10, 5.0},
    {"hps", 82, 2.5},          {"double-ended hps", 77, 2.5},
    {"metal halide", 71, 2.5}, {"ceramic metal halide", 65, 2.5},
    {"fluorescent", 74, 4.6},  {"sun", 54, 2.3},
};

/* Leaf boundary layer with moving air, s/m (chosen between 60 and 70). */
static const double room_fan_s_m = 65;

static const double hours_per_day = 24;

static void reader_room_light(struct fields *fields, struct room *room)
{
    const char *names[ROOM_LAMPS];
    for (size_t i = 0; i < ROOM_LAMPS; i++) {
        names[i] = room_lamps[i].name;
    }
    size_t lamp = 0;
    (void)fields_word(fields, "lamp", names, ROOM_LAMPS, &lamp);
    room->umol_per_j = room_lamps[lamp].umol_per_j;
    const double most = 2500;
    (void)fields_quantity(fields, "ppfd", QUANTITY_LIGHT, 0, most, &room->ppfd_umol_m2_s);
    const config_setting_t *lux_setting = fields_find(fields, "lux");
    double lux;
    if (lux_setting == NULL) {
        return;
    }
    if (fields_find(fields, "ppfd") != NULL) {
        fields_refuse(fields->reading, lux_setting,
                      "lux: the light is given twice; keep ppfd or lux");
    } else if (fields_quantity(fields, "lux", QUANTITY_ILLUMINANCE, 0,
                               most * room_lamps[lamp].lux_per_umol, &lux)) {
        room->ppfd_umol_m2_s = lux / room_lamps[lamp].lux_per_umol;
    }
}

static void reader_room_air(struct fields *fields, const char *temperature,
                            const char *humidity, struct room_air *air)
{
    (void)fields_quantity(fields, temperature, QUANTITY_TEMPERATURE, 0, 50,
                          &air->temperature_c);
    (void)fields_quantity(fields, humidity, QUANTITY_SHARE, 0.01, 1, &air->humidity);
}

void reader_room(struct reading *reading, const config_setting_t *group,
                 struct room *room)
{
    struct fields fields = fields_open(reading, group, "room");
    room->given = true;
    reader_room_light(&fields, room);
    double lamp_d;
    if (fields_quantity(&fields, "lamp_hours", QUANTITY_TIME, 0, 1, &lamp_d)) {
        room->lamp_hours = lamp_d * hours_per_day;
    }
    (void)fields_quantity(&fields, "lamp_on", QUANTITY_CLOCK, 0, 24, &room->lamp_on_h);
    reader_room_air(&fields, "day_temperature", "day_humidity", &room->day);
    reader_room_air(&fields, "night_temperature", "night_humidity", &room->night);
    (void)fields_quantity(&fields, "water_temperature", QUANTITY_TEMPERATURE, 1, 40,
                          &room->water_temperature_c);
    (void)fields_quantity(&fields, "co2", QUANTITY_CO2, 100, 5000, &room->co2_ppm);
    bool fan = false;
    if (fields_flag(&fields, "fan", &fan) && fan) {
        room->boundary_s_m = room_fan_s_m;
    }
    fields_close(&fields);
}
