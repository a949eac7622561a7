/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every species from four unknowns, the activities of SO4--, H2PO4- and H+ and the ionic
 * strength I:
 *     ligands   a(HPO4) = Kp2 a(H2PO4)/h, a(HCO3) = K1 [CO2]/h, a(OH) = Kw/h, ...
 *     cation M  a(M) = T_M / sum_j q_j,  q_j = K_j a(ligand_j)/g_j over M and its pairs
 *     species   c_j = a_j/g_j,  ln g_j = z_j^2 ln g_1,
 *               ln g_1 = -A (sqrt I/(1 + sqrt I) - 0.3 I)              (Davies 1962)
 * h is the hydrogen-ion activity, T_M the total of M, c in mol/L. Davies is used up to
 * its minimum at I = 0.39 mol/L and held there beyond (its data end at 0.5), which keeps
 * it once differentiable. Neutral species have g = 1. */
#include "balance.h"

#include <math.h>

/* A cation and its pairs by ligand. */
struct balance_cation {
    enum ion ion;
    enum species free, so4, hco3, co3, h2po4, hpo4, po4;
};

static const struct balance_cation balance_calcium = {
    ION_CA,        SPECIES_CA,      SPECIES_CASO4,  SPECIES_CAHCO3,
    SPECIES_CACO3, SPECIES_CAH2PO4, SPECIES_CAHPO4, SPECIES_CAPO4};
static const struct balance_cation balance_magnesium = {
    ION_MG,        SPECIES_MG,      SPECIES_MGSO4,  SPECIES_MGHCO3,
    SPECIES_MGCO3, SPECIES_MGH2PO4, SPECIES_MGHPO4, SPECIES_MGPO4};
static const struct balance_cation balance_potassium = {
    .ion = ION_K, .free = SPECIES_K, .so4 = SPECIES_KSO4, .hpo4 = SPECIES_KHPO4};
static const struct balance_cation balance_sodium = {
    .ion = ION_NA, .free = SPECIES_NA, .so4 = SPECIES_NASO4, .hpo4 = SPECIES_NAHPO4};

/* Activities of the ligands. */
struct balance_ligands {
    double so4, hco3, co3, h2po4, hpo4, po4, oh;
};

/* Where Davies' curve has its minimum: 0.6 s (1 + s)^2 = 1, s = sqrt(I). */
static const double davies_last_strength = 0.3949793; /* mol/L */

/* Adds c mol/L of a species and returns c. Counts are literals at every call, so that
 * what is zero costs nothing. */
static inline double balance_add(struct balance_sums *sums, double c, int s, int p, int a,
                                 int z)
{
    const double charge = c * z;
    if (s != 0) {
        sums->s += c;
        sums->ss += c;
        sums->sa += c * a;
        sums->sz += charge;
    }
    if (p != 0) {
        sums->p += c;
        sums->pp += c;
        sums->pa += c * a;
        sums->pz += charge;
    }
    if (a != 0) {
        sums->a += c * a;
        sums->aa += c * (a * a);
        sums->az += charge * a;
    }
    if (z != 0) {
        sums->z += charge;
        sums->zz += charge * z;
    }
    return c;
}

/* Adds a cation's own sums, less the part its fixed total takes from the response. */
static inline void balance_join(struct balance_sums *sums, const struct balance_sums *own,
                                double total)
{
    const double per_total = 1 / total;
    const double s = own->s * per_total;
    const double p = own->p * per_total;
    const double a = own->a * per_total;
    sums->s += own->s;
    sums->p += own->p;
    sums->a += own->a;
    sums->z += own->z;
    sums->ss += own->ss - s * own->s;
    sums->sp -= s * own->p;
    sums->sa += own->sa - s * own->a;
    sums->sz += own->sz - s * own->z;
    sums->pp += own->pp - p * own->p;
    sums->pa += own->pa - p * own->a;
    sums->pz += own->pz - p * own->z;
    sums->aa += own->aa - a * own->a;
    sums->az += own->az - a * own->z;
    sums->zz += own->zz - own->z * own->z * per_total;
}

double balance_activity(double activity[4], double inverse[4], double ionic_strength,
                        double davies)
{
    const double i = fmin(ionic_strength, davies_last_strength);
    const double s = sqrt(i);
    const double part = 1 / (1 + s);
    const double g = exp(-davies * (s * part - 0.3 * i));
    const double g2 = g * g;
    const double u = 1 / g;
    const double u2 = u * u;
    activity[0] = inverse[0] = 1;
    activity[1] = g;
    activity[2] = g2 * g2;
    activity[3] = activity[2] * activity[2] * g;
    inverse[1] = u;
    inverse[2] = u2 * u2;
    inverse[3] = inverse[2] * inverse[2] * u;
    return i < ionic_strength ? 0 : davies * (0.5 * part * part / s - 0.3);
}

/* Species without a cation; returns the activities of the ligands. */
static struct balance_ligands balance_anions(double mol_l[SPECIES_COUNT],
                                             struct balance_sums *sums,
                                             const struct balance_unknowns *x,
                                             const double u[4],
                                             const struct balance_problem *problem)
{
    const struct equilibrium *k = problem->constants;
    const double per_h = 1 / x->h;
    struct balance_ligands a = {.so4 = x->so4, .h2po4 = x->h2po4};
    a.oh = k->kw * per_h;
    a.hco3 = k->k1 * problem->co2 * per_h;
    a.co3 = k->k2 * a.hco3 * per_h;
    a.hpo4 = k->kp2 * x->h2po4 * per_h;
    a.po4 = k->kp3 * a.hpo4 * per_h;
    mol_l[SPECIES_H] = balance_add(sums, x->h * u[1], 0, 0, -1, 1);
    mol_l[SPECIES_OH] = balance_add(sums, a.oh * u[1], 0, 0, 1, 1);
    mol_l[SPECIES_HCO3] = balance_add(sums, a.hco3 * u[1], 0, 0, 1, 1);
    mol_l[SPECIES_CO3] = balance_add(sums, a.co3 * u[2], 0, 0, 2, 4);
    mol_l[SPECIES_SO4] = balance_add(sums, a.so4 * u[2], 1, 0, 0, 4);
    mol_l[SPECIES_HSO4] =
        balance_add(sums, k->pair[SPECIES_HSO4] * a.so4 * x->h * u[1], 1, 0, -1, 1);
    mol_l[SPECIES_H2PO4] = balance_add(sums, a.h2po4 * u[1], 0, 1, 0, 1);
    mol_l[SPECIES_HPO4] = balance_add(sums, a.hpo4 * u[2], 0, 1, 1, 4);
    mol_l[SPECIES_PO4] = balance_add(sums, a.po4 * u[3], 0, 1, 2, 9);
    mol_l[SPECIES_H3PO4] = balance_add(sums, a.h2po4 * x->h / k->kp1, 0, 1, -1, 0);
    return a;
}

/* Calcium or magnesium, shared among its seven species. */
static void balance_divalent(double mol_l[SPECIES_COUNT], struct balance_sums *sums,
                             const struct balance_cation *m,
                             const struct balance_ligands *a, const double inverse[4],
                             const struct balance_problem *problem)
{
    const double *k = problem->constants->pair;
    const double total = problem->total[m->ion];
    const double so4 = k[m->so4] * a->so4;
    const double hco3 = k[m->hco3] * a->hco3 * inverse[1];
    const double co3 = k[m->co3] * a->co3;
    const double h2po4 = k[m->h2po4] * a->h2po4 * inverse[1];
    const double hpo4 = k[m->hpo4] * a->hpo4;
    const double po4 = k[m->po4] * a->po4 * inverse[1];
    const double free =
        total / (inverse[2] + so4 + hco3 + co3 + h2po4 + hpo4 + po4); /* activity */
    struct balance_sums own = {0};
    mol_l[m->free] = balance_add(&own, free * inverse[2], 0, 0, 0, 4);
    mol_l[m->so4] = balance_add(&own, free * so4, 1, 0, 0, 0);
    mol_l[m->hco3] = balance_add(&own, free * hco3, 0, 0, 1, 1);
    mol_l[m->co3] = balance_add(&own, free * co3, 0, 0, 2, 0);
    mol_l[m->h2po4] = balance_add(&own, free * h2po4, 0, 1, 0, 1);
    mol_l[m->hpo4] = balance_add(&own, free * hpo4, 0, 1, 1, 0);
    mol_l[m->po4] = balance_add(&own, free * po4, 0, 1, 2, 1);
    balance_join(sums, &own, total);
}

/* Potassium or sodium, shared among its three species, all of charge one. */
static void balance_monovalent(double mol_l[SPECIES_COUNT], struct balance_sums *sums,
                               const struct balance_cation *m,
                               const struct balance_ligands *a,
                               const struct balance_problem *problem)
{
    const double *k = problem->constants->pair;
    const double total = problem->total[m->ion];
    const double so4 = k[m->so4] * a->so4;
    const double hpo4 = k[m->hpo4] * a->hpo4;
    const double free = total / (1 + so4 + hpo4);
    struct balance_sums own = {0};
    mol_l[m->free] = balance_add(&own, free, 0, 0, 0, 1);
    mol_l[m->so4] = balance_add(&own, free * so4, 1, 0, 0, 1);
    mol_l[m->hpo4] = balance_add(&own, free * hpo4, 0, 1, 1, 1);
    balance_join(sums, &own, total);
}

/* Ammonium, shared with its sulfate pair and NH3. */
static void balance_ammonium(double mol_l[SPECIES_COUNT], struct balance_sums *sums,
                             const struct balance_ligands *a, double g,
                             const struct balance_problem *problem)
{
    const double *k = problem->constants->pair;
    const double total = problem->total[ION_NH4];
    const double so4 = k[SPECIES_NH4SO4] * a->so4;
    const double nh3 = k[SPECIES_NH3] * a->oh * g;
    const double free = total / (1 + so4 + nh3);
    struct balance_sums own = {0};
    mol_l[SPECIES_NH4] = balance_add(&own, free, 0, 0, 0, 1);
    mol_l[SPECIES_NH4SO4] = balance_add(&own, free * so4, 1, 0, 0, 1);
    mol_l[SPECIES_NH3] = balance_add(&own, free * nh3, 0, 0, 1, 0);
    balance_join(sums, &own, total);
}

void balance_evaluate(struct speciation *out, struct balance_sums *sums,
                      const struct balance_unknowns *x,
                      const struct balance_problem *problem)
{
    const double *total = problem->total;
    double inverse[4];
    *sums = (struct balance_sums){.z = total[ION_NO3] + total[ION_CL]};
    sums->field =
        balance_activity(out->activity, inverse, x->ionic_strength, problem->davies);
    const struct balance_ligands ligands =
        balance_anions(out->mol_l, sums, x, inverse, problem);
    if (total[ION_CA] > 0) {
        balance_divalent(out->mol_l, sums, &balance_calcium, &ligands, inverse, problem);
    }
    if (total[ION_MG] > 0) {
        balance_divalent(out->mol_l, sums, &balance_magnesium, &ligands, inverse,
                         problem);
    }
    if (total[ION_K] > 0) {
        balance_monovalent(out->mol_l, sums, &balance_potassium, &ligands, problem);
    }
    if (total[ION_NA] > 0) {
        balance_monovalent(out->mol_l, sums, &balance_sodium, &ligands, problem);
    }
    if (total[ION_NH4] > 0) {
        balance_ammonium(out->mol_l, sums, &ligands, out->activity[1], problem);
    }
}
