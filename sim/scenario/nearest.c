/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "nearest.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "pailcast/base/text.h"

enum {
    NEAREST_SHORTENED_LEAST = 4 /* letters of a word cut short (chosen) */
};

struct nearest nearest_to(const char *wanted)
{
    /* A slip of every third letter, and one more, still looks like the word (chosen). */
    return (struct nearest){.wanted = wanted, .distance = strlen(wanted) / 3 + 2};
}

/* "humidity" is a part of "day_humidity", "day" is not one of "today"; "day_temp" is one
 * of "day_temperature". */
static bool nearest_is_part(const char *wanted, const char *known)
{
    const size_t length = strlen(wanted);
    if (length >= NEAREST_SHORTENED_LEAST && strncmp(known, wanted, length) == 0) {
        return true;
    }
    for (const char *at = known; length > 0 && (at = strstr(at, wanted)) != NULL; at++) {
        if ((at == known || at[-1] == '_') && (at[length] == '_' || at[length] == '\0')) {
            return true;
        }
    }
    return false;
}

/* A part that was left out is no more of a slip than one letter. */
static size_t nearest_distance(const char *wanted, const char *known)
{
    const size_t letters = text_distance(wanted, known);
    return letters > 1 && nearest_is_part(wanted, known) ? 1 : letters;
}

void nearest_consider(struct nearest *nearest, const char *known)
{
    const size_t distance = nearest_distance(nearest->wanted, known);
    if (distance < nearest->distance && distance < strlen(known)) {
        nearest->distance = distance;
        nearest->found = known;
        nearest->second = NULL;
    } else if (distance == nearest->distance && nearest->found != NULL &&
               nearest->second == NULL) {
        nearest->second = known;
    }
}

void nearest_hint(char hint[NEAREST_HINT_SIZE], const struct nearest *nearest)
{
    hint[0] = '\0';
    if (nearest->second != NULL) {
        (void)snprintf(hint, NEAREST_HINT_SIZE, "; did you mean \"%.64s\" or \"%.64s\"?",
                       nearest->found, nearest->second);
    } else if (nearest->found != NULL) {
        (void)snprintf(hint, NEAREST_HINT_SIZE, "; did you mean \"%.64s\"?",
                       nearest->found);
    }
}
