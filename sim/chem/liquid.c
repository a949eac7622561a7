/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums over what a litre of liquid holds. Alkalinity stands for the charge of everything
 * that is not one of the nine ions (bicarbonate, carbonate, hydroxide, the second and
 * third charge of phosphate, less hydrogen), so a liquid is neutral when
 *     sum z_i c_i = alkalinity,  c_i in mmol/L, z_i the charge of the counted form. */
#include "pailcast/chem/liquid.h"

#include <math.h>

struct liquid liquid_mix(const struct liquid *a, const struct liquid *b, double share)
{
    struct liquid mixed;
    for (int i = 0; i < ION_COUNT; i++) {
        mixed.mmol_l[i] = (1 - share) * a->mmol_l[i] + share * b->mmol_l[i];
    }
    mixed.alkalinity_meq_l =
        (1 - share) * a->alkalinity_meq_l + share * b->alkalinity_meq_l;
    return mixed;
}

struct liquid liquid_sum(const struct liquid *a, const struct liquid *b)
{
    struct liquid sum = *a;
    for (int i = 0; i < ION_COUNT; i++) {
        sum.mmol_l[i] += b->mmol_l[i];
    }
    sum.alkalinity_meq_l += b->alkalinity_meq_l;
    return sum;
}

double liquid_salt_g_l(const struct liquid *liquid)
{
    double mg_l = 0;
    for (int i = 0; i < ION_COUNT; i++) {
        mg_l += liquid->mmol_l[i] * ion_table[i].molar_mass;
    }
    return mg_l / 1000;
}

double liquid_charge_meq_l(const struct liquid *liquid)
{
    double charge = -liquid->alkalinity_meq_l;
    for (int i = 0; i < ION_COUNT; i++) {
        charge += liquid->mmol_l[i] * ion_table[i].charge;
    }
    return charge;
}

double liquid_charge_error_percent(const struct liquid *liquid)
{
    double all = fabs(liquid->alkalinity_meq_l);
    for (int i = 0; i < ION_COUNT; i++) {
        all += fabs(liquid->mmol_l[i] * ion_table[i].charge);
    }
    return all > 0 ? 100 * liquid_charge_meq_l(liquid) / all : 0;
}
