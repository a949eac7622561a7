/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Why EC changed: each stretch of a life split into drinking, evaporation, eating and
 * what was poured, and where each ion is heading. */
#ifndef PAILCAST_STUDY_WHY_H
#define PAILCAST_STUDY_WHY_H

#include "pailcast/run/life.h"

enum {
    WHY_AHEAD_D = 365 /* chosen: the seasons of a shrub, and more than any herb */
};

/* Causes of a change of EC, in the order of tables and plots. A renewal (draining and
 * refilling) is one cause; water and stock are those of the other visits. Other is
 * acidity: the alkalinity that roots give back or take, and acid or base at visits. */
enum why_part {
    WHY_DRINKING,
    WHY_EATING,
    WHY_EVAPORATION,
    WHY_WATER,
    WHY_STOCK,
    WHY_RENEWAL,
    WHY_OTHER,
    WHY_PART_COUNT
};

/* "drinking", "eating", ...: keys of the JSON and words of the table. */
extern const char *const why_part_key[WHY_PART_COUNT];

/* What passed in a stretch; tallies of neighbouring stretches add up. Litres, mmol and
 * mS/cm at 25 degC. */
struct why_tally {
    double part[WHY_PART_COUNT]; /* EC, either sign */
    double drunk_l, evaporated_l, drained_l;
    double water_l, stock_l;                 /* poured at visits that renewed nothing */
    double renewal_water_l, renewal_stock_l; /* and at those that did */
    double eaten_mmol[ION_COUNT];
    double in_drunk_mmol[ION_COUNT]; /* what the litres drunk held: integral of c dT */
    double poured_mmol[ION_COUNT];   /* with every pour, acid or base included */
    int visits, renewals;
};

enum why_heading {
    WHY_STEADY,   /* within 5 % of its limit, or not moving by 5 % in a bucketful drunk */
    WHY_RISES,    /* to its limit, or without one */
    WHY_FALLS,    /* to its limit */
    WHY_RUNS_OUT, /* falls to nothing */
    WHY_GONE,     /* below what the scenario calls run out */
    WHY_HEADING_COUNT
};

/* "steady", "rises", "falls", "runs out", "has run out". */
extern const char *const why_heading_word[WHY_HEADING_COUNT];

/* One ion over a stretch, mmol/L; NAN where there is none. The outlook is for going on in
 * the same way: topped up to the same level with the same make-up. An ion taken in
 * proportion p to its concentration nears c_w/p, one taken at a steady rate has no limit;
 * evaporation E and drained litres D beside T drunk litres make that
 * c_w (T + E + D)/(p T + D) and, for the steady rate u, (c_w (T + E + D) - u T)/D
 * (balances by hand; with E = D = 0 those of Carmassi et al. 2005, from memory). */
struct why_ion {
    double eaten_mmol_l;    /* uptake concentration: eaten for each litre drunk */
    double solution_mmol_l; /* mean of the litres drunk */
    double ratio;           /* of the two: 1 eats what it drinks, 0 leaves it behind */
    double makeup_mmol_l;   /* c_w: mean of all poured; the plain water if nothing was */
    double first_mmol_l, last_mmol_l;
    bool follows; /* taken in proportion, else at a steady rate */
    enum why_heading heading;
    double limit_mmol_l; /* NAN: none */
    double gone_after_l; /* WHY_RUNS_OUT: litres still to be drunk until then, else NAN */
};

/* What comes after the stretch when the strategy goes on as it does, looked into for
 * WHY_AHEAD_D or until the plant is lost. Days of the life; INFINITY: not within that. */
struct why_ahead {
    double until_d;                          /* NAN: not looked into */
    double ec_left_d, ion_left_d[ION_COUNT]; /* above its limit right after a visit */
    double ec_high_d, ion_high_d[ION_COUNT]; /* above it, and be it between visits */
    double gone_d[ION_COUNT];                /* a nutrient runs out */
    double lost_d;                           /* the plant */
};

struct why_interval {
    double from_d, to_d;
    double ec_from_ms_cm, ec_to_ms_cm; /* after whatever was done at that moment */
    double ec_before_ms_cm; /* on arrival at a visit that ends the stretch, else NAN */
    struct why_tally tally;
    double closure; /* |change - sum of parts| over the sum of absolute parts */
    double salt_in_drunk_g, salt_eaten_g;
    double eaten_share; /* of the salt in the litres drunk, NAN if none */
    struct why_ion ion[ION_COUNT];
};

/* intervals[0] is the whole stretch asked for; when a visit falls inside, one follows for
 * each stretch from a visit to the next, and their tallies add up to the first's.
 * Zero-initialise; owns its array, release with why_free. */
struct why {
    const struct scenario *scenario; /* borrowed */
    const struct strategy *strategy; /* borrowed */
    size_t interval_count;
    struct why_interval *intervals;
    double ballast_from_ms_cm, ballast_to_ms_cm; /* what feeds nothing: compare_makeup */
    enum ion ballast_most; /* carries most of it; ION_COUNT: carbonate does */
    struct why_ahead ahead;
};

/* Lives the scenario under strategy and splits what happened after from_d (0 or at least
 * an hour) up to and including to_d (later than from_d, at most the duration). Errors as
 * life_run's; what was lived before them is split all the same. */
enum status why_run(struct why *why, const struct scenario *scenario,
                    const struct strategy *strategy, double from_d, double to_d,
                    struct error *error) STATUS_MUST_CHECK;

void why_free(struct why *why);

#endif
