/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/bucket/state.h"

#include <math.h>

struct liquid state_liquid(const double state[STATE_COUNT])
{
    struct liquid liquid = {0};
    const double volume = state[STATE_VOLUME];
    if (volume <= 0) {
        return liquid;
    }
    for (int i = 0; i < ION_COUNT; i++) {
        liquid.mmol_l[i] = fmax(state[STATE_ION + i], 0) / volume;
    }
    liquid.alkalinity_meq_l = state[STATE_ALKALINITY] / volume;
    return liquid;
}

void state_pour(double state[STATE_COUNT], const struct liquid *liquid, double litres)
{
    state[STATE_VOLUME] += litres;
    for (int i = 0; i < ION_COUNT; i++) {
        state[STATE_ION + i] += liquid->mmol_l[i] * litres;
    }
    state[STATE_ALKALINITY] += liquid->alkalinity_meq_l * litres;
}

void state_drain(double state[STATE_COUNT], double litres)
{
    const double volume = state[STATE_VOLUME];
    if (volume <= 0) {
        return;
    }
    const double kept = litres >= volume ? 0 : 1 - litres / volume;
    for (int i = STATE_VOLUME; i <= STATE_ALKALINITY; i++) {
        state[i] *= kept;
    }
}

/* Moves what is below nothing in either to the other, as far as what was taken reaches:
 * their sum stays. */
static void state_even_out(double *left, double *taken)
{
    if (*taken < 0) {
        *left += *taken;
        *taken = 0;
    }
    if (*left < 0) {
        const double back = fmin(-*left, *taken);
        *left += back;
        *taken -= back;
    }
}

void state_settle(double state[STATE_COUNT])
{
    state_even_out(&state[STATE_VOLUME], &state[STATE_DRUNK]);
    state_even_out(&state[STATE_VOLUME], &state[STATE_EVAPORATED]);
    for (int i = 0; i < ION_COUNT; i++) {
        const double before = state[STATE_ION + i];
        state_even_out(&state[STATE_ION + i], &state[STATE_UPTAKE + i]);
        const double back = state[STATE_ION + i] - before;
        /* with what uptake exchanged for it, and out of the plant that stored it */
        state[STATE_ALKALINITY] += ion_table[i].charge * back;
        state[STATE_PLANT + plant_tissue_of[i]] -= fmax(back, 0);
    }
    for (int i = STATE_PLANT; i < STATE_DRUNK; i++) {
        state[i] = fmax(state[i], 0);
    }
}

double state_salt_g(const double state[STATE_COUNT])
{
    const double mg_per_g = 1000;
    double mass = 0;
    for (int i = 0; i < ION_COUNT; i++) {
        mass += state[STATE_ION + i] * ion_table[i].molar_mass;
    }
    return mass / mg_per_g;
}

const char *state_name(size_t component)
{
    static const char *const ions[ION_COUNT] = {
        "nitrate in the bucket",   "ammonium in the bucket", "phosphate in the bucket",
        "potassium in the bucket", "calcium in the bucket",  "magnesium in the bucket",
        "sulfate in the bucket",   "sodium in the bucket",   "chloride in the bucket"};
    static const char *const plant[PLANT_TISSUE] = {
        "dry mass", "root mass", "leaf area", "root depth", "thermal time", "thirst"};
    if (component == STATE_VOLUME) {
        return "water in the bucket";
    }
    if (component < STATE_ALKALINITY) {
        return ions[component - STATE_ION];
    }
    if (component == STATE_ALKALINITY) {
        return "alkalinity of the bucket";
    }
    if (component < STATE_PLANT + PLANT_TISSUE) {
        return plant[component - STATE_PLANT];
    }
    return component < STATE_DRUNK ? "content of the plant" : "running totals";
}
