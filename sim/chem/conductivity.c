/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Electrical conductivity of a mixture of ions, extended Debye-Hueckel-Onsager:
 *     EC = sum_i L_i |z_i| c_i                                       mS/cm, c in mol/L
 *     L_i = L0_i - (F z_i r_i L0_i + E |z_i|) sqrt(I)/(1 + B a_i sqrt(I))    S cm2/eq
 *     F = 2.801e6/(eps T)^1.5,  E = 41.25/(eta sqrt(eps T)),  B = 50.29/sqrt(eps T)
 * (Robinson & Stokes 1959 eq. 7.36; eps permittivity, T kelvin, eta viscosity in poise,
 * a_i ion size in Angstrom). r_i is the relaxation share in the mixture, Onsager & Fuoss
 * 1932: r = sum_n k_n x_n, x_(n+1) = 2 H x_n - x_n, that is (1 - sqrt(H)) z by a series,
 *     (H x)_i = sum_j mu_j w_j/(w_i + w_j) (x_i + x_j),  mu_j = c_j z_j^2/sum,
 *     x_0 = z - (mu.z)/(mu.v) v,  w = L0/|z|,  v = 1/w.
 * For one 1:1 salt z r = 0.2929 and F z r = 0.230, the textbook's B1. Temperature: L0(t)
 * follows L0(t)/L0(25) of McCleskey et al. 2012 where an ion is in their table and the
 * viscosity of water (Walden) where it is not. Valid to I about 0.15 mol/L; L is kept
 * from going below zero, so that EC stays defined for any liquid. */
#include "pailcast/chem/conductivity.h"

#include <math.h>
#include <stdlib.h>

#include "water.h"

const double conductivity_checked_ms_cm = 10;

/* Limiting conductivity at 25 degC, S cm2/eq, its growth with temperature as a quadratic
 * in degC (any scale; all zero: Walden), and the ion size, Angstrom.
 * Conductivities: CRC Handbook ("Ionic conductivity and diffusion at infinite dilution",
 * Vanysek), but H2PO4- 33 (Marcus' tables; the Handbook's 36 reads 7 % above its own 3.0
 * mS/cm of 0.5 % KH2PO4 at 20 degC, from memory, and diffusion gives 31.8). Pairs: KSO4-
 * 45 by choice, which serves NH4SO4- too; NaSO4- 25, fitted here to Na2SO4; the others by
 * adding Stokes volumes, 1/w^3 = 1/w1^3 + 1/w2^3, from the ions of the pair. Sizes are
 * fitted to single-salt tables (CRC, Tomsic), not published: 4.2 for all but the five set
 * apart. The small ones of nitrate and bicarbonate stand for weak pairing. */
struct conductivity_row {
    double limiting;
    double growth[3];
    double size;
};

static const struct conductivity_row conductivity_rows[SPECIES_COUNT] = {
    [SPECIES_H] = {349.65, {224.2, 5.355, -0.01414}, 4.2},
    [SPECIES_OH] = {198.0, {121.3, 2.925, 0.003396}, 4.2},
    [SPECIES_K] = {73.48, {40.70, 1.261, 0.003046}, 4.2},
    [SPECIES_NA] = {50.08, {26.23, 0.8770, 0.003763}, 4.2},
    [SPECIES_NH4] = {73.5, {39.04, 1.285, 0.003341}, 4.2},
    [SPECIES_CA] = {59.47, {62.28, 1.984, 0.009645}, 6},
    [SPECIES_MG] = {53.0, {57.16, 1.695, 0.01068}, 7},
    [SPECIES_NO3] = {71.42, {39.90, 1.214, 0.001925}, 0.2},
    [SPECIES_CL] = {76.31, {40.99, 1.337, 0.003817}, 4.2},
    [SPECIES_SO4] = {80.0, {82.37, 2.838, 0.01037}, 9},
    [SPECIES_H2PO4] = {33, {0}, 4.2},
    [SPECIES_HPO4] = {57, {0}, 4.2},
    [SPECIES_PO4] = {92.8, {0}, 4.2},
    [SPECIES_HCO3] = {44.5, {21.14, 0.9048, 0.000614}, 0},
    [SPECIES_CO3] = {69.3, {64.03, 2.998, -0.000326}, 4.2},
    [SPECIES_HSO4] = {52, {0}, 4.2},
    [SPECIES_KSO4] = {45, {0}, 4.2},
    [SPECIES_NASO4] = {25, {0}, 4.2},
    [SPECIES_NH4SO4] = {45, {0}, 4.2},
    [SPECIES_CAHCO3] = {27.3, {0}, 4.2},
    [SPECIES_MGHCO3] = {24.9, {0}, 4.2},
    [SPECIES_CAH2PO4] = {25.6, {0}, 4.2},
    [SPECIES_MGH2PO4] = {23.7, {0}, 4.2},
    [SPECIES_CAPO4] = {24.1, {0}, 4.2},
    [SPECIES_MGPO4] = {22.6, {0}, 4.2},
    [SPECIES_KHPO4] = {28.0, {0}, 4.2},
    [SPECIES_NAHPO4] = {26.9, {0}, 4.2},
};

static double conductivity_quadratic(const double growth[3], double temperature_c)
{
    return growth[0] + temperature_c * (growth[1] + temperature_c * growth[2]);
}

/* Limiting conductivity at a temperature over that at 25 degC. */
static double conductivity_growth(const struct conductivity_row *row,
                                  double temperature_c)
{
    static const double reference_c = 25;
    if (row->growth[0] > 0) {
        return conductivity_quadratic(row->growth, temperature_c) /
               conductivity_quadratic(row->growth, reference_c);
    }
    return water_viscosity_poise(reference_c) / water_viscosity_poise(temperature_c);
}

struct conductivity_setting conductivity_at(double temperature_c)
{
    const double eps_t = water_permittivity(temperature_c) * water_kelvin(temperature_c);
    const double root = sqrt(eps_t);
    struct conductivity_setting setting = {
        .temperature_c = temperature_c,
        .relaxation = 2.801e6 / (eps_t * root),
        .electrophoretic = 41.25 / (water_viscosity_poise(temperature_c) * root),
        .size = 50.29 / root,
    };
    for (int i = 0; i < CONDUCTIVITY_CHARGED; i++) {
        const struct conductivity_row *row = &conductivity_rows[i];
        setting.limiting[i] = row->limiting * conductivity_growth(row, temperature_c);
        setting.mobility[i] = setting.limiting[i] / abs(species_charge[i]);
    }
    for (int i = 0; i < CONDUCTIVITY_CHARGED; i++) {
        for (int j = 0; j < CONDUCTIVITY_CHARGED; j++) {
            setting.coupling[i][j] = 1 / (setting.mobility[i] + setting.mobility[j]);
        }
    }
    return setting;
}

/* The ions present, and the share of ionic strength of every one. */
struct conductivity_mixture {
    int count;
    int present[CONDUCTIVITY_WIDTH];
    double share[CONDUCTIVITY_WIDTH];  /* mu */
    double weight[CONDUCTIVITY_WIDTH]; /* mu w */
};

/* y = coupling (weight x) over the ions present, four columns of the matrix at a time. */
static void conductivity_couple(double *restrict y, const double *restrict x,
                                const struct conductivity_mixture *restrict mixture,
                                const struct conductivity_setting *restrict setting)
{
    for (int i = 0; i < CONDUCTIVITY_WIDTH; i++) {
        y[i] = 0;
    }
    for (int k = 0; k < mixture->count; k += 4) {
        const int *j = &mixture->present[k];
        const double f0 = mixture->weight[j[0]] * x[j[0]];
        const double f1 = mixture->weight[j[1]] * x[j[1]];
        const double f2 = mixture->weight[j[2]] * x[j[2]];
        const double f3 = mixture->weight[j[3]] * x[j[3]];
        const double *restrict c0 = setting->coupling[j[0]];
        const double *restrict c1 = setting->coupling[j[1]];
        const double *restrict c2 = setting->coupling[j[2]];
        const double *restrict c3 = setting->coupling[j[3]];
        for (int i = 0; i < CONDUCTIVITY_WIDTH; i++) {
            y[i] += f0 * c0[i] + f1 * c1[i] + (f2 * c2[i] + f3 * c3[i]);
        }
    }
}

/* The relaxation share r_i of every charged species (Onsager & Fuoss 1932). */
static void conductivity_relaxation(double r[CONDUCTIVITY_WIDTH],
                                    const struct conductivity_mixture *mixture,
                                    const struct conductivity_setting *setting)
{
    static const double series[] = {0.2928932,  -0.3535534, 0.0883883,
                                    -0.0441942, 0.0276214,  -0.0193350};
    double ones[CONDUCTIVITY_WIDTH];
    double own[CONDUCTIVITY_WIDTH];
    double x[CONDUCTIVITY_WIDTH];
    double y[CONDUCTIVITY_WIDTH];
    double mean_charge = 0;
    double mean_slowness = 0;
    for (int i = 0; i < CONDUCTIVITY_CHARGED; i++) {
        mean_charge += mixture->share[i] * species_charge[i];
        mean_slowness += mixture->share[i] / setting->mobility[i];
    }
    for (int i = 0; i < CONDUCTIVITY_WIDTH; i++) {
        ones[i] = 1;
        x[i] =
            i < CONDUCTIVITY_CHARGED
                ? species_charge[i] - mean_charge / (mean_slowness * setting->mobility[i])
                : 0;
        r[i] = series[0] * x[i];
    }
    conductivity_couple(own, ones, mixture, setting);
    for (size_t n = 1; n < sizeof series / sizeof series[0]; n++) {
        conductivity_couple(y, x, mixture, setting);
        for (int i = 0; i < CONDUCTIVITY_WIDTH; i++) {
            x[i] = 2 * (own[i] * x[i] + y[i]) - x[i];
            r[i] += series[n] * x[i];
        }
    }
}

/* mS/cm carried by every charged species. */
static void conductivity_each(double each[CONDUCTIVITY_WIDTH],
                              const struct speciation *speciation,
                              const struct conductivity_setting *setting)
{
    struct conductivity_mixture mixture = {0};
    double r[CONDUCTIVITY_WIDTH];
    double sum = 0;
    for (int i = 0; i < CONDUCTIVITY_CHARGED; i++) {
        const int z = species_charge[i];
        mixture.share[i] = speciation->mol_l[i] * z * z;
        sum += mixture.share[i];
    }
    for (int i = 0; i < CONDUCTIVITY_CHARGED; i++) {
        if (mixture.share[i] > 0) {
            mixture.present[mixture.count++] = i;
            mixture.share[i] /= sum;
            mixture.weight[i] = mixture.share[i] * setting->mobility[i];
        }
    }
    for (int k = mixture.count; k % 4 != 0; k++) {
        mixture.present[k] = CONDUCTIVITY_WIDTH - 1; /* padding: weight zero */
    }
    conductivity_relaxation(r, &mixture, setting);
    const double root = sqrt(speciation->ionic_strength);
    for (int i = 0; i < CONDUCTIVITY_CHARGED; i++) {
        const double z = species_charge[i];
        const double size = setting->size * conductivity_rows[i].size;
        const double drag = setting->relaxation * z * r[i] * setting->limiting[i] +
                            setting->electrophoretic * fabs(z);
        const double conductivity =
            setting->limiting[i] - drag * root / (1 + size * root);
        each[i] = fmax(conductivity, 0) * fabs(z) * speciation->mol_l[i];
    }
}

double conductivity_ms_cm(const struct speciation *speciation,
                          const struct conductivity_setting *setting)
{
    double each[CONDUCTIVITY_WIDTH];
    double ec = 0;
    conductivity_each(each, speciation, setting);
    for (int i = 0; i < CONDUCTIVITY_CHARGED; i++) {
        ec += each[i];
    }
    return ec;
}

/* The ions that own the current of a species, half each; ION_COUNT is "the rest". */
static const enum ion conductivity_owner[CONDUCTIVITY_CHARGED][2] = {
    [SPECIES_H] = {ION_COUNT, ION_COUNT},   [SPECIES_OH] = {ION_COUNT, ION_COUNT},
    [SPECIES_K] = {ION_K, ION_K},           [SPECIES_NA] = {ION_NA, ION_NA},
    [SPECIES_NH4] = {ION_NH4, ION_NH4},     [SPECIES_CA] = {ION_CA, ION_CA},
    [SPECIES_MG] = {ION_MG, ION_MG},        [SPECIES_NO3] = {ION_NO3, ION_NO3},
    [SPECIES_CL] = {ION_CL, ION_CL},        [SPECIES_SO4] = {ION_SO4, ION_SO4},
    [SPECIES_H2PO4] = {ION_P, ION_P},       [SPECIES_HPO4] = {ION_P, ION_P},
    [SPECIES_PO4] = {ION_P, ION_P},         [SPECIES_HCO3] = {ION_COUNT, ION_COUNT},
    [SPECIES_CO3] = {ION_COUNT, ION_COUNT}, [SPECIES_HSO4] = {ION_SO4, ION_SO4},
    [SPECIES_KSO4] = {ION_K, ION_SO4},      [SPECIES_NASO4] = {ION_NA, ION_SO4},
    [SPECIES_NH4SO4] = {ION_NH4, ION_SO4},  [SPECIES_CAHCO3] = {ION_CA, ION_CA},
    [SPECIES_MGHCO3] = {ION_MG, ION_MG},    [SPECIES_CAH2PO4] = {ION_CA, ION_P},
    [SPECIES_MGH2PO4] = {ION_MG, ION_P},    [SPECIES_CAPO4] = {ION_CA, ION_P},
    [SPECIES_MGPO4] = {ION_MG, ION_P},      [SPECIES_KHPO4] = {ION_K, ION_P},
    [SPECIES_NAHPO4] = {ION_NA, ION_P},
};

double conductivity_parts(double by_ion[ION_COUNT], double *rest,
                          const struct speciation *speciation,
                          const struct conductivity_setting *setting)
{
    double each[CONDUCTIVITY_WIDTH];
    double owned[ION_COUNT + 1] = {0};
    double ec = 0;
    conductivity_each(each, speciation, setting);
    for (int i = 0; i < CONDUCTIVITY_CHARGED; i++) {
        owned[conductivity_owner[i][0]] += 0.5 * each[i];
        owned[conductivity_owner[i][1]] += 0.5 * each[i];
        ec += each[i];
    }
    for (int i = 0; i < ION_COUNT; i++) {
        by_ion[i] = owned[i];
    }
    *rest = owned[ION_COUNT];
    return ec;
}
