/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/visit/fill.h"

#include <string.h>

#include "fills.h"

const struct fill_rule *const fill_rules[] = {&fill_water, &fill_stock, &fill_mix,
                                              &fill_aim};
const size_t fill_rule_count = sizeof fill_rules / sizeof fill_rules[0];

const struct fill_rule *fill_rule_by_name(const char *name)
{
    for (size_t i = 0; i < fill_rule_count; i++) {
        if (strcmp(fill_rules[i]->name, name) == 0) {
            return fill_rules[i];
        }
    }
    return NULL;
}
