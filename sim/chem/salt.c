/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain salts, acids and bases. A row's molar mass is the sum over its formula of the
 * IUPAC 2021 abridged atomic weights (Prohaska et al. 2022); its alkalinity is what
 * electroneutrality leaves, sum z_i n_i over its ions with phosphate counted as H2PO4-:
 * carbonate, hydroxide and silicate come out as alkalinity, an acid as its negative.
 * Silicate is counted as neutral silicic acid (pK 9.83), so valid below about pH 9. A
 * test reads each formula again and adds up mass, atoms and charge. */
#include "pailcast/chem/salt.h"

#include <string.h>
#include <strings.h>

const struct salt salt_table[] = {
    {"Ca(NO3)2.4H2O",
     "calcium nitrate, tetrahydrate",
     236.146,
     {[ION_CA] = 1, [ION_NO3] = 2},
     0},
    {"5Ca(NO3)2.NH4NO3.10H2O",
     "calcium ammonium nitrate, decahydrate",
     1080.623,
     {[ION_CA] = 5, [ION_NO3] = 11, [ION_NH4] = 1},
     0},
    {"Ca(NO3)2", "calcium nitrate, anhydrous", 164.086, {[ION_CA] = 1, [ION_NO3] = 2}, 0},
    {"KNO3", "potassium nitrate", 101.102, {[ION_K] = 1, [ION_NO3] = 1}, 0},
    {"KH2PO4", "monopotassium phosphate", 136.084, {[ION_K] = 1, [ION_P] = 1}, 0},
    {"K2HPO4", "dipotassium phosphate", 174.174, {[ION_K] = 2, [ION_P] = 1}, 1},
    {"MgSO4.7H2O",
     "magnesium sulfate, heptahydrate",
     246.466,
     {[ION_MG] = 1, [ION_SO4] = 1},
     0},
    {"MgSO4", "magnesium sulfate, anhydrous", 120.361, {[ION_MG] = 1, [ION_SO4] = 1}, 0},
    {"Mg(NO3)2.6H2O",
     "magnesium nitrate, hexahydrate",
     256.403,
     {[ION_MG] = 1, [ION_NO3] = 2},
     0},
    {"K2SO4", "potassium sulfate", 174.252, {[ION_K] = 2, [ION_SO4] = 1}, 0},
    {"NH4H2PO4", "monoammonium phosphate", 115.025, {[ION_NH4] = 1, [ION_P] = 1}, 0},
    {"(NH4)2HPO4", "diammonium phosphate", 132.056, {[ION_NH4] = 2, [ION_P] = 1}, 1},
    {"NH4NO3", "ammonium nitrate", 80.043, {[ION_NH4] = 1, [ION_NO3] = 1}, 0},
    {"(NH4)2SO4", "ammonium sulfate", 132.134, {[ION_NH4] = 2, [ION_SO4] = 1}, 0},
    {"NH4Cl", "ammonium chloride", 53.489, {[ION_NH4] = 1, [ION_CL] = 1}, 0},
    {"NaNO3", "sodium nitrate", 84.994, {[ION_NA] = 1, [ION_NO3] = 1}, 0},
    {"NaCl", "sodium chloride", 58.440, {[ION_NA] = 1, [ION_CL] = 1}, 0},
    {"KCl", "potassium chloride", 74.548, {[ION_K] = 1, [ION_CL] = 1}, 0},
    {"CaCl2.2H2O",
     "calcium chloride, dihydrate",
     147.008,
     {[ION_CA] = 1, [ION_CL] = 2},
     0},
    {"CaCl2", "calcium chloride, anhydrous", 110.978, {[ION_CA] = 1, [ION_CL] = 2}, 0},
    {"MgCl2.6H2O",
     "magnesium chloride, hexahydrate",
     203.295,
     {[ION_MG] = 1, [ION_CL] = 2},
     0},
    {"MgCl2", "magnesium chloride, anhydrous", 95.205, {[ION_MG] = 1, [ION_CL] = 2}, 0},
    {"CaSO4.2H2O",
     "calcium sulfate, dihydrate (gypsum)",
     172.164,
     {[ION_CA] = 1, [ION_SO4] = 1},
     0},
    {"Na2SO4", "sodium sulfate", 142.036, {[ION_NA] = 2, [ION_SO4] = 1}, 0},
    {"Na2HPO4", "disodium phosphate", 141.958, {[ION_NA] = 2, [ION_P] = 1}, 1},
    {"K2SiO3", "potassium silicate", 154.278, {[ION_K] = 2}, 2},
    {"KHCO3", "potassium bicarbonate", 100.114, {[ION_K] = 1}, 1},
    {"K2CO3", "potassium carbonate", 138.204, {[ION_K] = 2}, 2},
    {"NaHCO3", "sodium bicarbonate", 84.006, {[ION_NA] = 1}, 1},
    {"Na2CO3", "sodium carbonate", 105.988, {[ION_NA] = 2}, 2},
    {"CaCO3", "calcium carbonate", 100.086, {[ION_CA] = 1}, 2},
    {"Ca(OH)2", "calcium hydroxide", 74.092, {[ION_CA] = 1}, 2},
    {"KOH", "potassium hydroxide", 56.105, {[ION_K] = 1}, 1},
    {"NaOH", "sodium hydroxide", 39.997, {[ION_NA] = 1}, 1},
    {"HNO3", "nitric acid", 63.012, {[ION_NO3] = 1}, -1},
    {"H3PO4", "phosphoric acid", 97.994, {[ION_P] = 1}, -1},
    {"H2SO4", "sulfuric acid", 98.072, {[ION_SO4] = 1}, -2},
    {"HCl", "hydrochloric acid", 36.458, {[ION_CL] = 1}, -1},
};

const size_t salt_count = sizeof salt_table / sizeof salt_table[0];

const struct salt *salt_by_formula(const char *formula)
{
    for (size_t i = 0; i < salt_count; i++) {
        if (strcmp(salt_table[i].formula, formula) == 0) {
            return &salt_table[i];
        }
    }
    for (size_t i = 0; i < salt_count; i++) {
        if (strcasecmp(salt_table[i].formula, formula) == 0) {
            return &salt_table[i];
        }
    }
    return NULL;
}

double salt_g(const struct salt *salt, double mmol)
{
    return mmol * salt->molar_mass / 1000;
}

double salt_mmol(const struct salt *salt, double grams)
{
    return 1000 * grams / salt->molar_mass;
}

double salt_carbonate(const struct salt *salt)
{
    /* one carbon in every formula of the table that has it */
    return strstr(salt->formula, "CO3") != NULL ? 1 : 0;
}

void salt_dissolve(struct liquid *liquid, const struct salt *salt, double grams_per_litre)
{
    salt_dissolve_mmol(liquid, salt, salt_mmol(salt, grams_per_litre));
}

void salt_dissolve_mmol(struct liquid *liquid, const struct salt *salt, double mmol_l)
{
    for (int i = 0; i < ION_COUNT; i++) {
        liquid->mmol_l[i] += mmol_l * salt->ions[i];
    }
    liquid->alkalinity_meq_l += mmol_l * salt->alkalinity;
}
