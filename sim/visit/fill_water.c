/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fills.h"

static struct fill_plan fill_water_plan(const struct observation *seen,
                                        const struct strategy_fill *fill, double room_l)
{
    (void)seen;
    (void)fill;
    return (struct fill_plan){.water_l = room_l, .reached = true};
}

const struct fill_rule fill_water = {.name = "water", .plan = fill_water_plan};
