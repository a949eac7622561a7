/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The layout of the state vector: water, ions, alkalinity, plant, ledger. Only here. */
#ifndef PAILCAST_BUCKET_STATE_H
#define PAILCAST_BUCKET_STATE_H

#include "pailcast/chem/liquid.h"
#include "pailcast/plant/plant.h"

enum state {
    STATE_VOLUME = 0,                              /* L */
    STATE_ION,                                     /* mmol, ION_COUNT of them */
    STATE_ALKALINITY = STATE_ION + ION_COUNT,      /* meq */
    STATE_PLANT,                                   /* PLANT_STATE_COUNT of them */
    STATE_DRUNK = STATE_PLANT + PLANT_STATE_COUNT, /* ledger: L drunk since day 0 */
    STATE_EVAPORATED,                              /* ledger: L */
    STATE_UPTAKE,                                  /* ledger: mmol per ion */
    STATE_GROWN = STATE_UPTAKE + ION_COUNT,        /* ledger: g dry mass made */
    STATE_COUNT
};

/* The liquid in the bucket; zero concentrations where no water is left. */
struct liquid state_liquid(const double state[STATE_COUNT]);

/* Adds litres of a liquid (>= 0), or takes out litres of what is in the bucket. */
void state_pour(double state[STATE_COUNT], const struct liquid *liquid, double litres);
void state_drain(double state[STATE_COUNT], double litres);

/* Makes exactly nothing of what an integrator has left slightly below nothing: the plant
 * gives back what it took beyond what was there, and the books close as before. What is
 * not below nothing stays to the last bit. */
void state_settle(double state[STATE_COUNT]);

/* What a component is, in words: "potassium in the bucket". Borrowed, static. */
const char *state_name(size_t component);

/* Dissolved salt in the bucket, g. */
double state_salt_g(const double state[STATE_COUNT]);

#endif
