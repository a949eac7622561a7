/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keys of one group of a scenario file: read with their range, missed with a
 * sentence, and counted so that an unknown one is noticed. */
#ifndef SIM_SCENARIO_FIELDS_H
#define SIM_SCENARIO_FIELDS_H

#include <stdbool.h>
#include <stddef.h>

#include <libconfig.h>

#include "pailcast/scenario/quantity.h"
#include "pailcast/scenario/scenario.h"
#include "source.h"

/* One reading of a file; borrows all. */
struct reading {
    const struct source *source;
    struct error *error;       /* one line for each mistake */
    struct scenario *scenario; /* takes warnings; NULL drops them */
    enum status status;        /* STATUS_OK until the first mistake */
};

enum {
    FIELDS_MAX = 48
};

struct fields {
    struct reading *reading;
    const config_setting_t *group;
    const char *name; /* of the group in a sentence; "" at the top */
    const char *known[FIELDS_MAX];
    size_t known_count;
};

/* A mistake at a setting (NULL: the first line of the file). Sentences follow the place.
 */
void fields_refuse(struct reading *reading, const config_setting_t *at,
                   const char *format, ...) __attribute__((format(printf, 3, 4)));

/* Accepted, but worth a look. */
void fields_warn(struct reading *reading, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

struct fields fields_open(struct reading *reading, const config_setting_t *group,
                          const char *name);

/* Refuses every key that was not asked for since fields_open. */
void fields_close(const struct fields *fields);

/* The setting of a key, NULL where it is absent. */
const config_setting_t *fields_find(struct fields *fields, const char *key);

/* Whether a key is there; refuses with an example where it is not. */
bool fields_need(struct fields *fields, const char *key, const char *example);

/* The getters below return false and leave the value alone where the key is absent or has
 * been refused. Bounds are inclusive and in the internal unit. */
bool fields_quantity(struct fields *fields, const char *key, enum quantity quantity,
                     double low, double high, double *value);
bool fields_quantity_aided(struct fields *fields, const char *key, enum quantity quantity,
                           double low, double high, const struct quantity_aid *aid,
                           double *value);
/* A day of the life: a time span since the start, or a date, perhaps with a time, counted
 * from the scenario's start. */
bool fields_day(struct fields *fields, const char *key, double low_d, double high_d,
                double *day_d);
/* One value or [a, b]. */
bool fields_pair(struct fields *fields, const char *key, enum quantity quantity,
                 double low, double high, double pair[2]);
bool fields_text(struct fields *fields, const char *key, char *to, size_t size);
bool fields_flag(struct fields *fields, const char *key, bool *value);
/* One of words[count]; *index receives which. */
bool fields_word(struct fields *fields, const char *key, const char *const words[],
                 size_t count, size_t *index);
/* Concentrations of all ions that stand in the group, into value[ION_COUNT]. */
void fields_ions(struct fields *fields, enum quantity quantity, double low, double high,
                 double value[]);

/* A group { } or a list ( ) of at most `most` groups; NULL where absent or refused. */
const config_setting_t *fields_group(struct fields *fields, const char *key);
const config_setting_t *fields_list(struct fields *fields, const char *key, size_t most);

/* One element of such a list, refused where it is no group. */
const config_setting_t *fields_element(struct reading *reading,
                                       const config_setting_t *list, size_t index);
size_t fields_count(const config_setting_t *list);

#endif
