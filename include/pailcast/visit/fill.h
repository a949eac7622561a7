/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fill rules: from what a grower sees to litres of water and stock. One file a rule. */
#ifndef PAILCAST_VISIT_FILL_H
#define PAILCAST_VISIT_FILL_H

#include <stdbool.h>

#include "pailcast/visit/observation.h"
#include "pailcast/visit/strategy.h"

/* What a rule asks for, and what it would take where it cannot reach its aim. */
struct fill_plan {
    double water_l, stock_l;
    double aim_ec_ms_cm;  /* where the rule has one */
    bool reached;         /* false: the aim cannot be met by pouring */
    double drain_first_l; /* too strong: litres to drain so that water alone would do */
    double best_ec_ms_cm; /* the nearest EC that pouring reaches */
};

struct fill_rule {
    const char *name; /* the word in a scenario */
    /* Litres to pour into `room_l` litres of free space. */
    struct fill_plan (*plan)(const struct observation *seen,
                             const struct strategy_fill *fill, double room_l);
};

/* All rules, in the order of the scenario guide. */
extern const struct fill_rule *const fill_rules[];
extern const size_t fill_rule_count;

/* The rule of a name; NULL if there is none. */
const struct fill_rule *fill_rule_by_name(const char *name);

#endif
