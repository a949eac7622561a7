/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/run/trajectory.h"

#include <stdlib.h>

#include "pailcast/base/grow.h"

static const char *const event_words[EVENT_COUNT] = {
#define EVENT_WORD(name, word) [name] = word,
    EVENT_LIST(EVENT_WORD)
#undef EVENT_WORD
};

const char *trajectory_event_word(enum event event)
{
    return event_words[event];
}

bool trajectory_is_visit(const struct sample *sample)
{
    return sample->event == EVENT_AFTER_VISIT || sample->event == EVENT_RENEWAL;
}

const struct sample *trajectory_last_visit(const struct trajectory *trajectory)
{
    for (size_t i = trajectory->sample_count; i > 0; i--) {
        if (trajectory_is_visit(&trajectory->samples[i - 1])) {
            return &trajectory->samples[i - 1];
        }
    }
    return NULL;
}

static enum status trajectory_no_memory(struct error *error)
{
    return status_error(error, STATUS_MEMORY, "no memory for more samples");
}

enum status trajectory_add_sample(struct trajectory *trajectory,
                                  const struct sample *sample, struct error *error)
{
    struct sample *samples = grow_array(trajectory->samples, trajectory->sample_count,
                                        &trajectory->sample_room, sizeof *samples);
    if (samples == NULL) {
        return trajectory_no_memory(error);
    }
    trajectory->samples = samples;
    trajectory->samples[trajectory->sample_count++] = *sample;
    return STATUS_OK;
}

enum status trajectory_add_visit(struct trajectory *trajectory,
                                 const struct visit_record *visit, struct error *error)
{
    struct visit_record *visits = grow_array(trajectory->visits, trajectory->visit_count,
                                             &trajectory->visit_room, sizeof *visits);
    if (visits == NULL) {
        return trajectory_no_memory(error);
    }
    trajectory->visits = visits;
    trajectory->visits[trajectory->visit_count++] = *visit;
    return STATUS_OK;
}

void trajectory_free(struct trajectory *trajectory)
{
    if (trajectory == NULL) {
        return;
    }
    free(trajectory->samples);
    free(trajectory->visits);
    *trajectory = (struct trajectory){0};
}
