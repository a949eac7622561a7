/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The books of one life: every litre, ion and charge that came or went. */
#ifndef PAILCAST_RUN_LEDGER_H
#define PAILCAST_RUN_LEDGER_H

#include "pailcast/bucket/state.h"
#include "pailcast/visit/visit.h"

struct ledger_side {
    double water_l;
    double mmol[ION_COUNT];
    double alkalinity_meq;
};

/* What was there at first, came in and went out by hand, and what plant and air had taken
 * before; what they have taken by now is read from the ledger components of the state. */
struct ledger {
    struct ledger_side first, poured, drained, before;
    double salt_poured_g;
    double adjust_mmol;
    int visits, renewals, tests;
};

/* Gaps of the closed books, relative to everything that ever went in. */
struct ledger_balance {
    double water_rel;
    double ion_rel[ION_COUNT];
    double worst_ion_rel;
    double charge_rel;
};

void ledger_open(struct ledger *ledger, const double state[STATE_COUNT]);
void ledger_enter(struct ledger *ledger, const struct visit_record *visit);
struct ledger_balance ledger_close(const struct ledger *ledger,
                                   const double state[STATE_COUNT]);

#endif
