/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a study keeps of one life: days and amounts as single-precision numbers, and a few
 * curves on the grid of days. */
#ifndef PAILCAST_STUDY_OUTCOME_H
#define PAILCAST_STUDY_OUTCOME_H

#include "pailcast/run/life.h"

/* code, key (files for machines), words. First the days on which something first
 * happened, NAN if never; then amounts. */
#define OUTCOME_LIST(X)                                                                  \
    X(OUTCOME_EC_HIGH, "ec_high", "EC above its limit")                                  \
    X(OUTCOME_EC_LOW, "ec_low", "EC below its limit")                                    \
    X(OUTCOME_SODIUM_HIGH, "sodium_high", "sodium above its limit")                      \
    X(OUTCOME_ION_HIGH, "ion_high", "another ion above its limit")                       \
    X(OUTCOME_NUTRIENT_LOW, "nutrient_low", "a nutrient run out")                        \
    X(OUTCOME_PH_HIGH, "ph_high", "pH above its limit")                                  \
    X(OUTCOME_PH_LOW, "ph_low", "pH below its limit")                                    \
    X(OUTCOME_ROOTS_DRY, "roots_dry", "roots dry")                                       \
    X(OUTCOME_LOST, "lost", "plant lost")                                                \
    X(OUTCOME_ACTION, "action", "any of these")                                          \
    X(OUTCOME_GROWTH_INDEX, "growth_index", "growth")                                    \
    X(OUTCOME_DRY_MASS, "dry_mass_g", "dry mass")                                        \
    X(OUTCOME_DRUNK, "drunk_L", "drunk")                                                 \
    X(OUTCOME_EVAPORATED, "evaporated_L", "evaporated")                                  \
    X(OUTCOME_WATER_POURED, "water_poured_L", "water poured")                            \
    X(OUTCOME_STOCK_POURED, "stock_poured_L", "stock poured")                            \
    X(OUTCOME_DRAINED, "drained_L", "dumped")                                            \
    X(OUTCOME_SALT_POURED, "salt_poured_g", "salt poured")                               \
    X(OUTCOME_VISITS, "visits", "visits")                                                \
    X(OUTCOME_RENEWALS, "renewals", "renewals")                                          \
    X(OUTCOME_EC_LAST, "ec_last_mS_cm", "EC at the end")                                 \
    X(OUTCOME_QUIET, "quiet_d", "days without need of action")

enum outcome_code {
#define OUTCOME_ENUM(code, key, words) code,
    OUTCOME_LIST(OUTCOME_ENUM)
#undef OUTCOME_ENUM
    OUTCOME_COUNT,
    OUTCOME_DAYS = OUTCOME_GROWTH_INDEX, /* codes before it are days */
    /* Of a code before OUTCOME_DAYS, at OUTCOME_LEFT + code: the day of the last visit
     * where it is so right after that (life.h), NAN where it is not. */
    OUTCOME_LEFT = OUTCOME_COUNT,
    OUTCOME_WIDTH = OUTCOME_LEFT + OUTCOME_DAYS /* numbers kept of a life */
};

/* Curves. */
#define OUTCOME_CURVE_LIST(X)                                                            \
    X(OUTCOME_CURVE_EC, "ec_mS_cm")                                                      \
    X(OUTCOME_CURVE_VOLUME, "volume_L")                                                  \
    X(OUTCOME_CURVE_SODIUM, "na_mmol_L")

enum outcome_curve {
#define OUTCOME_CURVE_ENUM(code, key) code,
    OUTCOME_CURVE_LIST(OUTCOME_CURVE_ENUM)
#undef OUTCOME_CURVE_ENUM
    OUTCOME_CURVES
};

struct outcome_row {
    const char *key, *words;
};
extern const struct outcome_row outcome_table[OUTCOME_COUNT];
extern const char *const outcome_curve_keys[OUTCOME_CURVES];

/* Reads value[OUTCOME_WIDTH] off a finished life and the unstressed plant's. */
void outcome_of(float value[OUTCOME_WIDTH], const struct life *life,
                const struct life *unstressed, double duration_d);

/* Reads curve c at grid point i into value[c * grid_count + i]; the life was sampled on
 * the grid. */
void outcome_curves(float value[], size_t grid_count, const struct life *life);

/* Lives one world: the unstressed plant, then every strategy, rows grid_step_d apart.
 * values[strategy * OUTCOME_WIDTH]; curves[strategy * OUTCOME_CURVES * grid_count], or
 * NULL. *world's numerics and sampling are set for studies here: one-step method at
 * five times the scenario's rtol, and CVODE where that fails. */
enum status outcome_world(float values[], float curves[], size_t grid_count,
                          double grid_step_d, struct scenario *world,
                          struct error *error) STATUS_MUST_CHECK;

#endif
