/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pH and species by Newton's method on the activities of SO4--, H2PO4- and H+ and the
 * ionic strength; everything else is explicit in these (balance.c). Four balances:
 *     sum c s = total SO4,  sum c p = total P,  sum c a = alkalinity,  sum c z^2 = 2 I.
 * In (ln a(SO4), ln a(H2PO4), -ln h) the Jacobian of the first three is a covariance,
 * sum c n n' - sum_M T_M m m' with m the mean count n of cation M's species: positive
 * definite, so at a given I a step of bounded length goes downhill on a convex function
 * (mass balances as a minimum of free energy: White, Johnson & Dantzig 1958). I is
 * eliminated last, and its step kept within a factor of itself, before the others follow.
 * Alkalinity is zero at H2PO4-: HCO3 + 2 CO3 + OH - H + NH3 + HPO4 + 2 PO4 - H3PO4 -
 * HSO4, pairs with what they hold. A litre is taken as a kilogram of water. */
#include "pailcast/chem/speciation.h"

#include <math.h>

#include "pailcast/base/number.h"

#include "balance.h"

/* Newton step; the first three in logarithms, the last in mol/L. */
struct speciation_step {
    double so4, h2po4, alkaline, ionic_strength;
};

/* Solves the positive definite three by three of `m` for two right sides at once. */
static void speciation_eliminate(double x[3], double y[3], const struct balance_sums *m)
{
    static const double least = 1e-13; /* of a pivot's diagonal: rounding only */
    const double d0 = 1 / m->ss;
    const double l1 = m->sp * d0;
    const double l2 = m->sa * d0;
    const double p1 = m->pp - l1 * m->sp;
    const double d1 = 1 / (p1 > least * m->pp ? p1 : least * m->pp);
    const double pa = m->pa - l1 * m->sa;
    const double l21 = pa * d1;
    const double p2 = m->aa - l2 * m->sa - l21 * pa;
    const double d2 = 1 / (p2 > least * m->aa ? p2 : least * m->aa);
    x[1] -= l1 * x[0];
    y[1] -= l1 * y[0];
    x[2] = (x[2] - l2 * x[0] - l21 * x[1]) * d2;
    y[2] = (y[2] - l2 * y[0] - l21 * y[1]) * d2;
    x[1] = x[1] * d1 - l21 * x[2];
    y[1] = y[1] * d1 - l21 * y[2];
    x[0] = x[0] * d0 - l1 * x[1] - l2 * x[2];
    y[0] = y[0] * d0 - l1 * y[1] - l2 * y[2];
}

/* Makes the row of an absent or given unknown trivial. */
static void speciation_fix(struct balance_sums *m, double rest[3],
                           const struct balance_problem *problem)
{
    if (!(problem->total[ION_SO4] > 0)) {
        m->ss = 1;
        m->sp = m->sa = m->sz = rest[0] = 0;
    }
    if (!(problem->total[ION_P] > 0)) {
        m->pp = 1;
        m->sp = m->pa = m->pz = rest[1] = 0;
    }
    if (problem->ph_given) {
        m->aa = 1;
        m->sa = m->pa = m->az = rest[2] = 0;
    }
}

static struct speciation_step speciation_newton(struct balance_sums *m,
                                                double ionic_strength,
                                                const struct balance_problem *problem)
{
    static const double least_slope = 0.1; /* keeps the step towards a root */
    double rest[3] = {problem->total[ION_SO4] - m->s, problem->total[ION_P] - m->p,
                      problem->alkalinity - m->a};
    speciation_fix(m, rest, problem);
    double response[3] = {m->sz, m->pz, m->az};
    speciation_eliminate(rest, response, m);
    const double gained = m->sz * rest[0] + m->pz * rest[1] + m->az * rest[2];
    const double taken = m->sz * response[0] + m->pz * response[1] + m->az * response[2];
    const double slope = 1 - 0.5 * m->field * (m->zz - taken);
    double change = (0.5 * (m->z + gained) - ionic_strength) /
                    (slope > least_slope ? slope : least_slope);
    change = number_clamp(change, -0.7 * ionic_strength, 2 * ionic_strength);
    const double shift = m->field * change;
    return (struct speciation_step){rest[0] - shift * response[0],
                                    rest[1] - shift * response[1],
                                    rest[2] - shift * response[2], change};
}

/* Positive stand-in for exp(x), |x| <= 3: right to fourth order, and 1 over itself at -x.
 */
static double speciation_growth(double x)
{
    const double even = 12 + x * x;
    return (even + 6 * x) / (even - 6 * x);
}

/* Moves the unknowns, no logarithm by more than `limit`; returns the longest relative
 * change asked for. */
static double speciation_move(struct balance_unknowns *x,
                              const struct speciation_step *step, double limit)
{
    const double so4 = fabs(step->so4);
    const double h2po4 = fabs(step->h2po4);
    const double alkaline = fabs(step->alkaline);
    double length = so4 > h2po4 ? so4 : h2po4;
    length = length > alkaline ? length : alkaline;
    const double scale = length > limit ? limit / length : 1;
    const double field = fabs(step->ionic_strength) / x->ionic_strength;
    x->so4 *= speciation_growth(scale * step->so4);
    x->h2po4 *= speciation_growth(scale * step->h2po4);
    x->h *= speciation_growth(-scale * step->alkaline);
    x->ionic_strength += scale * step->ionic_strength;
    return length > field ? length : field;
}

/* Species of the problem from a first guess; returns the alkalinity, mol/L. */
static double speciation_run(struct speciation *out,
                             const struct balance_problem *problem,
                             struct balance_unknowns x)
{
    enum {
        ITERATIONS_MAX = 80 /* seen: 7 on nutrient solutions, 17 on extremes */
    };
    static const double near_enough = 3e-7; /* the step that meets it squares it */
    struct balance_sums sums;
    double limit = 3;
    double last_turn = 0;
    for (int i = 0; i < ITERATIONS_MAX; i++) {
        balance_evaluate(out, &sums, &x, problem);
        const struct speciation_step step =
            speciation_newton(&sums, x.ionic_strength, problem);
        const double length = speciation_move(&x, &step, limit);
        if (length < near_enough) {
            break;
        }
        if (length > limit && step.alkaline * last_turn < 0) {
            limit *= 0.7; /* it turned back: the curve is flat on both sides */
        }
        last_turn = step.alkaline;
    }
    balance_evaluate(out, &sums, &x, problem);
    out->ionic_strength = 0.5 * sums.z;
    out->ph = -log10(x.h);
    return sums.a;
}

static const double mol_per_mmol = 1e-3;

/* Less than one ion in a litre is none (1000/Avogadro's number): shares of amounts that
 * small are no numbers any more. */
static const double speciation_one_ion_mmol_l = 1.66e-21;

static struct balance_problem speciation_pose(const struct liquid *liquid,
                                              const struct equilibrium *equilibrium,
                                              double co2_ppm)
{
    static const double ln10 = 2.302585092994046;
    struct balance_problem problem = {
        .constants = equilibrium,
        .alkalinity = mol_per_mmol * liquid->alkalinity_meq_l,
        .co2 = equilibrium_co2(equilibrium, co2_ppm),
        .davies = ln10 * equilibrium->debye_huckel_a,
    };
    for (int i = 0; i < ION_COUNT; i++) {
        const double mmol_l = liquid->mmol_l[i];
        problem.total[i] = mmol_l > speciation_one_ion_mmol_l ? mol_per_mmol * mmol_l : 0;
    }
    return problem;
}

/* Ionic strength without pairs, less a usual share for them. */
static double speciation_guess_strength(const struct balance_problem *problem)
{
    static const double unpaired = 0.84;
    static const double least = 1e-7;
    const double *t = problem->total;
    const double charge = t[ION_NO3] + t[ION_NH4] + t[ION_P] + t[ION_K] + t[ION_NA] +
                          t[ION_CL] + 4 * (t[ION_CA] + t[ION_MG] + t[ION_SO4]) +
                          fabs(problem->alkalinity);
    return 0.5 * unpaired * charge + least;
}

/* h from acid and bicarbonate alone, then sulfate and phosphate paired once. */
static struct balance_unknowns speciation_guess(const struct balance_problem *problem)
{
    const struct equilibrium *k = problem->constants;
    const double *pair = k->pair;
    const double so4 = problem->total[ION_SO4];
    const double p = problem->total[ION_P];
    const double alkalinity = problem->alkalinity;
    double g[4];
    double u[4];
    struct balance_unknowns x = {.ionic_strength = speciation_guess_strength(problem)};
    (void)balance_activity(g, u, x.ionic_strength, problem->davies);
    const double acid = u[1] + p / k->kp1;
    const double base = (k->k1 * problem->co2 + k->kw) * u[1] + p * k->kp2 * g[1] * u[2];
    const double root = sqrt(alkalinity * alkalinity + 4 * acid * base);
    x.h = alkalinity > 0 ? 2 * base / (alkalinity + root)
                         : (root - alkalinity) / (2 * acid);
    const double ca = problem->total[ION_CA] / (u[2] + pair[SPECIES_CASO4] * so4 * g[2]);
    const double mg = problem->total[ION_MG] / (u[2] + pair[SPECIES_MGSO4] * so4 * g[2]);
    x.so4 = so4 / (u[2] + pair[SPECIES_HSO4] * x.h * u[1] + pair[SPECIES_CASO4] * ca +
                   pair[SPECIES_MGSO4] * mg);
    const double hpo4 = k->kp2 / x.h;
    const double po4 = k->kp3 / x.h;
    x.h2po4 =
        p / (u[1] + x.h / k->kp1 +
             hpo4 * (u[2] + ca * (pair[SPECIES_CAHPO4] + po4 * pair[SPECIES_CAPO4]) +
                     mg * (pair[SPECIES_MGHPO4] + po4 * pair[SPECIES_MGPO4])));
    return x;
}

struct speciation speciation_solve(const struct liquid *liquid,
                                   const struct equilibrium *equilibrium, double co2_ppm)
{
    const struct balance_problem problem = speciation_pose(liquid, equilibrium, co2_ppm);
    struct speciation out = {.mol_l = {[SPECIES_NO3] = problem.total[ION_NO3],
                                       [SPECIES_CL] = problem.total[ION_CL],
                                       [SPECIES_CO2] = problem.co2}};
    (void)speciation_run(&out, &problem, speciation_guess(&problem));
    return out;
}

double speciation_alkalinity_at(const struct liquid *liquid, double ph,
                                const struct equilibrium *equilibrium, double co2_ppm)
{
    struct balance_problem problem = speciation_pose(liquid, equilibrium, co2_ppm);
    struct speciation out = {.ph = ph};
    struct balance_unknowns x = speciation_guess(&problem);
    problem.ph_given = true;
    x.h = pow(10, -ph);
    return speciation_run(&out, &problem, x) / mol_per_mmol;
}
