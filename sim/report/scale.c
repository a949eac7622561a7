/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scale.h"

#include <math.h>

enum {
    SCALE_BINS = 512
};

static const double scale_usual_share = 0.96;
static const double scale_peak_ratio = 1.6;
static const double scale_cut_ratio = 1.25;

static double scale_value(const struct sample *sample, int curve)
{
    if (curve == SCALE_EC) {
        return sample->ec_ms_cm;
    }
    const double volume_l = sample->state[STATE_VOLUME];
    return volume_l > 0 ? sample->state[STATE_ION + curve] / volume_l : NAN;
}

/* The value that `scale_usual_share` of the samples stay below, to a part in SCALE_BINS
 * of peak; peak > 0. */
static double scale_usual(const struct trajectory *path, int curve, double peak)
{
    size_t bins[SCALE_BINS] = {0};
    size_t all = 0;
    for (size_t i = 0; i < path->sample_count; i++) {
        const double value = scale_value(&path->samples[i], curve);
        if (isfinite(value)) {
            const double place = fmin(fmax(value, 0) / peak * SCALE_BINS, SCALE_BINS - 1);
            bins[(size_t)place]++;
            all++;
        }
    }
    size_t below = 0;
    size_t bin = 0;
    for (; bin < SCALE_BINS; bin++) {
        below += bins[bin];
        if ((double)below >= scale_usual_share * (double)all) {
            break;
        }
    }
    return peak * (double)(bin + 1) / SCALE_BINS;
}

struct scale scale_of(const struct trajectory *path, int curve)
{
    struct scale scale = {0};
    for (size_t i = 0; i < path->sample_count; i++) {
        const double value = scale_value(&path->samples[i], curve);
        if (value > scale.peak) {
            scale.peak = value;
            scale.peak_day_d = path->samples[i].day_d;
        }
    }
    scale.top = scale.peak;
    if (scale.peak > 0) {
        const double usual = scale_usual(path, curve, scale.peak);
        if (scale.peak > scale_peak_ratio * usual) {
            scale.top = scale_cut_ratio * usual;
            scale.cut = true;
        }
    }
    return scale;
}

struct scale scale_join(struct scale a, struct scale b)
{
    struct scale both = a.peak >= b.peak ? a : b;
    both.top = fmax(a.top, b.top);
    both.cut = both.peak > both.top;
    return both;
}

struct scale scale_reach(struct scale a, double level)
{
    if (isfinite(level) && level > a.top) {
        a.top = level;
        a.cut = a.peak > a.top;
    }
    return a;
}
