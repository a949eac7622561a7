/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The nine ions a bucket carries. Molar masses are sums of the IUPAC 2021 abridged
 * standard atomic weights (Prohaska et al. 2022, Pure Appl. Chem. 94:573): H 1.008,
 * N 14.007, O 15.999, Na 22.990, Mg 24.305, P 30.974, S 32.06, Cl 35.45, K 39.098,
 * Ca 40.078. A test adds them up again. */
#include "pailcast/chem/ion.h"

#include <string.h>

const struct ion_row ion_table[ION_COUNT] = {
    [ION_NO3] = {"no3", "NO3-", "nitrate", -1, 62.004, true},
    [ION_NH4] = {"nh4", "NH4+", "ammonium", 1, 18.039, true},
    [ION_P] = {"p", "H2PO4-", "phosphate", -1, 96.986, true},
    [ION_K] = {"k", "K+", "potassium", 1, 39.098, true},
    [ION_CA] = {"ca", "Ca++", "calcium", 2, 40.078, true},
    [ION_MG] = {"mg", "Mg++", "magnesium", 2, 24.305, true},
    [ION_SO4] = {"so4", "SO4--", "sulfate", -2, 96.056, true},
    [ION_NA] = {"na", "Na+", "sodium", 1, 22.990, false},
    [ION_CL] = {"cl", "Cl-", "chloride", -1, 35.45, false},
};

enum ion ion_by_key(const char *key)
{
    enum ion ion = ION_NO3;
    while (ion < ION_COUNT && strcmp(ion_table[ion].key, key) != 0) {
        ion++;
    }
    return ion;
}
