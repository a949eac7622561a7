/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charges of the species, grown from the one list in the header. */
#include "pailcast/chem/species.h"

const int species_charge[SPECIES_COUNT] = {
#define SPECIES_CHARGE(name, charge) [name] = (charge),
    SPECIES_LIST(SPECIES_CHARGE)
#undef SPECIES_CHARGE
};
