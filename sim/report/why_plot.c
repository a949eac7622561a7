/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "figure.h"
#include "keep.h"
#include "pailcast/base/file.h"
#include "pailcast/base/text.h"
#include "pailcast/report/plot.h"
#include "pailcast/report/why.h"
#include "pailcast/scenario/display.h"

/* A part smaller than this share of the largest has no bar (chosen). */
static const double plot_least = 5e-4;

/* Room above and below the bars for the words at them, as a share of their span. */
static const double plot_room = 0.1;

enum {
    PLOT_BARS_MAX = WHY_PART_COUNT + 2
};

/* As plots/why.gp tells them apart. */
enum bar_kind {
    BAR_READING,
    BAR_RAISES,
    BAR_LOWERS
};

struct bar {
    char name[32];
    double from_ms_cm, to_ms_cm;
    enum bar_kind kind;
};

/* One reading, what changed it, and the next. */
struct waterfall {
    int count;
    struct bar bars[PLOT_BARS_MAX];
};

static void plot_reading(struct waterfall *fall, double day_d, double ec_ms_cm)
{
    struct bar *bar = &fall->bars[fall->count++];
    (void)snprintf(bar->name, sizeof bar->name, "day %.6g", day_d);
    bar->to_ms_cm = ec_ms_cm;
    bar->kind = BAR_READING;
}

static struct waterfall plot_waterfall(const struct why_interval *whole)
{
    struct waterfall fall = {0};
    double most = 0;
    double level = whole->ec_from_ms_cm;
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        most = fmax(most, fabs(whole->tally.part[i]));
    }
    plot_reading(&fall, whole->from_d, level);
    for (int i = 0; i < WHY_PART_COUNT; i++) {
        const double part = whole->tally.part[i];
        if (fabs(part) > plot_least * most) {
            struct bar *bar = &fall.bars[fall.count++];
            (void)snprintf(bar->name, sizeof bar->name, "%s", why_part_key[i]);
            bar->from_ms_cm = level;
            bar->to_ms_cm = level + part;
            bar->kind = part > 0 ? BAR_RAISES : BAR_LOWERS;
        }
        level += part;
    }
    plot_reading(&fall, whole->to_d, whole->ec_to_ms_cm);
    return fall;
}

static void plot_bar(FILE *out, int number, const struct bar *bar,
                     const struct scenario_display *display)
{
    const double shown = display_ec(display, bar->to_ms_cm - bar->from_ms_cm);
    const int digits = display_ec_digits(display);
    fprintf(out, "names[%d] = ", number);
    text_gnuplot(out, bar->name);
    fprintf(out, "\nlabels[%d] = '%s%.*f'\n", number, bar->kind == BAR_RAISES ? "+" : "",
            digits, shown);
    fprintf(out, "starts[%d] = %.7g\nends[%d] = %.7g\nkinds[%d] = %d\n", number,
            display_ec(display, bar->from_ms_cm), number,
            display_ec(display, bar->to_ms_cm), number, (int)bar->kind);
}

/* What plots/why.gp draws from. */
static void plot_write(FILE *out, const void *context)
{
    static const char *const arrays[] = {"names", "labels", "starts", "ends", "kinds"};
    const struct why *why = context;
    const struct scenario_display *display = &why->scenario->display;
    const struct waterfall fall = plot_waterfall(&why->intervals[0]);
    double low = 0;
    double high = 0;
    fputs("days = 1\nec_unit = ", out);
    text_gnuplot(out, display_ec_unit(display));
    fputs("\nname = ", out);
    text_gnuplot(out, why->strategy->name);
    fprintf(out, "\nbars = %d\n", fall.count);
    for (size_t i = 0; i < sizeof arrays / sizeof *arrays; i++) {
        fprintf(out, "array %s[%d]\n", arrays[i], fall.count);
    }
    for (int i = 0; i < fall.count; i++) {
        plot_bar(out, i + 1, &fall.bars[i], display);
        low = fmin(low, fmin(fall.bars[i].from_ms_cm, fall.bars[i].to_ms_cm));
        high = fmax(high, fmax(fall.bars[i].from_ms_cm, fall.bars[i].to_ms_cm));
    }
    const double room = plot_room * (high - low);
    fprintf(out, "low = %.7g\nhigh = %.7g\n",
            display_ec(display, low < 0 ? low - room : 0),
            display_ec(display, high > low ? high + room : 1));
}

/* The file's name without its ending. */
static void plot_stem(char to[WHY_FILE_NAME_SIZE], const struct why *why)
{
    char slug[TEXT_NAME_SIZE];
    text_slug(slug, sizeof slug, why->strategy->name);
    (void)snprintf(to, WHY_FILE_NAME_SIZE, "%s-why", slug);
}

void why_plot_file_name(char to[WHY_FILE_NAME_SIZE], const struct why *why)
{
    char stem[WHY_FILE_NAME_SIZE];
    plot_stem(stem, why);
    (void)snprintf(to, WHY_FILE_NAME_SIZE, "%.*s.svg", WHY_FILE_NAME_SIZE - 5, stem);
}

static enum status plot_draw_and_keep(const char *folder, const struct why *why,
                                      struct error *error)
{
    const struct plot_sketch sketch = {"why", plot_write, why};
    char stem[WHY_FILE_NAME_SIZE];
    char title[TEXT_NAME_SIZE + 32];
    plot_stem(stem, why);
    (void)snprintf(title, sizeof title, "Why EC changed: %s", why->strategy->name);
    return keep_sketch(folder, &(struct keep_label){stem, title, ""}, &sketch, error);
}

enum status why_plot_draw(const char *folder, const struct why *why, struct error *error)
{
    struct file_claim claim = {0};
    enum status status = file_claim(&claim, folder, error);
    if (status == STATUS_OK) {
        status = plot_draw_and_keep(folder, why, error);
    }
    file_release(&claim);
    return status;
}
