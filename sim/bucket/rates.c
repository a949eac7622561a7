/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/bucket/rates.h"

#include <math.h>
#include <string.h>

#include "pailcast/base/number.h"
#include "pailcast/chem/conductivity.h"

/* Roots drink at full rate with this much of them under water (chosen). */
static const double wet_full_cm = 3.0;

/* Evaporation fades with the last two hundredths of the bucket; concentrations are
 * figured over at least this share of it, so that a drying bucket stays finite (chosen).
 */
static const double evaporation_fade = 0.02;
static const double volume_floor = 1e-4;

double rates_wet(const double state[STATE_COUNT], const struct shape *shape)
{
    const double tip_cm =
        fmax(shape_root_room_cm(shape) - state[STATE_PLANT + PLANT_ROOT_DEPTH], 0);
    const double volume = state[STATE_VOLUME];
    if (volume >= shape_volume_l(shape, tip_cm + wet_full_cm)) {
        return 1;
    }
    return number_switch((shape_level_cm(shape, volume) - tip_cm) / wet_full_cm);
}

static struct plant_medium rates_medium(const double state[STATE_COUNT],
                                        const struct rates *rates)
{
    struct plant_medium medium = {.root_room_cm = shape_root_room_cm(&rates->shape)};
    if (rates->ideal) { /* the unstressed plant feels nothing but its pot */
        return medium;
    }
    const double floor_l = volume_floor * rates->shape.full_l;
    const double per_volume = 1 / fmax(state[STATE_VOLUME], floor_l);
    for (int i = 0; i < ION_COUNT; i++) {
        const double mmol = state[STATE_ION + i];
        medium.mmol_l[i] = mmol > 0 ? mmol * per_volume : 0;
    }
    medium.wet = rates_wet(state, &rates->shape);
    if (rates->plant->feels_solution) {
        const double alkalinity = state[STATE_ALKALINITY] * per_volume;
        medium.ec_ms_cm = conductivity_estimate(medium.mmol_l, alkalinity);
        medium.hydrogen =
            acidity_hydrogen(&rates->acidity, alkalinity, medium.mmol_l[ION_P]);
    }
    return medium;
}

/* Anion charge taken up less cation charge: what uptake leaves behind as alkalinity, the
 * consequence of electroneutrality. meq/d. */
static double rates_alkalinity(const double uptake_mmol_d[ION_COUNT])
{
    double released = 0;
    for (int i = 0; i < ION_COUNT; i++) {
        released -= ion_table[i].charge * uptake_mmol_d[i];
    }
    return released;
}

static void rates_exchange(double rate[STATE_COUNT],
                           const struct plant_exchange *exchange)
{
    rate[STATE_VOLUME] -= exchange->drunk_l_d;
    rate[STATE_DRUNK] = exchange->drunk_l_d;
    for (int i = 0; i < ION_COUNT; i++) {
        rate[STATE_ION + i] = -exchange->uptake_mmol_d[i];
        rate[STATE_UPTAKE + i] = exchange->uptake_mmol_d[i];
    }
    rate[STATE_ALKALINITY] = rates_alkalinity(exchange->uptake_mmol_d);
}

void rates_evaluate(double rate[STATE_COUNT], const double state[STATE_COUNT],
                    const struct rates *rates)
{
    memset(rate, 0, sizeof(double) * STATE_COUNT);
    struct plant_exchange exchange = {0};
    if (!rates->dead) {
        const struct plant_medium medium = rates_medium(state, rates);
        rates->plant->rates(rate + STATE_PLANT, &exchange, state + STATE_PLANT,
                            rates->stage, rates->crop, &rates->setting, &medium,
                            rates->ideal);
    }
    rate[STATE_GROWN] = exchange.grown_g_d;
    if (rates->ideal) {
        rate[STATE_DRUNK] = exchange.drunk_l_d;
        return;
    }
    const double evaporated =
        rates->evaporation_l_d *
        number_switch(state[STATE_VOLUME] / (evaporation_fade * rates->shape.full_l));
    rate[STATE_VOLUME] = -evaporated;
    rate[STATE_EVAPORATED] = evaporated;
    rates_exchange(rate, &exchange);
}
