/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Search for the front of several aims at once: points that no other point beats in one
 * aim without losing in another.
 *
 * A population is bred in generations: children by differential evolution (Storn & Price
 * 1997) and now and then a setting drawn anew; survivors by rank of dominance and then by
 * how alone they stand (Deb et al. 2002, with their rule for limits: a point that keeps
 * all limits beats one that does not, and of two that do not the smaller violation wins).
 */
#ifndef PAILCAST_STUDY_FRONT_H
#define PAILCAST_STUDY_FRONT_H

#include <stdbool.h>
#include <stdint.h>

#include "pailcast/base/status.h"

enum {
    FRONT_SETTINGS_MAX = 8,
    FRONT_AIMS_MAX = 4
};

struct front_point {
    double setting[FRONT_SETTINGS_MAX]; /* each 0-1 */
    double aim[FRONT_AIMS_MAX];         /* less is better */
    double violation;                   /* 0: keeps all limits */
};

struct front_problem {
    size_t settings, aims;
    size_t population;  /* at least 4 */
    size_t generations; /* the first included */
    uint64_t seed;
    /* Puts a setting onto the values that mean something; NULL: all do. */
    void (*tidy)(double setting[], void *context);
    /* Fills aim and violation of points[count]. */
    enum status (*evaluate)(struct front_point points[], size_t count, void *context,
                            struct error *error);
    void *context;
};

/* All points ever evaluated, none twice. Owned; zero-initialise, release with front_free.
 */
struct front {
    struct front_point *points;
    size_t count;
};

/* Searches; `first`, where not NULL, is a point of the first generation and points[0].
 * The same problem gives the same answer. On failure the points so far are kept. */
enum status front_search(struct front *front, const struct front_problem *problem,
                         const double first[], struct error *error) STATUS_MUST_CHECK;

/* Whether a beats b: it keeps limits better, or is no worse in any aim and better in one.
 */
bool front_beats(const struct front_point *a, const struct front_point *b, size_t aims);

/* Whether no point of the front beats points[index]. */
bool front_holds(const struct front *front, size_t index, size_t aims);

void front_free(struct front *front);

#endif
