/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Possible worlds: points of a quasi-random sequence, and the scenario each of them
 * means. The same point means the same plant, room, water, pen and hand under every
 * strategy. */
#ifndef PAILCAST_STUDY_DRAW_H
#define PAILCAST_STUDY_DRAW_H

#include <stdint.h>

#include "pailcast/scenario/scenario.h"

enum {
    /* One coordinate for each uncertain input; moments and misses of visits share the
     * last, from which the hand's seed is taken. */
    DRAW_VISITS = UNCERTAIN_VISIT_TIME,
    DRAW_WIDTH = DRAW_VISITS + 1
};

/* unit[point * DRAW_WIDTH + coordinate], each within (0, 1). Two sheets of points, as
 * Saltelli's scheme wants: coordinates 1 to w of a Sobol sequence and w+1 to 2w. Owned;
 * zero-initialise, release with draw_free. */
struct draw {
    size_t points;
    double *first, *second;
};

/* Points of the Sobol sequence (GSL; Bratley & Fox 1988), each coordinate turned by a
 * shift that follows from seed (Cranley & Patterson 1976), so that seeds give independent
 * samples. Point i is the same for any number of points. STATUS_MEMORY. */
enum status draw_make(struct draw *draw, size_t points, uint64_t seed,
                      struct error *error) STATUS_MUST_CHECK;
void draw_free(struct draw *draw);

/* The value of an input at a unit coordinate: a factor, a shift. 1 or 0 when certain. Not
 * for the chances of visits. */
double draw_value(const struct uncertain *uncertain, enum uncertain_input input,
                  double unit);

/* The scenario's coordinates that spread and can make a difference, in order, into
 * list[DRAW_WIDTH]; returns how many. */
size_t draw_inputs(int list[DRAW_WIDTH], const struct scenario *scenario);

/* Key and words of a coordinate. Borrowed, static. */
const char *draw_key(int coordinate);
const char *draw_words(int coordinate);

/* *world becomes scenario as it is at unit[DRAW_WIDTH], strategies included. */
void draw_world(struct scenario *world, const struct scenario *scenario,
                const double unit[DRAW_WIDTH]);

#endif
