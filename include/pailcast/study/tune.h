/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The settings of one strategy searched for the least water, salt, dumping and visits
 * that keep the chance of trouble under a limit and growth above a share: the trade-off
 * front, where the present settings stand, and one recommendation. Every candidate lives
 * in the same worlds (risk.h). */
#ifndef PAILCAST_STUDY_TUNE_H
#define PAILCAST_STUDY_TUNE_H

#include "pailcast/study/front.h"
#include "pailcast/study/risk.h"

/* code, key, words. */
#define TUNE_SETTING_LIST(X)                                                             \
    X(TUNE_VISIT_EVERY, "visit_every_d", "days between visits")                          \
    X(TUNE_AIM_EC, "aim_ec_mS_cm", "EC aimed at")                                        \
    X(TUNE_STOCK_SHARE, "stock_share", "share of stock")                                 \
    X(TUNE_RENEW_EVERY, "renew_every_d", "days between renewals")                        \
    X(TUNE_RENEW_ABOVE, "renew_above_ec_mS_cm", "EC above which to renew")               \
    X(TUNE_RENEW_SHARE, "renew_share", "share renewed")

enum tune_setting {
#define TUNE_ENUM(code, key, words) code,
    TUNE_SETTING_LIST(TUNE_ENUM)
#undef TUNE_ENUM
    TUNE_SETTINGS
};

enum tune_aim {
    TUNE_WATER,  /* L poured, stock included */
    TUNE_SALT,   /* g poured */
    TUNE_DUMPED, /* L */
    TUNE_VISITS,
    TUNE_AIMS
};

struct tune_plan {
    size_t lives;  /* budget: candidates times worlds, at most */
    size_t worlds; /* each candidate lives in, at least 2 */
    uint64_t seed;
    int jobs;
    double most_trouble;       /* chance that any limit is passed */
    double least_growth;       /* median share of the unstressed plant */
    const char *journal;       /* file that keeps finished worlds; NULL: none */
    const char *scenario_path; /* as told in the journal */
    bool resume;               /* goes on with that file where it is there */
    void (*progress)(void *context, size_t done, size_t total);
    void *context;
};

/* One way of doing it, and what came of it: medians over the worlds. */
struct tune_candidate {
    double value[TUNE_SETTINGS]; /* INFINITY: never (renewals); NAN: not a setting here */
    double aim[TUNE_AIMS];
    double trouble, growth;
    double met[OUTCOME_ACTION]; /* share of the worlds in which each trouble was met */
    bool renewed;               /* at least once in some world */
    bool keeps;                 /* both limits */
    bool on_front; /* no other candidate is better in everything, limits first */
};

struct tune {
    const struct scenario *scenario; /* borrowed; its first strategy is tuned */
    const struct tune_plan *plan;    /* borrowed */
    size_t setting_count;            /* of the settings below */
    enum tune_setting settings[TUNE_SETTINGS];
    size_t count;
    struct tune_candidate *candidates; /* owned; [0] are the present settings */
    size_t best;   /* recommended; the nearest to the limits when none keeps them */
    bool possible; /* some candidate keeps both limits */
    size_t lives_used;
    /* The best and the present settings once more, in worlds of another seed. */
    struct tune_candidate best_again, present_again;
};

extern const char *const tune_setting_keys[TUNE_SETTINGS];
extern const char *const tune_setting_words[TUNE_SETTINGS];
extern const char *const tune_aim_keys[TUNE_AIMS];

/* Searches. Zero-initialise; release with tune_free. Errors as risk_live's: what was
 * found before is kept in the journal alone. */
enum status tune_run(struct tune *tune, const struct scenario *scenario,
                     const struct tune_plan *plan, struct error *error) STATUS_MUST_CHECK;
void tune_free(struct tune *tune);

/* How far a setting may go for this strategy, and the step it is tidied to. False where
 * the strategy has no such setting. */
struct tune_range {
    double low, high, step;
};
bool tune_range_of(struct tune_range *range, enum tune_setting setting,
                   const struct strategy *strategy, const struct scenario *scenario);

/* A setting of a strategy, read and written; INFINITY is never. */
double tune_range_read(enum tune_setting setting, const struct strategy *strategy);
void tune_range_write(struct strategy *strategy, enum tune_setting setting, double value);

#endif
