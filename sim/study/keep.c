/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/keep.h"

#include <math.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

const struct keep_noise keep_noise_usual = {0.05, 0.2, 0.1};

static double keep_rounded(double value, double step)
{
    return round(value / step) * step;
}

/* Readings are noted as the scales show them: 0.01 mS/cm, 1 mm, 0.1 pH. */
static double keep_noted(gsl_rng *rng, double value, double sd, double step)
{
    return fmax(keep_rounded(value + gsl_ran_gaussian(rng, sd), step), 0);
}

/* Poured and drained litres are weighed: to a gram. */
static double keep_weighed(double litres)
{
    return keep_rounded(litres, 0.001);
}

static void keep_blur(struct logbook_row *row, const struct shape *shape,
                      const struct keep_noise *noise, gsl_rng *rng)
{
    row->ec_ms_cm = keep_noted(rng, row->ec_ms_cm, noise->ec_ms_cm, 0.01);
    row->level_cm = keep_noted(rng, row->level_cm, noise->level_cm, 0.1);
    row->ph = keep_noted(rng, row->ph, noise->ph, 0.1);
    row->volume_l = keep_rounded(shape_volume_l(shape, row->level_cm), 0.01);
    row->water_l = keep_weighed(row->water_l);
    row->stock_l = keep_weighed(row->stock_l);
    row->drained_l = keep_weighed(row->drained_l);
}

enum status keep_logbook(struct logbook *logbook, const struct life *life,
                         const struct scenario *scenario, const struct keep_noise *noise,
                         uint64_t seed, struct error *error)
{
    *logbook = (struct logbook){0};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    if (rng == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the logbook");
    }
    gsl_rng_set(rng, (unsigned long)seed);
    enum status status = STATUS_OK;
    for (size_t i = 0; i <= life->trajectory.visit_count && status == STATUS_OK; i++) {
        struct logbook_row row = {.adjust_g = NAN};
        if (i == 0) {
            const struct sample *first = &life->trajectory.samples[0];
            row.ec_ms_cm = first->ec_ms_cm;
            row.ph = first->ph;
            row.volume_l = first->state[STATE_VOLUME];
        } else {
            const struct visit_record *visit = &life->trajectory.visits[i - 1];
            row = (struct logbook_row){.day_d = visit->day_d,
                                       .ec_ms_cm = visit->ec_before_ms_cm,
                                       .volume_l = visit->volume_before_l,
                                       .ph = visit->ph_before,
                                       .water_l = visit->water_l,
                                       .stock_l = visit->stock_l,
                                       .drained_l = visit->drained_l,
                                       .adjust_g = NAN};
        }
        row.ec_ms_cm += scenario->learned.pen_offset_ms_cm;
        row.level_cm = shape_level_cm(&scenario->bucket, row.volume_l);
        if (noise != NULL) {
            keep_blur(&row, &scenario->bucket, noise, rng);
        }
        status = logbook_add(logbook, &row, error);
    }
    gsl_rng_free(rng);
    return status;
}
