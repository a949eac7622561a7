/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "nearest.h"

#include <stdio.h>
#include <string.h>

#include "pailcast/base/text.h"

struct nearest nearest_to(const char *wanted)
{
    /* A slip of every third letter, and one more, still looks like the word (chosen). */
    return (struct nearest){wanted, NULL, strlen(wanted) / 3 + 2};
}

void nearest_consider(struct nearest *nearest, const char *known)
{
    size_t distance = text_distance(nearest->wanted, known);
    if (distance < nearest->distance && distance < strlen(known)) {
        nearest->distance = distance;
        nearest->found = known;
    }
}

void nearest_hint(char hint[NEAREST_HINT_SIZE], const struct nearest *nearest)
{
    hint[0] = '\0';
    if (nearest->found != NULL) {
        (void)snprintf(hint, NEAREST_HINT_SIZE, "; did you mean \"%.64s\"?",
                       nearest->found);
    }
}
