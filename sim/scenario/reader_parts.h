/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sections of a scenario file, each read by a file of its own. Mistakes go to the
 * reading; the value is then unusable. */
#ifndef SIM_SCENARIO_READER_PARTS_H
#define SIM_SCENARIO_READER_PARTS_H

#include "fields.h"

/* Into scenario->bucket, start_l, evaporation_l_d and the room's root CO2. */
void reader_bucket(struct reading *reading, const config_setting_t *group,
                   struct scenario *scenario);
void reader_room(struct reading *reading, const config_setting_t *group,
                 struct room *room);
void reader_crop(struct reading *reading, const config_setting_t *group,
                 struct crop *crop);
/* The keys of a grown plant; the crop's own are already read from the same fields. */
void reader_growth(struct fields *fields, struct crop_growth *growth);

/* Charge errors beyond which a typed liquid is refused, percent. A water is often typed
 * with some ions only; a stock or recipe that far off would make every pH meaningless. */
enum {
    READER_WATER_REFUSE_PERCENT = 40,
    READER_STOCK_REFUSE_PERCENT = 10
};

/* A typed liquid; name[TEXT_NAME_SIZE] is left alone where it has none. Refused when its
 * charge error exceeds refuse_percent. */
void reader_liquid(struct reading *reading, const config_setting_t *group,
                   const char *what, double refuse_percent, struct liquid *liquid,
                   char *name);
/* What the salts and labels of a recipe bring, and what of them goes on the scale. */
void reader_salts(struct reading *reading, const config_setting_t *setting,
                  struct liquid *recipe, struct recipe *weighed, char *name);

/* Where the scenario's stock is from: nowhere, then it is the water; typed as poured; or
 * a recipe in the water. */
enum reader_stock {
    READER_STOCK_NONE,
    READER_STOCK_TYPED,
    READER_STOCK_RECIPE
};

/* All strategies. */
void reader_strategies(struct reading *reading, const config_setting_t *list,
                       struct scenario *scenario, enum reader_stock stock);

void reader_settings_limits(struct reading *reading, const config_setting_t *group,
                            struct scenario_limits *limits);
/* Where the file says nothing: what counts as run out, for what this crop eats. */
void reader_settings_watch(struct scenario_limits *limits, const struct crop *crop);
void reader_settings_display(struct reading *reading, const config_setting_t *group,
                             struct scenario_display *display);
void reader_settings_numerics(struct reading *reading, const config_setting_t *group,
                              struct scenario_numerics *numerics);

void reader_uncertain(struct reading *reading, const config_setting_t *group,
                      struct uncertain *uncertain);

/* What a logbook taught; start_stock_share there takes the place of the scenario's. */
void reader_settings_learned(struct reading *reading, const config_setting_t *group,
                             struct scenario *scenario);

#endif
