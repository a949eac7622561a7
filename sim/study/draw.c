/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/draw.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>

#include "pailcast/base/hash.h"

/* GSL's Sobol sequence has 40 dimensions. */
static_assert(2 * DRAW_WIDTH <= 40, "more coordinates than the sequence has dimensions");

/* Normal spreads end here, in standard deviations (chosen). */
static const double draw_cut_sd = 3;

/* Keeps units off 0 and 1, where a lognormal quantile is not finite. */
static const double draw_edge = 1e-9;

static double draw_turned(double unit, uint64_t seed, size_t coordinate)
{
    double turned = unit + hash_unit(seed, 0, coordinate);
    turned -= floor(turned);
    return fmin(fmax(turned, draw_edge), 1 - draw_edge);
}

enum status draw_make(struct draw *draw, size_t points, uint64_t seed,
                      struct error *error)
{
    enum {
        BOTH = 2 * DRAW_WIDTH
    };
    gsl_qrng *sequence = gsl_qrng_alloc(gsl_qrng_sobol, BOTH);
    draw->points = points;
    draw->first = malloc(points * DRAW_WIDTH * sizeof *draw->first);
    draw->second = malloc(points * DRAW_WIDTH * sizeof *draw->second);
    if (sequence == NULL || draw->first == NULL || draw->second == NULL) {
        gsl_qrng_free(sequence);
        draw_free(draw);
        return status_error(error, STATUS_MEMORY, "no memory for %zu draws", points);
    }
    for (size_t i = 0; i < points; i++) {
        double unit[BOTH];
        (void)gsl_qrng_get(sequence, unit);
        for (size_t k = 0; k < DRAW_WIDTH; k++) {
            draw->first[i * DRAW_WIDTH + k] = draw_turned(unit[k], seed, k);
            draw->second[i * DRAW_WIDTH + k] =
                draw_turned(unit[DRAW_WIDTH + k], seed, DRAW_WIDTH + k);
        }
    }
    gsl_qrng_free(sequence);
    return STATUS_OK;
}

void draw_free(struct draw *draw)
{
    if (draw != NULL) {
        free(draw->first);
        free(draw->second);
        *draw = (struct draw){0};
    }
}

/* Standard normal, cut off. */
static double draw_normal(double unit)
{
    const double low = gsl_cdf_ugaussian_P(-draw_cut_sd);
    return gsl_cdf_ugaussian_Pinv(low + unit * (1 - 2 * low));
}

double draw_value(const struct uncertain *uncertain, enum uncertain_input input,
                  double unit)
{
    const bool factor = uncertain_table[input].kind == UNCERTAIN_FACTOR;
    const double middle = factor ? 1 : 0;
    const double spread = uncertain->spread[input];
    if (spread <= 0) {
        return middle;
    }
    switch (uncertain->shape[input]) {
    case UNCERTAIN_UNIFORM:
        return middle + sqrt(3) * spread * (2 * unit - 1);
    case UNCERTAIN_NORMAL:
        return middle + spread * draw_normal(unit);
    default:
        break;
    }
    /* Lognormal of mean 1: log has variance s2 and mean -s2/2. */
    const double s2 = log1p(spread * spread);
    return exp(sqrt(s2) * gsl_cdf_ugaussian_Pinv(unit) - 0.5 * s2);
}

static bool draw_uses_pen(const struct scenario *scenario)
{
    for (size_t i = 0; i < scenario->strategy_count; i++) {
        const struct strategy *strategy = &scenario->strategies[i];
        bool uses = isfinite(strategy->renew_above_ec_ms_cm) ||
                    isfinite(strategy->fill.aim_ec_ms_cm);
        for (size_t k = 0; k < strategy->stage_count; k++) {
            uses |= isfinite(strategy->stages[k].fill.aim_ec_ms_cm);
        }
        if (uses) {
            return true;
        }
    }
    return false;
}

/* Whether a coordinate can change anything in this scenario. */
static bool draw_matters(const struct scenario *scenario, int coordinate)
{
    const enum crop_kind kind = scenario->crop.kind;
    switch (coordinate) {
    case UNCERTAIN_LIGHT:
    case UNCERTAIN_AIR_TEMPERATURE:
    case UNCERTAIN_HUMIDITY:
    case UNCERTAIN_GROWTH:
    case UNCERTAIN_START_MASS:
    case UNCERTAIN_SALT_TOLERANCE:
        return kind == CROP_GROWN;
    case UNCERTAIN_DRINKING:
    case UNCERTAIN_EATING:
    case UNCERTAIN_SALT_UPTAKE:
        return kind != CROP_NONE;
    case UNCERTAIN_EVAPORATION:
        return scenario->evaporation_l_d > 0;
    case UNCERTAIN_PEN:
        return draw_uses_pen(scenario);
    default:
        return true;
    }
}

size_t draw_inputs(int list[DRAW_WIDTH], const struct scenario *scenario)
{
    size_t count = 0;
    for (int i = 0; i < DRAW_WIDTH; i++) {
        const double *spread = scenario->uncertain.spread;
        const bool spreads = i == DRAW_VISITS ? spread[UNCERTAIN_VISIT_TIME] > 0 ||
                                                    spread[UNCERTAIN_MISSED] > 0
                                              : spread[i] > 0;
        if (spreads && draw_matters(scenario, i)) {
            list[count++] = i;
        }
    }
    return count;
}

const char *draw_key(int coordinate)
{
    return coordinate == DRAW_VISITS ? "visits" : uncertain_table[coordinate].key;
}

const char *draw_words(int coordinate)
{
    return coordinate == DRAW_VISITS ? "late and missed visits"
                                     : uncertain_table[coordinate].words;
}
