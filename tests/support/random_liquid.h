/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeatable random liquids. */
#ifndef TESTS_SUPPORT_RANDOM_LIQUID_H
#define TESTS_SUPPORT_RANDOM_LIQUID_H

#include <math.h>
#include <stdint.h>

#include "pailcast/chem/liquid.h"

/* Uniform in [0, 1): xorshift64* (Vigna 2016), good enough and the same everywhere. */
static inline double random_unit(uint64_t *seed)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (double)((*seed * UINT64_C(2685821657736338717)) >> 11) / 9007199254740992.0;
}

static inline double random_between(uint64_t *seed, double low, double high)
{
    return low + (high - low) * random_unit(seed);
}

/* Anything: each ion absent or 1e-6 to 1000 mmol/L, alkalinity -50 to 200 meq/L, neutral
 * or not. */
static inline struct liquid random_extreme(uint64_t *seed)
{
    struct liquid liquid = {.alkalinity_meq_l = random_between(seed, -50, 200)};
    for (int i = 0; i < ION_COUNT; i++) {
        const bool absent = random_unit(seed) < 0.2;
        liquid.mmol_l[i] = absent ? 0 : pow(10, random_between(seed, -6, 3));
    }
    if (random_unit(seed) < 0.5) {
        liquid.alkalinity_meq_l =
            pow(10, random_between(seed, -5, 1.7)) * (random_unit(seed) < 0.5 ? -1 : 1);
    }
    return liquid;
}

/* A neutral liquid with the cations' charge of `total` meq/L and `alkalinity` meq/L,
 * shared among the ions by the weights (meq shares; those of anions and cations apart).
 */
static inline struct liquid random_balanced(const double weight[ION_COUNT], double total,
                                            double alkalinity)
{
    double cations = 0;
    double anions = 0;
    for (int i = 0; i < ION_COUNT; i++) {
        *(ion_table[i].charge > 0 ? &cations : &anions) += weight[i];
    }
    struct liquid liquid = {.alkalinity_meq_l = alkalinity};
    for (int i = 0; i < ION_COUNT; i++) {
        const int z = ion_table[i].charge;
        liquid.mmol_l[i] = z > 0 ? weight[i] / cations * total / z
                                 : weight[i] / anions * (total - alkalinity) / -z;
    }
    return liquid;
}

/* A feed as mixed from salts: little sodium and chloride, pH about 5-7. */
static inline struct liquid random_feed(uint64_t *seed)
{
    const double weight[ION_COUNT] = {
        [ION_NO3] = random_between(seed, 0.4, 1.6),
        [ION_NH4] = random_between(seed, 0, 0.1),
        [ION_P] = random_between(seed, 0.03, 0.18),
        [ION_K] = random_between(seed, 0.2, 1.2),
        [ION_CA] = random_between(seed, 0.2, 1.3),
        [ION_MG] = random_between(seed, 0.05, 0.6),
        [ION_SO4] = random_between(seed, 0.05, 0.5),
        [ION_NA] = random_between(seed, 0, 0.2),
        [ION_CL] = random_between(seed, 0, 0.15),
    };
    const double total = pow(10, random_between(seed, 0.25, 1.9));
    return random_balanced(weight, total, random_between(seed, -0.05, 0.2));
}

/* What a bucket drifts to: potassium or nitrate perhaps gone, sodium, chloride, sulfate
 * and alkalinity perhaps high. */
static inline struct liquid random_drifted(uint64_t *seed)
{
    double weight[ION_COUNT] = {
        [ION_NO3] = random_between(seed, 0.02, 1),
        [ION_NH4] = random_between(seed, 0, 0.1),
        [ION_P] = random_between(seed, 0, 0.1),
        [ION_K] = random_between(seed, 0.02, 1),
        [ION_CA] = random_between(seed, 0.05, 1.2),
        [ION_MG] = random_between(seed, 0.05, 0.6),
        [ION_SO4] = random_between(seed, 0.05, 1.2),
        [ION_NA] = random_between(seed, 0, 1.2),
        [ION_CL] = random_between(seed, 0, 1),
    };
    if (random_unit(seed) < 0.3) {
        weight[ION_K] *= 0.01;
    }
    if (random_unit(seed) < 0.3) {
        weight[ION_NO3] *= 0.01;
    }
    const double total = pow(10, random_between(seed, 0.25, 1.9));
    const double share = 0.5 * random_unit(seed);
    return random_balanced(weight, total,
                           fmin(share * total, random_between(seed, -0.2, 7)));
}

#endif
