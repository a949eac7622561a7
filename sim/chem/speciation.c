/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Species of a liquid by Newton's method on four unknowns: the activities of SO4--,
 * H2PO4- and H+ and the ionic strength I. All else is explicit in them:
 *     ligands   a(HPO4) = Kp2 a(H2PO4)/h, a(HCO3) = K1 Kh p/h, a(OH) = Kw/h, ...
 *     cation M  a(M) = T_M / sum_j q_j,  q_j = K_j a(ligand_j)/g_j over M and its pairs
 *     species   c_j = a_j/g_j,  ln g_j = z_j^2 ln g_1 (Davies, see equilibrium.c)
 * with p the CO2 pressure in atm, h the hydrogen-ion activity, T_M the total of M, mol/L.
 * Four balances must hold, with n the row of speciation_count for each species:
 *     sum c n = total SO4, total P, alkalinity, 2 I.
 * In logarithms the Jacobian is a covariance: sum c n n', less T m m' for every cation,
 * m the mean n of its species, so at a given I this minimises a convex function and a
 * step bounded in length cannot leave for good. Davies is used up to its minimum at
 * I = 0.39 mol/L and held there beyond, which keeps it once differentiable.
 * Method: Morel & Morgan 1972 (Newton on mass balances), here with I among the unknowns.
 */
#include "pailcast/chem/speciation.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

enum {
    COUNT_SULFATE,
    COUNT_PHOSPHATE,
    COUNT_ALKALINITY,
    COUNT_CHARGE, /* charge squared */
    COUNTS
};

/* What a mole of each species counts for in the four balances. */
static const double speciation_count[SPECIES_COUNT][COUNTS] = {
    [SPECIES_H] = {0, 0, -1, 1},      [SPECIES_OH] = {0, 0, 1, 1},
    [SPECIES_K] = {0, 0, 0, 1},       [SPECIES_NA] = {0, 0, 0, 1},
    [SPECIES_NH4] = {0, 0, 0, 1},     [SPECIES_CA] = {0, 0, 0, 4},
    [SPECIES_MG] = {0, 0, 0, 4},      [SPECIES_NO3] = {0, 0, 0, 1},
    [SPECIES_CL] = {0, 0, 0, 1},      [SPECIES_SO4] = {1, 0, 0, 4},
    [SPECIES_H2PO4] = {0, 1, 0, 1},   [SPECIES_HPO4] = {0, 1, 1, 4},
    [SPECIES_PO4] = {0, 1, 2, 9},     [SPECIES_HCO3] = {0, 0, 1, 1},
    [SPECIES_CO3] = {0, 0, 2, 4},     [SPECIES_HSO4] = {1, 0, -1, 1},
    [SPECIES_KSO4] = {1, 0, 0, 1},    [SPECIES_NASO4] = {1, 0, 0, 1},
    [SPECIES_NH4SO4] = {1, 0, 0, 1},  [SPECIES_CAHCO3] = {0, 0, 1, 1},
    [SPECIES_MGHCO3] = {0, 0, 1, 1},  [SPECIES_CAH2PO4] = {0, 1, 0, 1},
    [SPECIES_MGH2PO4] = {0, 1, 0, 1}, [SPECIES_CAPO4] = {0, 1, 2, 1},
    [SPECIES_MGPO4] = {0, 1, 2, 1},   [SPECIES_KHPO4] = {0, 1, 1, 1},
    [SPECIES_NAHPO4] = {0, 1, 1, 1},  [SPECIES_CASO4] = {1, 0, 0, 0},
    [SPECIES_MGSO4] = {1, 0, 0, 0},   [SPECIES_CACO3] = {0, 0, 2, 0},
    [SPECIES_MGCO3] = {0, 0, 2, 0},   [SPECIES_CAHPO4] = {0, 1, 1, 0},
    [SPECIES_MGHPO4] = {0, 1, 1, 0},  [SPECIES_H3PO4] = {0, 1, -1, 0},
    [SPECIES_NH3] = {0, 0, 1, 0},     [SPECIES_CO2] = {0, 0, 0, 0},
};

enum {
    PAIRS_MAX = 6
};

/* A cation with the pairs it forms, and the ligand of each. NH3 counts as a pair of NH4+
 * with OH-. */
static const struct speciation_cation {
    enum ion ion;
    enum species free;
    int pairs;
    struct {
        enum species pair, ligand;
    } with[PAIRS_MAX];
} speciation_cations[] = {
    {ION_CA,
     SPECIES_CA,
     6,
     {{SPECIES_CASO4, SPECIES_SO4},
      {SPECIES_CAHCO3, SPECIES_HCO3},
      {SPECIES_CACO3, SPECIES_CO3},
      {SPECIES_CAH2PO4, SPECIES_H2PO4},
      {SPECIES_CAHPO4, SPECIES_HPO4},
      {SPECIES_CAPO4, SPECIES_PO4}}},
    {ION_MG,
     SPECIES_MG,
     6,
     {{SPECIES_MGSO4, SPECIES_SO4},
      {SPECIES_MGHCO3, SPECIES_HCO3},
      {SPECIES_MGCO3, SPECIES_CO3},
      {SPECIES_MGH2PO4, SPECIES_H2PO4},
      {SPECIES_MGHPO4, SPECIES_HPO4},
      {SPECIES_MGPO4, SPECIES_PO4}}},
    {ION_K, SPECIES_K, 2, {{SPECIES_KSO4, SPECIES_SO4}, {SPECIES_KHPO4, SPECIES_HPO4}}},
    {ION_NA,
     SPECIES_NA,
     2,
     {{SPECIES_NASO4, SPECIES_SO4}, {SPECIES_NAHPO4, SPECIES_HPO4}}},
    {ION_NH4, SPECIES_NH4, 2, {{SPECIES_NH4SO4, SPECIES_SO4}, {SPECIES_NH3, SPECIES_OH}}},
};

enum {
    CATIONS = sizeof speciation_cations / sizeof speciation_cations[0]
};

/* The question: totals in mol/L, constants, and which of alkalinity and pH is given. */
struct speciation_problem {
    const struct equilibrium *constants;
    double cation[CATIONS];
    double target[COUNTS]; /* totals; the last is unused */
    double inert_charge;   /* NO3 and Cl, mol/L */
    double co2;            /* mol/L */
    double davies;         /* A, natural logarithm */
    bool ph_given;
};

/* The four unknowns: activities of SO4--, H2PO4- and H+, and ionic strength, mol/L. */
struct speciation_unknowns {
    double so4, h2po4, h, ionic_strength;
};

/* Sums of c n and of c n n' over the species, less what the cations' balances take. */
struct speciation_sums {
    double first[COUNTS];
    double second[COUNTS][COUNTS]; /* upper triangle */
    double charge_response;        /* - d ln g_1 / dI, L/mol */
};

/* Where Davies' curve has its minimum: 0.6 s (1 + s)^2 = 1, s = sqrt(I). */
static const double davies_last_strength = 0.3949793; /* mol/L */

static void speciation_add(double first[COUNTS], double second[COUNTS][COUNTS], double c,
                           const double n[COUNTS])
{
    for (int a = 0; a < COUNTS; a++) {
        const double share = c * n[a];
        first[a] += share;
        for (int b = a; b < COUNTS; b++) {
            second[a][b] += share * n[b];
        }
    }
}

static void speciation_activity(double activity[4], double *response, double strength,
                                double davies)
{
    const double i = strength < davies_last_strength ? strength : davies_last_strength;
    const double s = sqrt(i);
    const double g = exp(-davies * (s / (1 + s) - 0.3 * i));
    const double g2 = g * g;
    activity[0] = 1;
    activity[1] = g;
    activity[2] = g2 * g2;
    activity[3] = activity[2] * activity[2] * g;
    *response = i < strength ? 0 : davies * (0.5 / (s * (1 + s) * (1 + s)) - 0.3);
}

/* Activities of everything that holds no cation, from the unknowns. */
static void speciation_ligands(double a[SPECIES_COUNT],
                               const struct speciation_unknowns *x,
                               const struct speciation_problem *problem)
{
    const struct equilibrium *k = problem->constants;
    const double per_h = 1 / x->h;
    a[SPECIES_H] = x->h;
    a[SPECIES_OH] = k->kw * per_h;
    a[SPECIES_HCO3] = k->k1 * problem->co2 * per_h;
    a[SPECIES_CO3] = k->k2 * a[SPECIES_HCO3] * per_h;
    a[SPECIES_SO4] = x->so4;
    a[SPECIES_HSO4] = k->pair[SPECIES_HSO4] * x->so4 * x->h;
    a[SPECIES_H2PO4] = x->h2po4;
    a[SPECIES_HPO4] = k->kp2 * x->h2po4 * per_h;
    a[SPECIES_PO4] = k->kp3 * a[SPECIES_HPO4] * per_h;
    a[SPECIES_H3PO4] = x->h2po4 * x->h / k->kp1;
}

/* Shares a cation's total among its species and adds them to the sums. */
static void speciation_share(double mol_l[SPECIES_COUNT], struct speciation_sums *sums,
                             const struct speciation_cation *row, double total,
                             const double constant[SPECIES_COUNT],
                             const double activity[SPECIES_COUNT],
                             const double inverse[4])
{
    double sum = inverse[abs(species_charge[row->free])];
    mol_l[row->free] = sum;
    for (int j = 0; j < row->pairs; j++) {
        const enum species pair = row->with[j].pair;
        mol_l[pair] = constant[pair] * activity[row->with[j].ligand] *
                      inverse[abs(species_charge[pair])];
        sum += mol_l[pair];
    }
    const double scale = total / sum;
    double first[COUNTS] = {0};
    mol_l[row->free] *= scale;
    speciation_add(first, sums->second, mol_l[row->free], speciation_count[row->free]);
    for (int j = 0; j < row->pairs; j++) {
        const enum species pair = row->with[j].pair;
        mol_l[pair] *= scale;
        speciation_add(first, sums->second, mol_l[pair], speciation_count[pair]);
    }
    for (int a = 0; a < COUNTS; a++) {
        sums->first[a] += first[a];
        for (int b = a; b < COUNTS; b++) {
            sums->second[a][b] -= first[a] * first[b] / total;
        }
    }
}

/* Writes every species' concentration and the sums of the balances. */
static void speciation_evaluate(struct speciation *out, struct speciation_sums *sums,
                                const struct speciation_unknowns *x,
                                const struct speciation_problem *problem)
{
    static const enum species alone[] = {
        SPECIES_H,    SPECIES_OH,    SPECIES_HCO3, SPECIES_CO3, SPECIES_SO4,
        SPECIES_HSO4, SPECIES_H2PO4, SPECIES_HPO4, SPECIES_PO4, SPECIES_H3PO4};
    double activity[SPECIES_COUNT];
    *sums = (struct speciation_sums){.first = {0, 0, 0, problem->inert_charge}};
    speciation_activity(out->activity, &sums->charge_response, x->ionic_strength,
                        problem->davies);
    const double inverse[4] = {1, 1 / out->activity[1], 1 / out->activity[2],
                               1 / out->activity[3]};
    speciation_ligands(activity, x, problem);
    for (size_t i = 0; i < sizeof alone / sizeof alone[0]; i++) {
        const enum species s = alone[i];
        out->mol_l[s] = activity[s] * inverse[abs(species_charge[s])];
        speciation_add(sums->first, sums->second, out->mol_l[s], speciation_count[s]);
    }
    for (int m = 0; m < CATIONS; m++) {
        if (problem->cation[m] > 0) {
            speciation_share(out->mol_l, sums, &speciation_cations[m], problem->cation[m],
                             problem->constants->pair, activity, inverse);
        }
    }
}

/* Newton step in (ln a(SO4), ln a(H2PO4), -ln h, I), by elimination without pivoting: the
 * first three rows are positive definite. A row whose unknown is absent or given is made
 * trivial. */
static void speciation_step(double step[COUNTS], const struct speciation_sums *sums,
                            const struct speciation_problem *problem, double strength)
{
    static const double smallest_pivot = 1e-13;      /* of its diagonal: rounding only */
    static const double smallest_charge_pivot = 0.1; /* keeps a step towards a root */
    double m[COUNTS][COUNTS];
    const bool trivial[COUNTS] = {!(problem->target[COUNT_SULFATE] > 0),
                                  !(problem->target[COUNT_PHOSPHATE] > 0),
                                  problem->ph_given, false};
    for (int a = 0; a < COUNTS; a++) {
        for (int b = 0; b < COUNTS; b++) {
            m[a][b] = a <= b ? sums->second[a][b] : sums->second[b][a];
        }
        m[a][COUNT_CHARGE] *= sums->charge_response;
        step[a] = problem->target[a] - sums->first[a];
    }
    for (int b = 0; b < COUNTS; b++) {
        m[COUNT_CHARGE][b] *= -0.5;
    }
    m[COUNT_CHARGE][COUNT_CHARGE] += 1;
    step[COUNT_CHARGE] = 0.5 * sums->first[COUNT_CHARGE] - strength;
    for (int a = 0; a < COUNTS; a++) {
        if (trivial[a]) {
            for (int b = 0; b < COUNTS; b++) {
                m[a][b] = a == b;
            }
            step[a] = 0;
        }
    }
    for (int a = 0; a < COUNTS; a++) {
        const double least = a == COUNT_CHARGE ? smallest_charge_pivot
                                               : smallest_pivot * sums->second[a][a];
        const double pivot = 1 / (m[a][a] > least ? m[a][a] : least);
        for (int i = a + 1; i < COUNTS; i++) {
            const double factor = m[i][a] * pivot;
            for (int b = a + 1; b < COUNTS; b++) {
                m[i][b] -= factor * m[a][b];
            }
            step[i] -= factor * step[a];
        }
        m[a][a] = pivot;
    }
    for (int a = COUNTS - 1; a >= 0; a--) {
        for (int b = a + 1; b < COUNTS; b++) {
            step[a] -= m[a][b] * step[b];
        }
        step[a] *= m[a][a];
        if (a == COUNT_CHARGE) {
            step[a] = fmin(fmax(step[a], -0.7 * strength), 2 * strength);
        }
    }
}

/* Positive stand-in for exp(x), |x| <= 3: right to third order, and of reciprocal
 * symmetry. */
static double speciation_growth(double x)
{
    const double even = 12 + x * x;
    return (even + 6 * x) / (even - 6 * x);
}

/* Moves the unknowns along a step no longer than `limit`; returns the length asked for.
 */
static double speciation_move(struct speciation_unknowns *x, double step[COUNTS],
                              double limit)
{
    double length = 0;
    for (int a = 0; a < COUNT_CHARGE; a++) {
        length = fmax(length, fabs(step[a]));
    }
    const double scale = length > limit ? limit / length : 1;
    x->so4 *= speciation_growth(scale * step[COUNT_SULFATE]);
    x->h2po4 *= speciation_growth(scale * step[COUNT_PHOSPHATE]);
    x->h *= speciation_growth(-scale * step[COUNT_ALKALINITY]);
    const double last = x->ionic_strength;
    x->ionic_strength += scale * step[COUNT_CHARGE];
    return fmax(length, fabs(step[COUNT_CHARGE]) / last);
}

/* Species of the problem to about 1e-12 from a first guess. */
static double speciation_run(struct speciation *out,
                             const struct speciation_problem *problem,
                             struct speciation_unknowns x)
{
    enum {
        ITERATIONS_MAX = 80
    };
    static const double step_limit = 3;
    static const double near_enough = 1e-7; /* the last step squares it */
    struct speciation_sums sums;
    double limit = step_limit;
    double step[COUNTS];
    double last_turn = 0;
    for (int i = 0; i < ITERATIONS_MAX; i++) {
        speciation_evaluate(out, &sums, &x, problem);
        speciation_step(step, &sums, problem, x.ionic_strength);
        const double length = speciation_move(&x, step, limit);
        if (length < near_enough) {
            break;
        }
        if (length > limit && step[COUNT_ALKALINITY] * last_turn < 0) {
            limit *= 0.7;
        }
        last_turn = step[COUNT_ALKALINITY];
    }
    speciation_evaluate(out, &sums, &x, problem);
    out->ionic_strength = 0.5 * sums.first[COUNT_CHARGE];
    out->ph = -log10(x.h);
    return sums.first[COUNT_ALKALINITY];
}

static struct speciation_problem speciation_pose(const struct liquid *liquid,
                                                 const struct equilibrium *equilibrium,
                                                 double co2_ppm)
{
    static const double mmol = 1e-3;
    static const double ppm = 1e-6;
    static const double ln10 = 2.302585092994046;
    double mol_l[ION_COUNT];
    for (int i = 0; i < ION_COUNT; i++) {
        mol_l[i] = mmol * fmax(liquid->mmol_l[i], 0);
    }
    struct speciation_problem problem = {
        .constants = equilibrium,
        .target = {mol_l[ION_SO4], mol_l[ION_P], mmol * liquid->alkalinity_meq_l, 0},
        .inert_charge = mol_l[ION_NO3] + mol_l[ION_CL],
        .co2 = equilibrium->kh * ppm * co2_ppm,
        .davies = ln10 * equilibrium->debye_huckel_a,
    };
    for (int m = 0; m < CATIONS; m++) {
        problem.cation[m] = mol_l[speciation_cations[m].ion];
    }
    return problem;
}

/* A guess with calcium and magnesium paired once. */
static struct speciation_unknowns
speciation_guess(const struct speciation_problem *problem)
{
    const struct equilibrium *k = problem->constants;
    const double *pair = k->pair;
    const double so4 = problem->target[COUNT_SULFATE];
    const double p = problem->target[COUNT_PHOSPHATE];
    const double alkalinity = problem->target[COUNT_ALKALINITY];
    const double ca = problem->cation[0];
    const double mg = problem->cation[1];
    const double charge = problem->inert_charge + 4 * (ca + mg + so4) + p +
                          problem->cation[2] + problem->cation[3] + problem->cation[4] +
                          fabs(alkalinity);
    double activity[4];
    double unused;
    struct speciation_unknowns x = {.ionic_strength = 0.42 * charge + 1e-7};
    speciation_activity(activity, &unused, x.ionic_strength, problem->davies);
    const double g = activity[1];
    const double g4 = activity[2];
    const double acid = 1 / g + p / k->kp1;
    const double base = (k->k1 * problem->co2 + k->kw) / g + p * k->kp2 * g / g4;
    const double root = sqrt(alkalinity * alkalinity + 4 * acid * base);
    x.h = alkalinity > 0 ? 2 * base / (alkalinity + root)
                         : (root - alkalinity) / (2 * acid);
    const double ca_activity = ca / (1 / g4 + pair[SPECIES_CASO4] * so4 * g4);
    const double mg_activity = mg / (1 / g4 + pair[SPECIES_MGSO4] * so4 * g4);
    x.so4 = so4 / (1 / g4 + pair[SPECIES_HSO4] * x.h / g +
                   pair[SPECIES_CASO4] * ca_activity + pair[SPECIES_MGSO4] * mg_activity);
    const double hpo4 = k->kp2 / x.h;
    const double po4 = k->kp3 / x.h;
    x.h2po4 =
        p / (1 / g + x.h / k->kp1 +
             hpo4 * (1 / g4 +
                     ca_activity * (pair[SPECIES_CAHPO4] + po4 * pair[SPECIES_CAPO4]) +
                     mg_activity * (pair[SPECIES_MGHPO4] + po4 * pair[SPECIES_MGPO4])));
    return x;
}

struct speciation speciation_solve(const struct liquid *liquid,
                                   const struct equilibrium *equilibrium, double co2_ppm)
{
    struct speciation_problem problem = speciation_pose(liquid, equilibrium, co2_ppm);
    struct speciation out = {
        .mol_l = {[SPECIES_NO3] = 1e-3 * fmax(liquid->mmol_l[ION_NO3], 0),
                  [SPECIES_CL] = 1e-3 * fmax(liquid->mmol_l[ION_CL], 0),
                  [SPECIES_CO2] = problem.co2}};
    (void)speciation_run(&out, &problem, speciation_guess(&problem));
    return out;
}

double speciation_alkalinity_at(const struct liquid *liquid, double ph,
                                const struct equilibrium *equilibrium, double co2_ppm)
{
    struct speciation_problem problem = speciation_pose(liquid, equilibrium, co2_ppm);
    struct speciation out;
    problem.ph_given = true;
    struct speciation_unknowns x = speciation_guess(&problem);
    x.h = pow(10, -ph);
    return 1000 * speciation_run(&out, &problem, x);
}
