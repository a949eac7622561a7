/* SPDX-License-Identifier: GPL-3.0-or-later */
/* EC at 25 degC without iteration, for rates: additions, four square roots, divisions.
 *     EC = sum L0 |z| c - (F sum L0 z^2 c + E sum z^2 c) sqrt(I)/(1 + b sqrt(I))
 * is conductivity.c's equation with one relaxation share F and one ion size for all, over
 * a rough set of species: Ca and Mg share sulfate by one quadratic; alkalinity turns
 * H2PO4- into HPO4-- by a second and is HCO3- or CO3-- by a third (as a rational
 * function), both partly held by Ca and Mg; acid (negative alkalinity) is H+ or H3PO4.
 * CO2 is that of an aerated root zone, near 700 ppm. D, the inverse square of the
 * divalent activity coefficient, is Davies' as a polynomial in sqrt(I). F, b,
 * `unpaired` and `carbonate` are fitted here, once, to conductivity_ms_cm over 13000
 * random liquids of 0.2-6 mS/cm, half of them feeds at pH 5-7 (least fourth powers, so
 * that the worst count most); the other constants are those of equilibrium.c and
 * conductivity.c at 25 degC, the phosphoric and carbonic ones at I near 0.02 mol/L. */
#include <math.h>

#include "pailcast/base/number.h"
#include "pailcast/chem/conductivity.h"

/* L0 |z|, S cm2/mol, as in conductivity.c. */
static const double estimate_no3 = 71.42, estimate_nh4 = 73.5, estimate_h2po4 = 33,
                    estimate_k = 73.48, estimate_ca = 118.94, estimate_mg = 106,
                    estimate_so4 = 160, estimate_na = 50.08, estimate_cl = 76.31,
                    estimate_hco3 = 44.5, estimate_co3 = 138.6, estimate_hpo4 = 114,
                    estimate_h = 349.65;

/* A liquid in mol/L. */
struct estimate_liquid {
    double no3, nh4, p, k, ca, mg, so4, na, cl, base, acid;
};

/* Sums over ions: L0 |z| c and L0 z^2 c in mS/cm, z^2 c in mol/L. */
struct estimate_sums {
    double limiting, relaxing, charge;
};

/* Everything free: alkalinity HCO3-, acid H+, phosphate H2PO4-. */
static inline struct estimate_sums estimate_free(const struct estimate_liquid *l)
{
    const double single = (l->no3 * estimate_no3 + l->nh4 * estimate_nh4) +
                          (l->p * estimate_h2po4 + l->k * estimate_k) +
                          ((l->na * estimate_na + l->cl * estimate_cl) +
                           (l->base * estimate_hco3 + l->acid * estimate_h));
    const double twofold =
        l->ca * estimate_ca + l->mg * estimate_mg + l->so4 * estimate_so4;
    const double ones =
        (l->no3 + l->nh4) + (l->p + l->k) + ((l->na + l->cl) + (l->base + l->acid));
    return (struct estimate_sums){single + twofold, single + 2 * twofold,
                                  ones + 4 * (l->ca + l->mg + l->so4)};
}

/* Takes the sulfate pairs out of the sums. */
static inline void estimate_sulfate(struct estimate_sums *sums,
                                    const struct estimate_liquid *l, double d)
{
    static const double with_ca = 199.5; /* 10^2.30 */
    static const double with_mg = 169.8; /* 10^2.23 */
    const double by_ca = with_ca * l->ca;
    const double by_mg = with_mg * l->mg;
    const double held = by_ca + by_mg;
    const double holding = 0.5 * (with_ca + with_mg) * l->so4;
    const double b = d + held + holding;
    const double free = 2 * l->so4 / (b + sqrt(b * b - 4 * held * holding));
    const double current =
        free * (by_ca * estimate_ca + by_mg * estimate_mg + held * estimate_so4);
    sums->limiting -= current;
    sums->relaxing -= 2 * current;
    sums->charge -= 8 * held * free;
}

/* Turns HCO3- and H2PO4- into CO3-- and HPO4-- as alkalinity asks, H2PO4- into H3PO4 as
 * acid does, and takes the pairs out. */
static inline void estimate_protons(struct estimate_sums *sums,
                                    const struct estimate_liquid *l, double d)
{
    static const double unpaired = 0.7444;       /* of Ca and Mg, towards HPO4-- */
    static const double carbonate = 8.764;       /* CO3--/(HCO3-)^2, L/mol */
    static const double phosphate = 1.28e-4;     /* HCO3- H2PO4-/HPO4--, mol/L */
    static const double phosphoric = 9e-3;       /* H+ H2PO4-/H3PO4, mol/L */
    static const double p_ca = 548, p_mg = 741;  /* 10^2.739, 10^2.87 */
    static const double c_ca = 1675, c_mg = 955; /* 10^3.224, 10^2.98 */
    const double held_p = d + unpaired * (p_ca * l->ca + p_mg * l->mg);
    const double held_c = d + c_ca * l->ca + c_mg * l->mg;
    const double b = (l->base + l->p) * held_p + phosphate * d;
    const double product = 4 * l->base * l->p * held_p;
    const double hpo4 = 0.5 * product / (b + sqrt(b * b - product * held_p));
    const double rest = l->base - hpo4;
    const double w = carbonate * rest * held_c;
    const double co3 = rest * w / (d + 4 * w);
    const double hpo4_free = hpo4 * d / held_p;
    const double co3_free = co3 * d / held_c;
    const double bound = hpo4 - hpo4_free + (co3 - co3_free);
    const double h3po4 = l->acid * l->p / (phosphoric + l->p);
    const double gone = (hpo4 + 2 * co3) * estimate_hco3 + hpo4 * estimate_h2po4 +
                        h3po4 * (estimate_h2po4 + estimate_h);
    const double come =
        hpo4_free * estimate_hpo4 + co3_free * estimate_co3 - bound * estimate_ca;
    sums->limiting += come - gone;
    sums->relaxing += 2 * come - gone;
    sums->charge += 4 * (hpo4_free + co3_free - bound) - 2 * (hpo4 + co3 + h3po4);
}

double conductivity_estimate(const double mmol_l[ION_COUNT], double alkalinity_meq_l)
{
    static const double relaxation = 0.3558;      /* F, sqrt(L/mol) */
    static const double electrophoretic = 30.3;   /* E, conductivity_at(25) */
    static const double size = 1.5982;            /* b, sqrt(L/mol) */
    static const double half_paired = 0.5 * 0.93; /* I before pairs are known */
    static const double neutral = 3.3e-6;         /* sqrt(K1 [CO2]), mol/L */
    static const double mol = 1e-3;
    const double alkalinity = mol * alkalinity_meq_l;
    const double base = number_positive(alkalinity, neutral);
    const struct estimate_liquid liquid = {
        .no3 = mol * mmol_l[ION_NO3],
        .nh4 = mol * mmol_l[ION_NH4],
        .p = mol * mmol_l[ION_P],
        .k = mol * mmol_l[ION_K],
        .ca = mol * mmol_l[ION_CA],
        .mg = mol * mmol_l[ION_MG],
        .so4 = mol * mmol_l[ION_SO4],
        .na = mol * mmol_l[ION_NA],
        .cl = mol * mmol_l[ION_CL],
        .base = base,
        .acid = base - alkalinity,
    };
    struct estimate_sums sums = estimate_free(&liquid);
    const double i = half_paired * sums.charge;
    const double d = 1 + 9.4 * sqrt(i) + 35 * i; /* 1/g_2^2, within 4 % to I = 0.1 */
    estimate_sulfate(&sums, &liquid, d);
    estimate_protons(&sums, &liquid, d);
    const double root = sqrt(0.5 * sums.charge);
    return sums.limiting - (relaxation * sums.relaxing + electrophoretic * sums.charge) *
                               root / (1 + size * root);
}
