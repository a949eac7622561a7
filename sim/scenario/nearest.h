/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The word someone probably meant. */
#ifndef SIM_SCENARIO_NEAREST_H
#define SIM_SCENARIO_NEAREST_H

#include <stddef.h>

enum {
    NEAREST_HINT_SIZE = 160
};

/* A search among known words; they are borrowed and must outlive it. */
struct nearest {
    const char *wanted;
    const char *found;  /* NULL when nothing is near enough */
    const char *second; /* the next that is as near; NULL when none is */
    size_t distance;
};

struct nearest nearest_to(const char *wanted);
void nearest_consider(struct nearest *nearest, const char *known);

/* Writes `; did you mean "WORD"?`, with the second word if there is one, or nothing. */
void nearest_hint(char hint[NEAREST_HINT_SIZE], const struct nearest *nearest);

#endif
