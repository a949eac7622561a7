/* SPDX-License-Identifier: GPL-3.0-or-later */
/* This bucket's own numbers, learned from its logbook; what comes next; what was odd. */
#ifndef PAILCAST_STUDY_FIT_H
#define PAILCAST_STUDY_FIT_H

#include "pailcast/run/life.h"
#include "pailcast/scenario/logbook.h"
#include "pailcast/study/absence.h"
#include "pailcast/study/least.h"

enum fit_unknown {
    FIT_DRINKING,
    FIT_EATING,
    FIT_GROWTH,
    FIT_START_SHARE,
    FIT_EVAPORATION,
    FIT_PEN,
    FIT_UNKNOWNS
};

enum {
    FIT_CAUSES_MAX = 7,   /* of any, a first level, a level, a pH: 1, 1, 3 and 2 */
    FIT_REMARKS_MAX = 24, /* 15 pairs of unknowns, and what else there is to say */
    FIT_REMARK_SIZE = 240,
    FIT_LIVES = 100,
    FIT_MOMENTS_A_DAY = 4
};

struct fit_value {
    double estimate, low, high; /* 95 % interval */
    bool identifiable; /* the logbook says more than the prior, and apart from the rest */
};

/* 5 %, 50 % and 95 % of what pen and ruler will show, or of what is in the bucket. */
struct fit_band {
    double low, median, high;
};

struct fit_moment {
    double day_d;
    struct fit_band ec_ms_cm, volume_l, ph, ion_mmol_l[ION_COUNT];
};

enum fit_kind {
    FIT_EC,
    FIT_LEVEL,
    FIT_PH,
    FIT_KINDS
};

/* One number of the logbook: mS/cm, cm or pH, and the standard deviation of its reading.
 */
struct fit_reading {
    size_t row;
    enum fit_kind kind;
    double value, sd;
    bool aside; /* not learned from: no bucket explains it while all others agree */
};

struct fit_surprise {
    double day_d;
    char what[FIT_REMARK_SIZE];
    bool odd[FIT_KINDS];   /* which of the day's readings */
    bool aside[FIT_KINDS]; /* which of those are set aside */
    size_t cause_count;
    const char *causes[FIT_CAUSES_MAX]; /* in order of likelihood; static */
};

/* The days of the forecast under one strategy. */
struct fit_choice {
    const struct strategy *strategy;         /* borrowed */
    struct visit_record next_visit;          /* of the estimate; day_d NAN: none */
    struct fit_band ec_ms_cm, sodium_mmol_l; /* on the last day */
    double least_l;                          /* 19 of 20 buckets never hold less */
    enum ion scarce;                         /* runs out most often; ION_COUNT: none */
    enum ion excess;                         /* passes its upper limit most often */
    double scarce_chance, excess_chance;     /* shares of the drawn buckets */
    double ec_high_chance, ec_low_chance, ph_high_chance, ph_low_chance;
};

/* Zero-initialise; release with fit_free. */
struct fit {
    const struct scenario *scenario; /* borrowed; or own */
    struct scenario *own; /* owned: without what this very logbook taught before; NULL */
    const struct strategy *strategy;
    const struct logbook *logbook;
    const struct fit_plan *plan;
    size_t lives, search;        /* lived so far; lived to learn, 0 while learning */
    size_t readings;             /* numbers read, all kinds */
    struct fit_reading *list;    /* owned: they, in order of rows */
    struct hands_entry *entries; /* owned: what was done, by row of the logbook */
    struct life_moment *stand;   /* owned: each drawn bucket after the last entry */
    struct fit_value value[FIT_UNKNOWNS];
    struct least_answer answer; /* in standard deviations of the prior */
    double misfit;              /* mean squared residual of what is not set aside */
    bool priors_alone;          /* fewer than two entries with a reading */
    size_t remark_count;
    char remarks[FIT_REMARKS_MAX][FIT_REMARK_SIZE];
    struct life likely; /* owned: that of the estimates, to the end of the forecast */
    struct fit_moment *moments; /* owned: the forecast, FIT_MOMENTS_A_DAY from the last
                                   entry on; each day's last is a whole day after it */
    size_t moment_count;
    struct visit_record next_visit; /* what the strategy would do; day_d NAN: none */
    double safe_until_d; /* nobody comes: 95 % keep their roots in water; INFINITY */
    struct absence_limit first_limit; /* until its day nothing passes a limit or runs out
                                         in 95 % that had not at the last entry */
    struct fit_choice *choices; /* owned: the strategies of the scenario, where there are
                                   several to choose from */
    size_t choice_count;
    struct fit_surprise *surprises; /* owned */
    size_t surprise_count;
};

/* "EC", "level", "pH". */
extern const char *const fit_kind_words[FIT_KINDS];

/* Names of the contract, and words for people: "drinking". */
extern const char *const fit_unknown_name[FIT_UNKNOWNS];
extern const char *const fit_unknown_words[FIT_UNKNOWNS];

/* What the scenario says of an unknown: the middle of its prior. */
double fit_prior_mean(enum fit_unknown unknown, const struct scenario *scenario);

/* What was read less what the estimates expect, in standard deviations of the reading. */
double fit_residual(const struct fit *fit, size_t reading);

/* Whether this reading was not to be expected. */
bool fit_is_odd(const struct fit *fit, size_t reading);

/* What is asked of a fit. */
struct fit_plan {
    double ahead_d; /* how far to look ahead; 0: not at all */
    /* NULL, or told after each life; total is a guess while it learns. */
    void (*progress)(void *context, size_t done, size_t total);
    void *context;
};

/* Learns, looks ahead and looks back for surprises. STATUS_STOPPED after
 * life_request_stop. */
enum status fit_run(struct fit *fit, const struct scenario *scenario,
                    const struct strategy *strategy, const struct logbook *logbook,
                    const struct fit_plan *plan, struct error *error) STATUS_MUST_CHECK;

/* *world becomes scenario with the unknowns at z, in standard deviations of the prior. */
void fit_world(struct scenario *world, const struct scenario *scenario,
               const double z[FIT_UNKNOWNS]);

void fit_free(struct fit *fit);

#endif
