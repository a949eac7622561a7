/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fills.h"

static struct fill_plan fill_mix_plan(const struct observation *seen,
                                      const struct strategy_fill *fill, double room_l)
{
    (void)seen;
    return (struct fill_plan){.water_l = (1 - fill->stock_share) * room_l,
                              .stock_l = fill->stock_share * room_l,
                              .reached = true};
}

const struct fill_rule fill_mix = {.name = "mix", .plan = fill_mix_plan};
