/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hydrogen-ion activity h from one balance at fixed activity coefficients:
 *     A = c1/h + 2 c2/h^2 + P kp2/(h + kp2) - a h - P h/(h + kp1)
 * A alkalinity and P phosphate in mol/L, a h the free hydrogen ion. Closed form in three
 * explicit steps, each exact in its own range: (1) base B = (c1/h + HPO4--) against acid,
 * A = B - (a + P/kp1)(c1 + P kp2)/B, exact where h >> kp2; (2) HPO4-- out of B by the
 * quadratic of h = kp2 (P - HPO4)/HPO4 = c1/(B - HPO4), exact where h << kp1; (3) h from
 * both at once and carbonate, B h^2 = (c1 + kp2 (P - HPO4)) h + 2 c2; what (2)
 * leaves out of carbonate costs up to 0.025 pH above pH 8.
 * Coefficients are Davies' at I = 0.02 mol/L; calcium and magnesium, which hold HPO4--
 * and CO3--, are taken at 3 and 1.3 mmol/L, four fifths of them free (a typical feed). */
#include "pailcast/chem/acidity.h"

#include <math.h>

static const double typical_strength = 0.02;
static const double typical_ca = 0.8 * 3e-3;
static const double typical_mg = 0.8 * 1.3e-3;

struct acidity acidity_at(const struct equilibrium *equilibrium, double co2_ppm)
{
    const double root = sqrt(typical_strength);
    const double g = pow(10, -equilibrium->debye_huckel_a *
                                 (root / (1 + root) - 0.3 * typical_strength));
    const double g4 = g * g * g * g;
    const double *pair = equilibrium->pair;
    const double co2 = equilibrium_co2(equilibrium, co2_ppm);
    const double hpo4_held =
        g4 * g4 * (pair[SPECIES_CAHPO4] * typical_ca + pair[SPECIES_MGHPO4] * typical_mg);
    const double co3_held =
        g4 * g4 * (pair[SPECIES_CACO3] * typical_ca + pair[SPECIES_MGCO3] * typical_mg);
    return (struct acidity){
        .c1 = (equilibrium->k1 * co2 + equilibrium->kw) / g,
        .c2 = equilibrium->k1 * equilibrium->k2 * co2 / g4 * (1 + co3_held),
        .kp1 = equilibrium->kp1 / g,
        .kp2 = equilibrium->kp2 * g / g4 * (1 + hpo4_held),
        .acid = 1 / g,
    };
}

double acidity_hydrogen(const struct acidity *acidity, double alkalinity_meq_l,
                        double phosphate_mmol_l)
{
    static const double mol = 1e-3;
    const double alkalinity = mol * alkalinity_meq_l;
    const double p = mol * phosphate_mmol_l;
    const double kp2 = acidity->kp2;
    const double acid = acidity->acid + p / acidity->kp1;
    const double product = acid * (acidity->c1 + p * kp2);
    /* the larger root of base^2 - A base = product, without a difference of equals */
    const double root = sqrt(alkalinity * alkalinity + 4 * product);
    const double base =
        alkalinity > 0 ? 0.5 * (alkalinity + root) : 2 * product / (root - alkalinity);
    const double b = base + p + acidity->c1 / kp2;
    const double hpo4 = 2 * base * p / (b + sqrt(b * b - 4 * base * p));
    const double per_base = 1 / base;
    const double h = (acidity->c1 + kp2 * (p - hpo4)) * per_base;
    return 0.5 * (h + sqrt(h * h + 8 * acidity->c2 * per_base));
}
