/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parts of a fit. */
#ifndef SIM_STUDY_FIT_PARTS_H
#define SIM_STUDY_FIT_PARTS_H

#include <gsl/gsl_rng.h>

#include "pailcast/study/fit.h"

/* Standard deviations of the priors. */
extern const double fit_prior_sd[FIT_UNKNOWNS];

/* What the unknowns at z mean for a world of scenario. */
struct scenario_learned fit_learned(const struct scenario *scenario,
                                    const double z[FIT_UNKNOWNS]);

/* All readings, into list (NULL: only counted). A level counts before a volume. */
size_t fit_readings(struct fit_reading list[], const struct logbook *logbook,
                    const struct shape *shape);

/* The unknowns that fit best all readings that are not set aside, searched from the
 * priors; residual and slope of the answer are those of all readings. A reading farther
 * off than `soft` standard deviations counts in proportion only (INFINITY: none does).
 * STATUS_STOPPED after life_request_stop. */
enum status fit_learn(struct fit *fit, double soft,
                      struct error *error) STATUS_MUST_CHECK;

/* After fit_learn: sets aside readings that no bucket explains while all others agree,
 * and learns again without them. */
enum status fit_aside(struct fit *fit, struct error *error) STATUS_MUST_CHECK;

/* Mean square of the residuals of what is not set aside; beyond fit_doubtful the model is
 * not all there is (chosen: far beyond chance with 40 readings). */
double fit_misfit(const struct fit *fit);
extern const double fit_doubtful;

/* One bucket drawn from the normal distribution that was learned, its world lasting as
 * long as the forecast. Chance follows from its number alone; number 0 is the estimate
 * itself. */
struct fit_draw {
    const struct fit *fit;
    size_t number;
    struct scenario *world;
    gsl_rng *rng; /* for what else is up to chance */
};

/* Something done with each of FIT_LIVES draws in threads, `lives` lives each; once one
 * fails no others are begun. */
struct fit_draw_task {
    enum status (*one)(void *context, const struct fit_draw *draw, struct error *error);
    void *context;
    size_t lives;
};

/* The day of the last entry, and how many days the forecast goes on from it. */
double fit_last_day(const struct fit *fit);
double fit_days_ahead(const struct fit *fit);

enum status fit_draw_all(struct fit *fit, const struct fit_draw_task *task,
                         struct error *error) STATUS_MUST_CHECK;

/* Lives in that world from the last entry on as `then` does with the pen of that world,
 * or with nobody coming where it is NULL; after fit_past. Release with life_free,
 * whatever it returned. */
enum status fit_draw_live(struct life *life, const struct fit_draw *draw,
                          const struct strategy *then,
                          struct error *error) STATUS_MUST_CHECK;

/* The same from day 0 on, by the logbook up to its last entry. */
enum status fit_draw_whole(struct life *life, const struct fit_draw *draw,
                           const struct strategy *then,
                           struct error *error) STATUS_MUST_CHECK;

/* The first visit of a life; its day is NAN where there is none. */
struct visit_record fit_draw_next(const struct life *life);

/* Sorts the values. */
struct fit_band fit_draw_band(double values[FIT_LIVES]);

/* Lives each draw up to the last entry, once, for all that looks ahead from there. */
enum status fit_past(struct fit *fit, struct error *error) STATUS_MUST_CHECK;

/* Forecast from the learned unknowns and their covariance. Draws and bands are the same
 * for any number of threads. */
enum status fit_forecast(struct fit *fit, struct error *error) STATUS_MUST_CHECK;

/* So many more lives are lived. */
void fit_tell(struct fit *fit, size_t more);

/* The same days under each strategy of the scenario. */
enum status fit_choices(struct fit *fit, struct error *error) STATUS_MUST_CHECK;

/* Each reading against its band before it was learned from. */
enum status fit_notice(struct fit *fit, struct error *error) STATUS_MUST_CHECK;

void fit_remark(struct fit *fit, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
