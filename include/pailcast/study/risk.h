/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many lives of a scenario in many possible worlds, the same worlds for every strategy.
 *
 * Worlds 0 to lives-1 give spread and chances. Worlds from `lives` on serve the question
 * which input matters (sobol.h): for each row r below `base` the world of the second
 * sheet, then one world for each input, which is world r with that input from the second
 * sheet. Every world follows from seed and number alone, so they may be lived in any
 * order, by any number of threads or machines. */
#ifndef PAILCAST_STUDY_RISK_H
#define PAILCAST_STUDY_RISK_H

#include "pailcast/base/file.h"
#include "pailcast/study/draw.h"
#include "pailcast/study/journal.h"
#include "pailcast/study/outcome.h"

enum {
    RISK_LIVES_MAX = 100000,
    RISK_PARTS_MAX = 10000,
    RISK_GRID_MAX = 101,
    /* Rows asked what matters, if nothing is said: one for so many lives, at most so many
     * (chosen). */
    RISK_LIVES_PER_ROW = 8,
    RISK_ROWS_MOST = 64
};

struct risk_plan {
    size_t lives; /* 1 to RISK_LIVES_MAX */
    uint64_t seed;
    size_t base;               /* rows for what matters, at most lives; 0: not asked */
    size_t part, parts;        /* this run lives worlds w with w % parts == part - 1 */
    int jobs;                  /* threads, at least 1 */
    const char *journal;       /* file that keeps finished worlds; NULL: none */
    const char *scenario_path; /* as told in the journal */
    bool resume;               /* goes on with that file where it is there */
    bool no_curves;            /* the outcomes alone; for no sum of risks */
    /* Called after each world, by one thread at a time. NULL: not. */
    void (*progress)(void *context, size_t done, size_t total);
    void *context;
};

/* A study and what is known of it. Owned arrays; zero-initialise, release with risk_free.
 * scenario and plan are borrowed. */
struct risk {
    const struct scenario *scenario;
    const struct risk_plan *plan;
    struct draw draw;
    int inputs[DRAW_WIDTH];
    size_t input_count;
    double grid_step_d;
    size_t grid_count;
    size_t worlds;        /* all: lives + base (inputs + 1) */
    unsigned char *lived; /* [world] */
    size_t lived_count;
    float *values; /* [world][strategy][OUTCOME_WIDTH] */
    float *curves; /* [life][strategy][OUTCOME_CURVES][grid_count] */
};

/* Makes room and draws; nothing is lived yet. STATUS_MEMORY. */
enum status risk_open(struct risk *risk, const struct scenario *scenario,
                      const struct risk_plan *plan,
                      struct error *error) STATUS_MUST_CHECK;

/* Lives what is missing of this part, in `jobs` threads. STATUS_STOPPED, STATUS_SOLVER
 * (names the world), STATUS_FILE (the journal) and STATUS_MEMORY leave what was lived in
 * *risk and in the journal; STATUS_INPUT: the journal is of another study. */
enum status risk_live(struct risk *risk, struct error *error) STATUS_MUST_CHECK;

/* The same with a journal that the caller has open, instead of the plan's. */
enum status risk_live_into(struct risk *risk, struct journal *journal,
                           struct error *error) STATUS_MUST_CHECK;

/* Takes over the record of a finished world; false where it cannot be one of this study
 * or was taken before. */
bool risk_take(struct risk *risk, size_t world, const float value[], size_t count);

/* Puts the finished worlds of the parts' journals together. STATUS_INPUT names a part
 * that is of another study or was given twice, or says which worlds are missing. */
enum status risk_merge(struct risk *risk, const char *const paths[], size_t count,
                       struct error *error) STATUS_MUST_CHECK;

void risk_free(struct risk *risk);

/* The numbers of one world under one strategy. Borrowed. */
const float *risk_values(const struct risk *risk, size_t world, size_t strategy);

#endif
