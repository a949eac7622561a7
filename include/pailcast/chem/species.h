/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The species that nine ions, alkalinity and CO2 form in water. */
#ifndef PAILCAST_CHEM_SPECIES_H
#define PAILCAST_CHEM_SPECIES_H

/* name, charge */
#define SPECIES_LIST(X)                                                                  \
    X(SPECIES_H, 1)                                                                      \
    X(SPECIES_OH, -1)                                                                    \
    X(SPECIES_K, 1)                                                                      \
    X(SPECIES_NA, 1)                                                                     \
    X(SPECIES_NH4, 1)                                                                    \
    X(SPECIES_CA, 2)                                                                     \
    X(SPECIES_MG, 2)                                                                     \
    X(SPECIES_NO3, -1)                                                                   \
    X(SPECIES_CL, -1)                                                                    \
    X(SPECIES_SO4, -2)                                                                   \
    X(SPECIES_H2PO4, -1)                                                                 \
    X(SPECIES_HPO4, -2)                                                                  \
    X(SPECIES_PO4, -3)                                                                   \
    X(SPECIES_HCO3, -1)                                                                  \
    X(SPECIES_CO3, -2)                                                                   \
    X(SPECIES_HSO4, -1)                                                                  \
    X(SPECIES_KSO4, -1)                                                                  \
    X(SPECIES_NASO4, -1)                                                                 \
    X(SPECIES_NH4SO4, -1)                                                                \
    X(SPECIES_CAHCO3, 1)                                                                 \
    X(SPECIES_MGHCO3, 1)                                                                 \
    X(SPECIES_CAH2PO4, 1)                                                                \
    X(SPECIES_MGH2PO4, 1)                                                                \
    X(SPECIES_CAPO4, -1)                                                                 \
    X(SPECIES_MGPO4, -1)                                                                 \
    X(SPECIES_KHPO4, -1)                                                                 \
    X(SPECIES_NAHPO4, -1)                                                                \
    X(SPECIES_CASO4, 0)                                                                  \
    X(SPECIES_MGSO4, 0)                                                                  \
    X(SPECIES_CACO3, 0)                                                                  \
    X(SPECIES_MGCO3, 0)                                                                  \
    X(SPECIES_CAHPO4, 0)                                                                 \
    X(SPECIES_MGHPO4, 0)                                                                 \
    X(SPECIES_H3PO4, 0)                                                                  \
    X(SPECIES_NH3, 0)                                                                    \
    X(SPECIES_CO2, 0)

enum species {
#define SPECIES_ENUM(name, charge) name,
    SPECIES_LIST(SPECIES_ENUM)
#undef SPECIES_ENUM
    SPECIES_COUNT
};

/* Charges in enum order. */
extern const int species_charge[SPECIES_COUNT];

#endif
