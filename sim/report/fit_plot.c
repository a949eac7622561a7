/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fit_plot.h"

#include <math.h>
#include <stdio.h>

#include "keep.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "series.h"
#include "thin.h"

enum {
    FIT_CURVE_POINTS = 4000
};

/* Room above and below what is drawn, as a share of its span. */
static const double plot_room = 0.08;

/* The lower axis reaches this far at least, standard deviations. */
static const double plot_far = 4;

const struct fit_plot fit_plots[FIT_KINDS] = {
    {FIT_EC, "fit-ec", "EC",
     "Dots are the pen's readings, the line is what the fitted bucket would read. After "
     "the last entry the grey band holds 9 readings in 10. Dots below should scatter "
     "about zero: a run of them on one side is something the model does not know of."},
    {FIT_LEVEL, "fit-level", "Water in the bucket",
     "The same for the level. Where the band comes near the floor it is time to fill."},
    {FIT_PH, "fit-ph", "pH",
     "The same for pH. It tells how nitrate and potassium are eaten against each other, "
     "and whether the water's alkalinity is as the scenario says."},
};

struct drawing {
    const struct fit *fit;
    enum fit_kind kind;
};

/* As drawn: display units, a level as the water below it. */
static double plot_shown(const struct drawing *drawing, double value)
{
    const struct scenario *scenario = drawing->fit->scenario;
    switch (drawing->kind) {
    case FIT_EC:
        return display_ec(&scenario->display, value);
    case FIT_LEVEL:
        return display_volume(&scenario->display,
                              shape_volume_l(&scenario->bucket, value));
    default:
        return value;
    }
}

/* What a grower would read off a sample of the estimates' life. */
static double plot_read(const struct drawing *drawing, const struct sample *sample)
{
    switch (drawing->kind) {
    case FIT_EC:
        return plot_shown(
            drawing, fmax(sample->ec_ms_cm + drawing->fit->value[FIT_PEN].estimate, 0));
    case FIT_LEVEL:
        return plot_shown(drawing, sample->level_cm);
    default:
        return sample->ph;
    }
}

static struct fit_band plot_band(const struct drawing *drawing,
                                 const struct fit_moment *moment)
{
    const struct scenario_display *display = &drawing->fit->scenario->display;
    struct fit_band band = drawing->kind == FIT_EC      ? moment->ec_ms_cm
                           : drawing->kind == FIT_LEVEL ? moment->volume_l
                                                        : moment->ph;
    double *const edges[] = {&band.low, &band.median, &band.high};
    for (size_t i = 0; i < sizeof edges / sizeof *edges; i++) {
        *edges[i] = drawing->kind == FIT_EC      ? display_ec(display, *edges[i])
                    : drawing->kind == FIT_LEVEL ? display_volume(display, *edges[i])
                                                 : *edges[i];
    }
    return band;
}

static double plot_last_day(const struct fit *fit)
{
    return fit->logbook->rows[fit->logbook->count - 1].day_d;
}

/* Lowest and highest of all that is drawn. */
struct reach {
    double low, high;
};

static void plot_reach(struct reach *reach, double value)
{
    reach->low = fmin(reach->low, value);
    reach->high = fmax(reach->high, value);
}

static void plot_curve(FILE *out, struct reach *reach, const struct drawing *drawing)
{
    const struct trajectory *path = &drawing->fit->likely.trajectory;
    const double last_d = plot_last_day(drawing->fit);
    struct thin thinning = thin_start(path, FIT_CURVE_POINTS);
    fputs("$curve << END_OF_BLOCK\nNaN NaN\n", out);
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *sample = &path->samples[i];
        if (thin_keeps(&thinning, sample) && sample->day_d <= last_d) {
            const double value = plot_read(drawing, sample);
            fprintf(out, "%.7g %.7g\n", sample->day_d, value);
            plot_reach(reach, value);
        }
    }
    fputs("END_OF_BLOCK\n", out);
}

static void plot_forecast(FILE *out, struct reach *reach, const struct drawing *drawing)
{
    const struct fit *fit = drawing->fit;
    fputs("$band << END_OF_BLOCK\n", out);
    for (size_t i = 0; i < fit->moment_count; i++) {
        const struct fit_band band = plot_band(drawing, &fit->moments[i]);
        fprintf(out, "%.7g %.7g %.7g %.7g\n", fit->moments[i].day_d, band.low,
                band.median, band.high);
        plot_reach(reach, band.low);
        plot_reach(reach, band.high);
    }
    fputs("END_OF_BLOCK\n", out);
}

/* Readings to a block; returns how many, and how far the farthest lies off the curve.
 * What is set aside stretches no axis: it is drawn at its end. */
static size_t plot_readings(FILE *out, const char *block, bool odd_ones,
                            const struct drawing *drawing, struct reach *reach,
                            double *far)
{
    const struct fit *fit = drawing->fit;
    size_t count = 0;
    fprintf(out, "%s << END_OF_BLOCK\nNaN NaN NaN\n", block);
    for (size_t i = 0; i < fit->readings; i++) {
        const struct fit_reading *read = &fit->list[i];
        if (read->kind == drawing->kind && (!odd_ones || fit_is_odd(fit, i))) {
            const double value = plot_shown(drawing, read->value);
            fprintf(out, "%.7g %.7g %.5g\n", fit->logbook->rows[read->row].day_d, value,
                    fit_residual(fit, i));
            if (!read->aside) {
                plot_reach(reach, value);
                *far = fmax(*far, fabs(fit_residual(fit, i)) * (1 + plot_room));
            }
            count++;
        }
    }
    fputs("END_OF_BLOCK\n", out);
    return count;
}

/* Whether the axis of levels shows so little of the bucket that it needs finer marks. */
static bool plot_is_close(const struct scenario *scenario, const struct reach *reach)
{
    const double per_unit = display_volume(&scenario->display, 1);
    const double span_cm = shape_level_cm(&scenario->bucket, reach->high / per_unit) -
                           shape_level_cm(&scenario->bucket, reach->low / per_unit);
    return span_cm <= 10;
}

static void plot_axis(FILE *out, const struct drawing *drawing, const struct reach *reach)
{
    static const char *const what[] = {"EC", "Water in the bucket", "pH"};
    const struct scenario *scenario = drawing->fit->scenario;
    fprintf(out, "what = '%s'\nunit = ", what[drawing->kind]);
    text_gnuplot(out, drawing->kind == FIT_EC ? display_ec_unit(&scenario->display)
                      : drawing->kind == FIT_LEVEL
                          ? display_volume_unit(&scenario->display)
                          : "");
    fputc('\n', out);
    if (drawing->kind == FIT_LEVEL) {
        series_write_level_tics(out, scenario, plot_is_close(scenario, reach));
    } else {
        fputs("level_tics = ''\n", out);
    }
}

/* What plots/fit.gp draws from. */
static void plot_write(FILE *out, const void *context)
{
    const struct drawing *drawing = context;
    const struct fit *fit = drawing->fit;
    struct reach reach = {INFINITY, -INFINITY};
    double far = plot_far;
    plot_curve(out, &reach, drawing);
    plot_forecast(out, &reach, drawing);
    (void)plot_readings(out, "$read", false, drawing, &reach, &far);
    const size_t odds = plot_readings(out, "$odd", true, drawing, &reach, &far);
    const double room = plot_room * fmax(reach.high - reach.low, 1e-3);
    fprintf(out, "days = %.7g\nlast = %.7g\nlow = %.7g\nhigh = %.7g\nfar = %.5g\n",
            fit->moments[fit->moment_count - 1].day_d, plot_last_day(fit),
            reach.low < 0 ? reach.low - room : fmax(reach.low - room, 0),
            reach.high + room, far);
    fprintf(out, "odds = %zu\n", odds);
    plot_axis(out, drawing, &reach);
}

bool fit_plot_applies(const struct fit_plot *plot, const struct fit *fit)
{
    for (size_t i = 0; i < fit->readings; i++) {
        if (fit->list[i].kind == plot->kind) {
            return fit->moment_count > 0;
        }
    }
    return false;
}

enum status fit_plot_draw(const char *folder, const struct fit *fit, struct error *error)
{
    enum status status = STATUS_OK;
    for (size_t i = 0; i < FIT_KINDS && status == STATUS_OK; i++) {
        const struct fit_plot *plot = &fit_plots[i];
        const struct drawing drawing = {fit, plot->kind};
        const struct plot_sketch sketch = {"fit", plot_write, &drawing};
        const struct keep_label label = {plot->stem, plot->heading, ""};
        if (fit_plot_applies(plot, fit)) {
            status = keep_sketch(folder, &label, &sketch, error);
        } else { /* one of an earlier logbook would tell of other readings */
            keep_none(folder, plot->stem);
        }
    }
    return status;
}
