/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parts of a fit. */
#ifndef SIM_STUDY_FIT_PARTS_H
#define SIM_STUDY_FIT_PARTS_H

#include "pailcast/study/fit.h"

/* The logbook as entries of a life. Arrays are owned by the caller. */
void fit_entries(struct hands_entry entries[], const struct logbook *logbook);

/* All readings, into list (NULL: only counted). A level counts before a volume. */
size_t fit_readings(struct fit_reading list[], const struct logbook *logbook,
                    const struct shape *shape);

/* Forecast from the learned unknowns and their covariance. */
enum status fit_forecast(struct fit *fit, double days_ahead,
                         struct error *error) STATUS_MUST_CHECK;

/* Each reading against its band before it was learned from. */
enum status fit_notice(struct fit *fit, struct error *error) STATUS_MUST_CHECK;

void fit_remark(struct fit *fit, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

#endif
