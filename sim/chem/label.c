/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A label's percentages as ions. Each element's share of the named oxide or element by
 * the IUPAC 2021 abridged atomic weights: N 14.007, P2O5 141.943 (2 P), K2O 94.195 (2 K),
 * Ca 40.078, Mg 24.305, S 32.06, Na 22.990, Cl 35.45 g/mol. Sulfur is sulfate, phosphorus
 * is counted as H2PO4-, so a label that holds carbonate or the second charge of phosphate
 * shows as open charge. */
#include "pailcast/chem/label.h"

#include <math.h>
#include <stdlib.h>

/* mmol of ion in a gram of product per percent on the label: 10 mg over g/mol, times the
 * atoms in the formula. */
static double label_mmol_g(double percent, double molar_mass, int atoms)
{
    return percent * 10 * atoms / molar_mass;
}

double label_dissolve(struct liquid *liquid, const struct label *label,
                      double grams_per_litre, enum ion closing)
{
    const double mmol_g[ION_COUNT] = {
        [ION_NO3] = label_mmol_g(label->n_nitrate, 14.007, 1),
        [ION_NH4] = label_mmol_g(label->n_ammonium, 14.007, 1),
        [ION_P] = label_mmol_g(label->p2o5, 141.943, 2),
        [ION_K] = label_mmol_g(label->k2o, 94.195, 2),
        [ION_CA] = label_mmol_g(label->ca, 40.078, 1),
        [ION_MG] = label_mmol_g(label->mg, 24.305, 1),
        [ION_SO4] = label_mmol_g(label->s, 32.06, 1),
        [ION_NA] = label_mmol_g(label->na, 22.990, 1),
        [ION_CL] = label_mmol_g(label->cl, 35.45, 1),
    };
    static const double rounding = 1e-9; /* of the charge dissolved */
    double open_meq_l = 0;
    double all_meq_l = 0;
    for (int i = 0; i < ION_COUNT; i++) {
        const double mmol_l = grams_per_litre * mmol_g[i];
        liquid->mmol_l[i] += mmol_l;
        open_meq_l += mmol_l * ion_table[i].charge;
        all_meq_l += mmol_l * abs(ion_table[i].charge);
    }
    if (fabs(open_meq_l) <= rounding * all_meq_l) {
        return 0;
    }
    const double added_mmol_l = -open_meq_l / ion_table[closing].charge;
    if (added_mmol_l < 0) {
        return NAN;
    }
    liquid->mmol_l[closing] += added_mmol_l;
    return open_meq_l;
}
