/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fills.h"

static struct fill_plan fill_stock_plan(const struct observation *seen,
                                        const struct strategy_fill *fill, double room_l)
{
    (void)seen;
    (void)fill;
    return (struct fill_plan){.stock_l = room_l, .reached = true};
}

const struct fill_rule fill_stock = {.name = "stock", .plan = fill_stock_plan};
