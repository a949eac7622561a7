/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parts of a fit. */
#ifndef SIM_STUDY_FIT_PARTS_H
#define SIM_STUDY_FIT_PARTS_H

#include <gsl/gsl_rng.h>

#include "pailcast/study/fit.h"

/* The logbook as entries of a life. Arrays are owned by the caller. */
void fit_entries(struct hands_entry entries[], const struct logbook *logbook);

/* All readings, into list (NULL: only counted). A level counts before a volume. */
size_t fit_readings(struct fit_reading list[], const struct logbook *logbook,
                    const struct shape *shape);

/* Draws of the unknowns from the normal distribution that was learned. Borrows the fit;
 * release with fit_draw_close. */
struct fit_draw {
    const struct fit *fit;
    double root[FIT_UNKNOWNS][FIT_UNKNOWNS]; /* Cholesky factor of the covariance */
    gsl_rng *rng;                            /* always from the same seed */
};

/* STATUS_MEMORY. */
enum status fit_draw_open(struct fit_draw *draw, const struct fit *fit,
                          struct error *error) STATUS_MUST_CHECK;
void fit_draw_close(struct fit_draw *draw);

/* The world of the next life; life 0 is the estimate itself. */
void fit_draw_world(struct fit_draw *draw, struct scenario *world, int life);

/* What a strategy does with the pen of that world. */
struct strategy fit_draw_hands(const struct strategy *strategy,
                               const struct scenario *world);

/* Sorts the values. */
struct fit_band fit_draw_band(double values[FIT_LIVES]);

/* Forecast from the learned unknowns and their covariance. */
enum status fit_forecast(struct fit *fit, double days_ahead,
                         struct error *error) STATUS_MUST_CHECK;

/* The same days under each strategy of the scenario; after fit_forecast. */
enum status fit_choices(struct fit *fit, struct error *error) STATUS_MUST_CHECK;

/* Each reading against its band before it was learned from. */
enum status fit_notice(struct fit *fit, struct error *error) STATUS_MUST_CHECK;

void fit_remark(struct fit *fit, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
