/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "series.h"

#include <math.h>
#include <string.h>

#include "figure.h"
#include "layers.h"
#include "pailcast/base/hash.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "scale.h"
#include "thin.h"

enum {
    SERIES_LINE_POINTS = 1200, /* of a curve: a picture is 900 wide */
    SERIES_LABEL_CHARACTERS = 36
};

/* The part of the height above the highest value that stays free. */
static const double series_headroom = 1.07;

static void series_number(FILE *out, double value)
{
    if (isfinite(value)) {
        fprintf(out, " %.7g", value);
    } else {
        fputs(" NaN", out);
    }
}

static void series_name(FILE *out, const char *variable, const char *name)
{
    char label[SERIES_LABEL_CHARACTERS * 4 + 8];
    size_t bytes = 0;
    int characters = 0;
    for (; name[bytes] != '\0' && bytes + 8 < sizeof label; bytes++) {
        characters += ((unsigned char)name[bytes] & 0xc0) != 0x80;
        if (characters > SERIES_LABEL_CHARACTERS) {
            break;
        }
        label[bytes] = name[bytes];
    }
    (void)snprintf(label + bytes, sizeof label - bytes, "%s",
                   name[bytes] != '\0' ? "…" : "");
    fprintf(out, "%s = ", variable);
    text_gnuplot(out, label);
    fputc('\n', out);
}

/* Writes `name`_top, the end of an axis, and `name`_note, words where a peak is cut off.
 */
static void series_scale(FILE *out, const char *name, const struct scale *scale,
                         double per_unit, const char *unit)
{
    const double top = series_headroom * scale->top * per_unit;
    fprintf(out, "%s_top = %.7g\n%s_note = '", name, top > 0 ? top : 1, name);
    if (scale->cut) {
        fprintf(out, "off the scale: up to %.3g %s on day %.0f", scale->peak * per_unit,
                unit, scale->peak_day_d);
    }
    fprintf(out, "'\n%s_peak = %.7g\n", name, scale->peak_day_d);
}

/* The joined scale of ions: those the plant eats first (food), or those that gather. */
static struct scale series_ions_scale(const struct trajectory *path, bool food)
{
    struct scale scale = {0};
    for (int i = 0; i < ION_COUNT; i++) {
        const bool gathers =
            !ion_table[i].nutrient || i == (int)ION_CA || i == (int)ION_SO4;
        if (gathers != food) {
            scale = scale_join(scale, scale_of(path, i));
        }
    }
    return scale;
}

static double series_last_day(const struct compare *compare)
{
    double day_d = 0;
    for (size_t i = 0; i < compare->row_count; i++) {
        day_d = fmax(day_d, compare->rows[i].life.end_d);
    }
    return day_d > 0 ? day_d : compare->scenario->duration_d;
}

/* Band of wanted values as an area from 0 to the last day; open ends are drawn up to
 * `top`. */
static void series_band(FILE *out, const char *block, double low, double high, double top,
                        double days)
{
    const bool open = !isfinite(high);
    fprintf(out, "%s << END_OF_BLOCK\n", block);
    fprintf(out, "0 %.7g %.7g\n", fmax(low, 0), open ? top : high);
    fprintf(out, "%.7g %.7g %.7g\n", days, fmax(low, 0), open ? top : high);
    fputs("END_OF_BLOCK\n", out);
}

/* What every plot needs; ec is the scale of EC, mS/cm. */
static void series_common(FILE *out, const struct compare *compare, struct scale ec)
{
    const struct scenario *scenario = compare->scenario;
    const struct scenario_limits *limits = &scenario->limits;
    const struct scenario_display *display = &scenario->display;
    const double days = series_last_day(compare);
    ec = scale_reach(ec, limits->ec_high_ms_cm);
    fprintf(out, "days = %.7g\nec_unit = ", days);
    text_gnuplot(out, display_ec_unit(display));
    fputs("\nvolume_unit = ", out);
    text_gnuplot(out, display_volume_unit(display));
    fprintf(out, "\nplant = %d\n", scenario->crop.kind != CROP_NONE);
    fprintf(out, "ec_band = %d\n",
            isfinite(limits->ec_high_ms_cm) || limits->ec_low_ms_cm > 0);
    fprintf(out, "ec_limit = %d\n", isfinite(limits->ec_high_ms_cm));
    series_scale(out, "ec", &ec, display_ec(display, 1), display_ec_unit(display));
    series_band(out, "$band", display_ec(display, fmax(limits->ec_low_ms_cm, 0)),
                display_ec(display, limits->ec_high_ms_cm),
                2 * display_ec(display, fmax(ec.top, 1)), days);
}

/* Litres at which the water just touches the root tips. */
static double series_root_tip_l(const struct sample *sample, const struct shape *shape)
{
    const double depth_cm = sample->state[STATE_PLANT + PLANT_ROOT_DEPTH];
    return shape_volume_l(shape, fmax(shape_root_room_cm(shape) - depth_cm, 0));
}

static void series_samples(FILE *out, const struct trajectory *path,
                           const struct scenario *scenario)
{
    const struct scenario_display *display = &scenario->display;
    struct thin thinning = thin_start(path, SERIES_LINE_POINTS);
    fputs("$samples << END_OF_BLOCK\n", out);
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *sample = &path->samples[i];
        if (!thin_keeps(&thinning, sample) && i + 1 < path->sample_count) {
            continue;
        }
        const struct liquid liquid = state_liquid(sample->state);
        series_number(out, sample->day_d);
        series_number(out, display_volume(display, sample->state[STATE_VOLUME]));
        series_number(
            out, display_volume(display, series_root_tip_l(sample, &scenario->bucket)));
        series_number(out, display_ec(display, sample->ec_ms_cm));
        series_number(out, sample->ph);
        series_number(out, sample->state[STATE_PLANT + PLANT_DRY_MASS]);
        for (size_t ion = 0; ion < ION_COUNT; ion++) {
            series_number(out, liquid.mmol_l[ion]);
        }
        fputc('\n', out);
    }
    fputs("END_OF_BLOCK\n", out);
    enum {
        FIRST_ION_COLUMN = 7
    };
    for (size_t ion = 0; ion < ION_COUNT; ion++) {
        fprintf(out, "%s = %zu\n", ion_table[ion].key, FIRST_ION_COLUMN + ion);
    }
}

/* Blocks are never empty: gnuplot stops at one; the counts say whether to draw them. */
static void series_visits(FILE *out, const struct trajectory *path,
                          const struct scenario_display *display)
{
    fprintf(out, "visits = %zu\n$visits << END_OF_BLOCK\nNaN NaN NaN\n",
            path->visit_count);
    for (size_t i = 0; i < path->visit_count; i++) {
        const struct visit_record *visit = &path->visits[i];
        series_number(out, visit->day_d);
        series_number(out, display_ec(display, visit->ec_after_ms_cm));
        series_number(out, display_volume(display, visit->volume_after_l));
        fputc('\n', out);
    }
    size_t renewals = 0;
    fputs("END_OF_BLOCK\n$renewals << END_OF_BLOCK\nNaN\n", out);
    for (size_t i = 0; i < path->visit_count; i++) {
        if (path->visits[i].renewal.reason != RENEW_NOT) {
            fprintf(out, "%.7g\n", path->visits[i].day_d);
            renewals++;
        }
    }
    size_t adjusts = 0;
    fputs("END_OF_BLOCK\n$adjusts << END_OF_BLOCK\nNaN NaN\n", out);
    for (size_t i = 0; i < path->visit_count; i++) {
        if (path->visits[i].adjust_mmol > 0) {
            fprintf(out, "%.7g %.7g\n", path->visits[i].day_d, path->visits[i].ph_after);
            adjusts++;
        }
    }
    fprintf(out, "END_OF_BLOCK\nrenewals = %zu\nadjusts = %zu\n", renewals, adjusts);
}

/* Litres drunk from day 0 to day_d, between samples by a straight line; *from is where to
 * look on. */
static double series_drunk_l(const struct trajectory *path, double day_d, size_t *from)
{
    size_t i = *from;
    while (i + 1 < path->sample_count && path->samples[i + 1].day_d <= day_d) {
        i++;
    }
    *from = i;
    const struct sample *a = &path->samples[i];
    if (i + 1 >= path->sample_count) {
        return a->state[STATE_DRUNK];
    }
    const struct sample *b = &path->samples[i + 1];
    return a->state[STATE_DRUNK] + (b->state[STATE_DRUNK] - a->state[STATE_DRUNK]) *
                                       (day_d - a->day_d) / (b->day_d - a->day_d);
}

/* Litres drunk in each whole day lived. */
static void series_daily(FILE *out, const struct life *life,
                         const struct scenario_display *display)
{
    const struct trajectory *path = &life->trajectory;
    double before_l = 0;
    double today_l = 0;
    size_t place = 0;
    fputs("$daily << END_OF_BLOCK\n", out);
    int day = 0;
    for (; path->sample_count > 0 && day + 1 <= life->end_d; day++) {
        const double after_l = series_drunk_l(path, day + 1, &place);
        today_l = after_l - before_l;
        before_l = after_l;
        fprintf(out, "%d %.5g\n", day, display_volume(display, today_l));
    }
    fprintf(out, "%d %.5g\nEND_OF_BLOCK\n", day, display_volume(display, today_l));
}

static void series_reference(FILE *out, const struct trajectory *path)
{
    struct thin thinning = thin_start(path, SERIES_LINE_POINTS);
    double heaviest = 0;
    fputs("$reference << END_OF_BLOCK\n0 0\n", out);
    for (size_t i = 0; i < path->sample_count; i++) {
        const double mass_g = path->samples[i].state[STATE_PLANT + PLANT_DRY_MASS];
        if (thin_keeps(&thinning, &path->samples[i]) || i + 1 == path->sample_count) {
            fprintf(out, "%.7g %.7g\n", path->samples[i].day_d, mass_g);
        }
        heaviest = fmax(heaviest, mass_g);
    }
    fprintf(out, "END_OF_BLOCK\nreference = %d\n", heaviest > 0);
}

void series_write_level_tics(FILE *out, const struct scenario *scenario, bool fine)
{
    static const double steps[][2] = {[DISPLAY_CM] = {5, 1}, [DISPLAY_INCH] = {2, 0.5}};
    const struct shape *shape = &scenario->bucket;
    const struct scenario_display *display = &scenario->display;
    const double step = steps[display->length][fine ? 1 : 0];
    const double step_cm = step / display_length(display, 1);
    fputs("level_tics = '", out);
    for (int i = 0; i * step_cm <= shape->height_cm; i++) {
        fprintf(out, "%s\"%g\" %.7g", i == 0 ? "" : ", ", i * step,
                display_volume(display, shape_volume_l(shape, i * step_cm)));
    }
    fprintf(out, "'\nlevel_unit = '%s'\n", display_length_unit(display));
}

void series_write_strategy(FILE *out, const struct compare *compare, size_t row,
                           unsigned blocks)
{
    const struct scenario *scenario = compare->scenario;
    const struct life *life = &compare->rows[row].life;
    series_name(out, "name", compare->rows[row].strategy->name);
    series_common(out, compare, scale_of(&life->trajectory, SCALE_EC));
    const struct scale food = series_ions_scale(&life->trajectory, true);
    const struct scale rest = series_ions_scale(&life->trajectory, false);
    series_scale(out, "food", &food, 1, "mmol/L");
    series_scale(out, "rest", &rest, 1, "mmol/L");
    fprintf(out, "full = %.7g\n",
            display_volume(&scenario->display, scenario->bucket.full_l));
    fprintf(out, "ph_band = %d\n",
            isfinite(scenario->limits.ph_high) || scenario->limits.ph_low > 0);
    series_band(out, "$ph_band", scenario->limits.ph_low, scenario->limits.ph_high, 14,
                series_last_day(compare));
    series_write_level_tics(out, scenario, false);
    series_visits(out, &life->trajectory, &scenario->display);
    if ((blocks & PLOT_SAMPLES) != 0) {
        series_samples(out, &life->trajectory, scenario);
    }
    if ((blocks & PLOT_GROWTH) != 0) {
        series_daily(out, life, &scenario->display);
        series_reference(out, &compare->unstressed.trajectory);
    }
    if ((blocks & PLOT_MAKEUP) != 0) {
        layers_write(out, &compare->rows[row], scenario);
    }
}

static void series_result(FILE *out, const struct compare *compare)
{
    const struct scenario_display *display = &compare->scenario->display;
    bool grows = false;
    fputs("$result << END_OF_BLOCK\n", out);
    for (size_t i = 0; i < compare->row_count; i++) {
        const struct compare_row *row = &compare->rows[i];
        const struct sample *last = figure_last(compare, i);
        fprintf(out, "%zu", i + 1);
        series_number(out, 100 * row->growth_index);
        series_number(out, display_volume(display, last->drained_l));
        series_number(out, row->life.ledger.salt_poured_g);
        series_number(
            out, display_volume(display, last->water_poured_l + last->stock_poured_l));
        fputc('\n', out);
        grows = grows || isfinite(row->growth_index);
    }
    fprintf(out, "END_OF_BLOCK\ngrows = %d\n", grows);
}

void series_write_compare(FILE *out, const struct compare *compare)
{
    const struct scenario_display *display = &compare->scenario->display;
    struct scale ec = {0};
    for (size_t i = 0; i < compare->row_count; i++) {
        ec = scale_join(ec, scale_of(&compare->rows[i].life.trajectory, SCALE_EC));
    }
    series_common(out, compare, ec);
    fprintf(out, "count = %zu\narray names[%zu]\n", compare->row_count,
            compare->row_count);
    for (size_t i = 0; i < compare->row_count; i++) {
        char variable[32];
        (void)snprintf(variable, sizeof variable, "names[%zu]", i + 1);
        series_name(out, variable, compare->rows[i].strategy->name);
    }
    fputs("$ec << END_OF_BLOCK\n", out);
    for (size_t i = 0; i < compare->row_count; i++) {
        const struct trajectory *path = &compare->rows[i].life.trajectory;
        struct thin thinning = thin_start(path, SERIES_LINE_POINTS);
        for (size_t k = 0; k < path->sample_count; k++) {
            if (thin_keeps(&thinning, &path->samples[k]) || k + 1 == path->sample_count) {
                fprintf(out, "%.7g %.5g\n", path->samples[k].day_d,
                        display_ec(display, path->samples[k].ec_ms_cm));
            }
        }
        fputs("\n\n", out);
    }
    fputs("END_OF_BLOCK\n", out);
    series_result(out, compare);
}

static void series_hash_text(uint64_t *hash, const char *text)
{
    *hash = hash_text(*hash, text, strlen(text) + 1);
}

static void series_hash_number(uint64_t *hash, double value)
{
    *hash = hash_text(*hash, &value, sizeof value);
}

static void series_hash_wishes(uint64_t *hash, const struct scenario *scenario)
{
    series_hash_text(hash, scenario->title);
    series_hash_number(hash, scenario->limits.ec_high_ms_cm);
    series_hash_number(hash, scenario->limits.ec_low_ms_cm);
    series_hash_number(hash, scenario->limits.ph_high);
    series_hash_number(hash, scenario->limits.ph_low);
    series_hash_number(hash, (double)scenario->display.ec);
    series_hash_number(hash, (double)scenario->display.volume);
    series_hash_number(hash, (double)scenario->display.length);
}

uint64_t series_stamp(const struct compare *compare)
{
    uint64_t hash = hash_text_start;
    series_hash_wishes(&hash, compare->scenario);
    for (size_t i = 0; i < compare->row_count; i++) {
        const struct compare_row *row = &compare->rows[i];
        series_hash_text(&hash, row->strategy->name);
        for (size_t k = 0; k < row->life.trajectory.sample_count; k++) {
            const struct sample *sample = &row->life.trajectory.samples[k];
            series_hash_number(&hash, sample->day_d);
            series_hash_number(&hash, sample->ec_ms_cm);
            hash = hash_text(hash, sample->state, sizeof sample->state);
        }
    }
    return hash;
}
