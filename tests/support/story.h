/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An invented comparison of three strategies, made without the engine, to write reports
 * from. Its numbers are plausible, not computed by the model. */
#ifndef TESTS_SUPPORT_STORY_H
#define TESTS_SUPPORT_STORY_H

#include "pailcast/study/compare.h"

/* Row 1 is renewed monthly; row 2 ends early. Row 0 runs out of potassium. */
enum {
    STORY_ROWS = 3,
    STORY_RENEWED = 1,
    STORY_LOST = 2
};

extern const double story_duration_d;

/* The scenario is owned by the story and borrowed by its comparison. */
struct story {
    struct scenario scenario;
    struct compare compare;
};

/* Allocated; release with story_free. Titles hold back-quotes, quotes, markup and UTF-8.
 */
struct story *story_tell(void);
void story_free(struct story *story);

#endif
