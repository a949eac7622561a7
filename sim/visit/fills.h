/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fill rules that fill.c lists. */
#ifndef PAILCAST_VISIT_FILLS_H
#define PAILCAST_VISIT_FILLS_H

#include "pailcast/visit/fill.h"

extern const struct fill_rule fill_water; /* clean water only */
extern const struct fill_rule fill_stock; /* stock only */
extern const struct fill_rule fill_mix;   /* a fixed share of stock */
extern const struct fill_rule fill_aim;   /* whatever share gives the aim EC */

#endif
