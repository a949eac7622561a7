/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings, fitted curve and forecast of a logbook as pictures. */
#ifndef SIM_REPORT_FIT_PLOT_H
#define SIM_REPORT_FIT_PLOT_H

#include "pailcast/study/fit.h"

/* One picture, of one kind of reading. */
struct fit_plot {
    enum fit_kind kind;
    const char *stem; /* of its file: "fit-ec" */
    const char *heading, *caption;
};

extern const struct fit_plot fit_plots[FIT_KINDS];

/* Whether the logbook has readings of the kind, and there is a forecast. */
bool fit_plot_applies(const struct fit_plot *plot, const struct fit *fit);

/* Draws those that apply into folder, and takes the others away. STATUS_PLOT,
 * STATUS_FILE. */
enum status fit_plot_draw(const char *folder, const struct fit *fit,
                          struct error *error) STATUS_MUST_CHECK;

#endif
