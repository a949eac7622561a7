/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The journal of a search: what was lived before it was interrupted, and what is lived
 * now. A search is one study (risk.h) after another in as many worlds each; world w of
 * the n-th has number n times worlds plus w. Since every choice follows from what was
 * lived, a search that is told its past comes to the same candidates again. */
#ifndef SIM_STUDY_TUNE_PAST_H
#define SIM_STUDY_TUNE_PAST_H

#include "pailcast/study/tune.h"

/* A world that was lived before. */
struct tune_past_world {
    float *value; /* owned; NULL: not lived yet */
    size_t count;
};

/* Zero-initialise; release with tune_past_close. */
struct tune_past {
    struct journal journal;
    struct tune_past_world *worlds; /* owned; [room] */
    size_t room;
};

/* Opens the plan's journal, if it has one, for at most so many studies. STATUS_INPUT:
 * another search's; STATUS_FILE, STATUS_MEMORY. */
enum status tune_past_open(struct tune_past *past, const struct tune *tune,
                           size_t studies, struct error *error) STATUS_MUST_CHECK;

/* Gives the study, the n-th of the search, what was lived of it; its other worlds are
 * entered from here on. STATUS_INPUT where the journal's do not fit it. */
enum status tune_past_recall(struct tune_past *past, struct risk *risk, size_t study,
                             struct error *error) STATUS_MUST_CHECK;

enum status tune_past_close(struct tune_past *past,
                            struct error *error) STATUS_MUST_CHECK;

#endif
