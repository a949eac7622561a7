/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "keep.h"
#include "pailcast/base/text.h"
#include "pailcast/report/plot.h"
#include "pailcast/report/risk.h"
#include "pailcast/scenario/display.h"
#include "pailcast/study/risk_matters.h"

enum {
    RISK_BARS = 6 /* inputs shown in a panel (chosen) */
};

/* The part of the height above the highest value that stays free. */
static const double risk_plot_headroom = 1.07;

/* gnuplot's word for no number. */
static void risk_plot_number(FILE *out, double value)
{
    if (isfinite(value)) {
        fprintf(out, " %.6g", value);
    } else {
        fputs(" NaN", out);
    }
}

static void risk_plot_names(FILE *out, const struct risk_sum *sum)
{
    fprintf(out, "days = %.9g\ncount = %zu\narray names[%zu]\n",
            sum->risk->scenario->duration_d, sum->row_count, sum->row_count);
    for (size_t k = 0; k < sum->row_count; k++) {
        fprintf(out, "names[%zu] = ", k + 1);
        text_gnuplot(out, sum->rows[k].strategy->name);
        fputc('\n', out);
    }
}

static void risk_plot_limit(FILE *out, const char *name, double ms_cm,
                            const struct scenario_display *display)
{
    fprintf(out, "%s =", name);
    risk_plot_number(out, ms_cm > 0 ? display_ec(display, ms_cm) : NAN);
    fputc('\n', out);
}

static void risk_plot_fans(FILE *out, const void *context)
{
    const struct risk_sum *sum = context;
    const struct scenario *scenario = sum->risk->scenario;
    const struct scenario_display *display = &scenario->display;
    double top = 0;
    risk_plot_names(out, sum);
    fputs("ec_unit = ", out);
    text_gnuplot(out, display_ec_unit(display));
    fputc('\n', out);
    risk_plot_limit(out, "ec_high", scenario->limits.ec_high_ms_cm, display);
    risk_plot_limit(out, "ec_low", scenario->limits.ec_low_ms_cm, display);
    fputs("$fans << EOD\n", out);
    for (size_t k = 0; k < sum->row_count; k++) {
        for (size_t i = 0; i < sum->risk->grid_count; i++) {
            const struct risk_spread *band = &sum->rows[k].band[OUTCOME_CURVE_EC][i];
            risk_plot_number(out, (double)i * sum->risk->grid_step_d);
            risk_plot_number(out, display_ec(display, band->p10));
            risk_plot_number(out, display_ec(display, band->p50));
            risk_plot_number(out, display_ec(display, band->p90));
            fputc('\n', out);
            top = fmax(top, display_ec(display, band->p90));
        }
        fputs("\n\n", out);
    }
    fprintf(out, "EOD\ntop = %.6g\n", top > 0 ? risk_plot_headroom * top : 1);
}

static void risk_plot_quiet(FILE *out, const void *context)
{
    const struct risk_sum *sum = context;
    risk_plot_names(out, sum);
    fputs("$quiet << EOD\n", out);
    for (size_t k = 0; k < sum->row_count; k++) {
        for (size_t i = 0; i < sum->risk->grid_count; i++) {
            fprintf(out, "%.9g %.6g\n", (double)i * sum->risk->grid_step_d,
                    100 * sum->rows[k].quiet[i]);
        }
        fputs("\n\n", out);
    }
    fputs("EOD\n", out);
}

/* The target to draw for a strategy: the first that varies. */
static size_t risk_plot_target(const struct risk_sum *sum, size_t row)
{
    size_t target = 0;
    while (target + 1 < RISK_TARGETS && risk_matters_ranked(sum, row, target, 0) < 0) {
        target++;
    }
    return target;
}

static void risk_plot_panel(FILE *out, FILE *labels, const struct risk_sum *sum,
                            size_t row)
{
    const size_t target = risk_plot_target(sum, row);
    const bool told = risk_matters_ranked(sum, row, target, 0) >= 0;
    fprintf(labels, "targets[%zu] = ", row + 1);
    text_gnuplot(labels, told ? outcome_table[risk_targets[target]].words
                              : "nothing can be told");
    fputc('\n', labels);
    if (!told) {
        fputs("0 0 0 0\n", out); /* gnuplot draws no axis for numbers it does not have */
    }
    for (size_t rank = 0; rank < RISK_BARS; rank++) {
        const int i = risk_matters_ranked(sum, row, target, rank);
        fprintf(labels, "labels[%zu] = ", row * RISK_BARS + rank + 1);
        text_gnuplot(labels, i >= 0 ? draw_words(sum->risk->inputs[i]) : "");
        fputc('\n', labels);
        if (i >= 0) {
            const struct sobol_index *index = &sum->rows[row].matters[target][i];
            fprintf(out, "%zu", rank + 1);
            risk_plot_number(out, index->total);
            risk_plot_number(out, index->total_error);
            risk_plot_number(out, fmax(index->first, 0));
            fputc('\n', out);
        } else {
            fprintf(out, "%zu NaN NaN NaN\n", rank + 1);
        }
    }
    fputs("\n\n", out);
}

static void risk_plot_matters(FILE *out, const void *context)
{
    const struct risk_sum *sum = context;
    char *text = NULL;
    size_t size = 0;
    FILE *labels = open_memstream(&text, &size);
    risk_plot_names(out, sum);
    if (labels == NULL) {
        return; /* gnuplot then finds no data and says so */
    }
    fputs("$matters << EOD\n", out);
    for (size_t k = 0; k < sum->row_count; k++) {
        risk_plot_panel(out, labels, sum, k);
    }
    fprintf(out, "EOD\nbars = %d\narray labels[%zu]\narray targets[%zu]\n", RISK_BARS,
            sum->row_count * RISK_BARS, sum->row_count);
    if (fclose(labels) == 0) {
        fputs(text, out);
    }
    free(text);
}

enum status risk_plot_draw(const char *folder, const struct risk_sum *sum,
                           struct error *error)
{
    static const struct {
        const char *name, *title;
        void (*write)(FILE *out, const void *context);
    } plots[] = {{"risk-fans", "EC of many lives", risk_plot_fans},
                 {"risk-quiet", "Lives without need of action", risk_plot_quiet},
                 {"risk-matters", "What matters", risk_plot_matters}};
    const size_t count = risk_matters_tells(sum) ? 3 : 2;
    enum status status = STATUS_OK;
    for (size_t i = 0; i < count && status == STATUS_OK; i++) {
        const struct plot_sketch sketch = {plots[i].name, plots[i].write, sum};
        const struct keep_label label = {plots[i].name, plots[i].title, ""};
        status = keep_sketch(folder, &label, &sketch, error);
    }
    if (count < 3) { /* one of an earlier study would tell of other lives */
        keep_none(folder, plots[2].name);
    }
    return status;
}
