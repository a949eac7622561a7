/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nobody comes any more: how long a bucket can be left alone. */
#ifndef PAILCAST_STUDY_ABSENCE_H
#define PAILCAST_STUDY_ABSENCE_H

#include "pailcast/run/life.h"

enum {
    ABSENCE_D = 60 /* how far an absence is looked into, d */
};

/* The first limit to be passed: day_d INFINITY where none is. */
struct absence_limit {
    double day_d;
    const char *what; /* "EC", "pH", "sodium" */
    const char *does; /* "pass its limit", "run out" */
};

/* The earliest day of first on which a limit of EC, pH or an ion is passed later than
 * after_d, or a nutrient runs out later than fed_d; roots are not asked about. */
struct absence_limit absence_limit_of(const struct life_first_days *first, double after_d,
                                      double fed_d);

/* After the last visit of a life. Days are those of the life. */
struct absence {
    double visit_d; /* NAN where there is nothing to tell: no visit, no plant, or lost */
    double dry_d;   /* roots lose the water; INFINITY: not in ABSENCE_D */
    struct absence_limit
        limit; /* of what the next visit would have prevented; likewise */
    struct absence_limit anyway; /* of what is so before the next visit would come */
};

/* Goes on from the last visit of a life that was lived by the strategy. A bucket that
 * cannot be followed has nothing to tell. Fails with STATUS_MEMORY or STATUS_STOPPED. */
enum status absence_of(struct absence *absence, const struct life *life,
                       const struct scenario *scenario, const struct strategy *strategy,
                       struct error *error) STATUS_MUST_CHECK;

#endif
