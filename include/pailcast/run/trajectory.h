/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a life leaves behind: samples, visits, events. */
#ifndef PAILCAST_RUN_TRAJECTORY_H
#define PAILCAST_RUN_TRAJECTORY_H

#include <stdbool.h>
#include <stddef.h>

#include "pailcast/base/status.h"
#include "pailcast/bucket/state.h"
#include "pailcast/visit/visit.h"

/* Why a row is there, or what happened. The word is the CSV's `event`. */
#define EVENT_LIST(X)                                                                    \
    X(EVENT_NONE, "")                                                                    \
    X(EVENT_START, "start")                                                              \
    X(EVENT_BEFORE_VISIT, "before visit")                                                \
    X(EVENT_AFTER_VISIT, "after visit")                                                  \
    X(EVENT_RENEWAL, "after renewal")                                                    \
    X(EVENT_CUT, "after cut")                                                            \
    X(EVENT_EC_HIGH, "EC above limit")                                                   \
    X(EVENT_EC_LOW, "EC below limit")                                                    \
    X(EVENT_ION_HIGH, "ion above limit")                                                 \
    X(EVENT_NUTRIENT_LOW, "nutrient ran out")                                            \
    X(EVENT_PH_HIGH, "pH above limit")                                                   \
    X(EVENT_PH_LOW, "pH below limit")                                                    \
    X(EVENT_ROOTS_DRY, "roots dry")                                                      \
    X(EVENT_BUCKET_EMPTY, "bucket empty")                                                \
    X(EVENT_PLANT_LOST, "plant lost")                                                    \
    X(EVENT_END, "end")

enum event {
#define EVENT_ENUM(name, word) name,
    EVENT_LIST(EVENT_ENUM)
#undef EVENT_ENUM
    EVENT_COUNT
};

struct sample {
    double day_d;
    double state[STATE_COUNT];
    double ec_ms_cm, ph, level_cm;
    double water_poured_l, stock_poured_l, drained_l; /* running totals */
    size_t stage;
    enum event event;
    enum ion ion; /* of EVENT_ION_HIGH and EVENT_NUTRIENT_LOW, else ION_COUNT */
};

/* Owns its arrays; zero-initialise, release with trajectory_free. */
struct trajectory {
    struct sample *samples;
    size_t sample_count, sample_room;
    struct visit_record *visits;
    size_t visit_count, visit_room;
};

/* The CSV word of an event; an ion's symbol is not part of it. */
const char *trajectory_event_word(enum event event);

/* Whether a row is that right after a visit. */
bool trajectory_is_visit(const struct sample *sample);

/* The row right after the last visit; NULL where nobody came. Borrowed. */
const struct sample *trajectory_last_visit(const struct trajectory *trajectory);

enum status trajectory_add_sample(struct trajectory *trajectory,
                                  const struct sample *sample,
                                  struct error *error) STATUS_MUST_CHECK;
enum status trajectory_add_visit(struct trajectory *trajectory,
                                 const struct visit_record *visit,
                                 struct error *error) STATUS_MUST_CHECK;
void trajectory_free(struct trajectory *trajectory);

#endif
