/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Eating: what the roots of a grown plant take up, ion by ion.
 *
 * Demand D of nitrogen, phosphorus and potassium is what new tissue needs and what the
 * plant lacks, luxury included; supply S is Michaelis-Menten kinetics at the roots;
 * uptake is S D / (S^4 + D^4)^(1/4), never above either and zero with an empty bucket.
 * Calcium, magnesium and sulfate come with the water times a selectivity, and actively
 * where that is too little; sodium and chloride come with the water alone, up to a cap.
 */
#ifndef PAILCAST_PLANT_UPTAKE_H
#define PAILCAST_PLANT_UPTAKE_H

#include "pailcast/plant/plant.h"

/* Writes exchange->uptake_mmol_d for a plant drinking exchange->drunk_l_d and growing
 * exchange->grown_g_d. optimum_mmol_g[NUTRIENT_COUNT] of the present stage. */
void uptake_rates(struct plant_exchange *exchange, const double state[PLANT_STATE_COUNT],
                  const double optimum_mmol_g[NUTRIENT_COUNT],
                  const struct crop_growth *growth, const struct plant_setting *setting,
                  const struct plant_medium *medium);

#endif
