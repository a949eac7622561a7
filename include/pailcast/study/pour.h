/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The minute at the bucket: how much water and stock to pour, in which order, and what to
 * do when pouring cannot do it. Every EC is what the pen would read of the mixed ions. */
#ifndef PAILCAST_STUDY_POUR_H
#define PAILCAST_STUDY_POUR_H

#include <stdbool.h>
#include <stddef.h>

#include "pailcast/chem/pen.h"
#include "pailcast/chem/recipe.h"
#include "pailcast/scenario/scenario.h"

/* What stands around the bucket, by ions. Each liquid counts for its proportions only
 * once a pen has read it: it is then diluted or concentrated to that EC. */
struct pour_kit {
    struct pen pen;
    struct liquid bucket, water, stock;
    struct liquid salts;   /* what a litre's worth of the recipe brings */
    struct recipe weighed; /* the same on the scale */
    bool has_stock;
    struct strategy_adjust adjust; /* acid or base, if any */
    struct strategy_fill fill;     /* of the strategy at this stage; rule NULL by pen */
};

/* What the grower typed; NAN where nothing was. Litres and mS/cm. */
struct pour_readings {
    double volume_l, full_l;
    double ec_ms_cm, aim_ec_ms_cm; /* without an aim the kit's rule pours */
    double water_ec_ms_cm, stock_ec_ms_cm;
    double ph; /* of the bucket */
};

/* A kit known by pen only: every liquid is taken for a complete feed of a strength that
 * gives its EC. That one curve is the correction for EC rising slower than salt. Water
 * without a reading is pure; without a reading of stock there is none. */
struct pour_kit pour_kit_by_pen(void);

/* A kit by a strategy's own water, stock and recipe; the bucket's ions are those of the
 * first filling, or of the life lived to day_d where that is not NAN. volume_l and
 * ec_ms_cm, where NAN, are filled in from that life; the fill is that of the first growth
 * stage, or of the stage on that day, and its aim, if it has one, stands in for an
 * aim_ec_ms_cm that is NAN. STATUS_INPUT for a day outside the
 * scenario's duration; else as life_run. */
enum status pour_kit_of_scenario(struct pour_kit *kit, struct pour_readings *readings,
                                 const struct scenario *scenario,
                                 const struct strategy *strategy, double day_d,
                                 struct error *error) STATUS_MUST_CHECK;

/* The liquid diluted or concentrated to read ec_ms_cm (0-30). One that holds hardly
 * anything is taken for a complete feed. */
struct liquid pour_kit_scaled(const struct liquid *liquid, double ec_ms_cm,
                              const struct pen *pen);

/* That, and with the alkalinity that makes it read that pH. Either may be NAN: as it is.
 */
struct liquid pour_kit_read(const struct liquid *like, double ec_ms_cm, double ph,
                            const struct pen *pen);

/* Litres at a level in a bucket of straight walls that holds full_l at full_level_cm (>
 * 0). */
double pour_kit_volume_l(double full_l, double level_cm, double full_level_cm);

/* The complete feed of pour_kit_by_pen, a litre of it; grams a litre as weighed. */
struct liquid pour_kit_feed(double *weighed_g_l);

/* One visit, ready to be planned. */
struct pour_case {
    struct pen pen;
    double volume_l, full_l; /* 0 <= volume_l <= full_l, full_l > 0 */
    double aim_ec_ms_cm;     /* > 0, or NAN: as the fill's rule says */
    struct liquid bucket, water, stock, salts;
    bool has_stock;
    struct strategy_adjust adjust;
    struct strategy_fill fill;
};

/* volume_l and full_l must be given, and aim_ec_ms_cm where the kit has no rule; ec_ms_cm
 * and ph, NAN, leave the kit's bucket as it is. */
struct pour_case pour_case_of(const struct pour_kit *kit,
                              const struct pour_readings *readings);

enum pour_outcome {
    POUR_REACHED,          /* by pouring into the free room alone */
    POUR_TOO_STRONG,       /* drain first, then fill with the weaker liquid */
    POUR_TOO_WEAK,         /* fill with the stronger liquid, then add salts */
    POUR_WATER_TOO_STRONG, /* even a bucket of nothing but water reads above the aim */
    POUR_BY_RULE           /* water, stock or a fixed mix, whatever it comes to */
};

/* What to do, in this order: drain, water, stock, salts. All amounts >= 0. */
struct pour_plan {
    enum pour_outcome outcome;
    double drain_l, water_l, stock_l;
    double salt_l;            /* litres' worth of the recipe's salts */
    double ec_before_ms_cm;   /* NAN of an empty bucket */
    double ec_poured_ms_cm;   /* the nearest that pouring alone comes */
    double ec_after_ms_cm;    /* after all of the plan */
    double drain_for_stock_l; /* too weak: drained, then filled with stock, would do as
                                 well; NAN where it would not */
};

struct pour_plan pour_plan_of(const struct pour_case *now);

/* A litre of the bucket after draining, pouring and adding salts; something must be in
 * it. */
struct liquid pour_mixed(const struct pour_case *now, double drain_l, double water_l,
                         double stock_l, double salt_l);

/* What the pH pen reads, and how much of acid or base the pour then asks for. `after` is
 * told of a bucket that has settled with the air; `at_once`, right after the dose, all
 * carbonate is still there that the pour held: what was bicarbonate is CO2 under acid. */
struct pour_ph {
    double before, poured, at_once, after;   /* before NAN of an empty bucket */
    double dose_mmol, dose_g;                /* of case.adjust.with, pure; 0: none */
    double ec_at_once_ms_cm, ec_after_ms_cm; /* with the dose */
};

struct pour_ph pour_ph_of(const struct pour_case *now, const struct pour_plan *plan);

/* What the pen would read after draining, pouring and adding salts. */
double pour_ec_ms_cm(const struct pour_case *now, double drain_l, double water_l,
                     double stock_l, double salt_l);

enum pour_act {
    POUR_DRAIN,
    POUR_WATER,
    POUR_STOCK,
    POUR_SALTS
};

enum {
    POUR_STEPS_MAX = 6
};

/* One thing to do, and what to read before the next. */
struct pour_step {
    enum pour_act act;
    double amount_l;    /* poured or drained; of salts litres' worth */
    double holds_l;     /* the bucket after it */
    double reads_ms_cm; /* the pen after it; NAN of an empty bucket */
};

/* The plan cut into steps: what weakens first, what strengthens in two halves, since a
 * bucket too strong costs a drain and one too weak only another cup. In one where a half
 * moves the pen by less than its error (>= 0), or 0.02 mS/cm. Returns how many. */
size_t pour_steps_of(struct pour_step steps[POUR_STEPS_MAX], const struct pour_case *now,
                     const struct pour_plan *plan, double pen_error_ms_cm);

/* What a pen that may be wrong by error_ms_cm either way, at each liquid on its own,
 * leaves open. */
struct pour_range {
    double drain_low_l, drain_high_l;
    double water_low_l, water_high_l;
    double stock_low_l, stock_high_l;
    double ec_low_ms_cm, ec_high_ms_cm; /* poured as the plan says */
};

struct pour_range pour_range_of(const struct pour_kit *kit,
                                const struct pour_readings *readings,
                                const struct pour_plan *plan, double error_ms_cm);

/* How full the bucket was, from its EC before and after it was filled up with water. */
struct pour_guess {
    double filled, salt_left; /* EC taken as proportional to salt */
    double filled_low, filled_high, salt_left_low,
        salt_left_high;                         /* by the pen's error */
    double filled_by_curve, salt_left_by_curve; /* EC by the kit's ions */
};

/* before > after > water's EC, mS/cm; error_ms_cm 0 for a perfect pen. Salt left is a
 * share of what a full bucket at aim_ec_ms_cm (> 0) holds. */
struct pour_guess pour_guess_of(const struct pour_kit *kit, double before_ms_cm,
                                double after_ms_cm, double water_ec_ms_cm,
                                double aim_ec_ms_cm, double error_ms_cm);

#endif
