/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "thin.h"

static bool thin_is_visit(enum event event)
{
    return event == EVENT_BEFORE_VISIT || event == EVENT_AFTER_VISIT ||
           event == EVENT_RENEWAL;
}

struct thin thin_start(const struct trajectory *path, size_t points)
{
    size_t plain = 0;
    size_t visits = 0;
    for (size_t i = 0; i < path->sample_count; i++) {
        plain += path->samples[i].event == EVENT_NONE;
        visits += thin_is_visit(path->samples[i].event);
    }
    struct thin thin = {.stride = 1, .visit_stride = 1};
    while (visits / thin.visit_stride > points / 2) {
        thin.visit_stride *= 2;
    }
    while (plain / thin.stride + visits / thin.visit_stride > points) {
        thin.stride *= 2;
    }
    return thin;
}

bool thin_keeps(struct thin *thin, const struct sample *sample)
{
    if (sample->event == EVENT_NONE) {
        return thin->plain++ % thin->stride == 0;
    }
    if (sample->event == EVENT_BEFORE_VISIT) {
        return thin->visits++ % thin->visit_stride == 0;
    }
    if (thin_is_visit(sample->event) && thin->visits > 0) {
        return (thin->visits - 1) % thin->visit_stride == 0;
    }
    return true;
}
