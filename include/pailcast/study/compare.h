/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All strategies of a scenario side by side, and what a grower should make of it. */
#ifndef PAILCAST_STUDY_COMPARE_H
#define PAILCAST_STUDY_COMPARE_H

#include "pailcast/study/absence.h"

enum {
    COMPARE_ADVICE_MAX = 8,
    COMPARE_LINE_SIZE = 480
};

/* One strategy, told. Owns its life. */
struct compare_row {
    const struct strategy *strategy; /* borrowed from the scenario */
    struct life life;
    bool complete;                           /* reached the last day */
    double ec_min, ec_max, ec_mean, ec_last; /* mean over time */
    enum ion nutrient_low;                   /* first to run out, ION_COUNT if none */
    double nutrient_low_d;                   /* NAN if none */
    double sodium_last_mmol_l, sodium_max_mmol_l;
    double dry_mass_g;   /* at the end, on the plant */
    double growth_index; /* dry mass made over that of the unstressed plant */
    double useful_ec_ms_cm, ballast_ec_ms_cm; /* of the last sample */
    struct absence absence;                   /* after the last visit */
    size_t advice_count;
    char advice[COMPARE_ADVICE_MAX][COMPARE_LINE_SIZE]; /* in order of day */
    double advice_d[COMPARE_ADVICE_MAX]; /* day each is about; INFINITY: all along */
};

/* Zero-initialise; release with compare_free. */
struct compare {
    const struct scenario *scenario; /* borrowed */
    size_t row_count;
    struct compare_row rows[SCENARIO_STRATEGIES_MAX];
    struct life unstressed;
    size_t best;                     /* row to recommend */
    char verdict[COMPARE_LINE_SIZE]; /* one sentence over all strategies */
};

/* What the EC of one sample is made of, mS/cm: nutrients still useful (each up to its
 * share in the fresh feed) and ballast (sodium, chloride, carbonate and all beyond that
 * share). */
struct compare_makeup {
    double useful_by_ion[ION_COUNT];
    double ballast_by_ion[ION_COUNT];
    double carbonate;
};

/* Lives every strategy and judges
 * them. On failure rows finished before are kept and complete. */
enum status compare_run(struct compare *compare, const struct scenario *scenario,
                        struct error *error) STATUS_MUST_CHECK;

struct compare_makeup compare_makeup_of(const struct sample *sample,
                                        const struct scenario *scenario,
                                        const struct strategy *strategy,
                                        const struct pen *pen);

/* The part of an EC that feeds nothing, mS/cm. */
double compare_makeup_ballast(const struct compare_makeup *makeup, double ec_ms_cm);

void compare_free(struct compare *compare);

#endif
