/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was typed behind `pailcast mix`, in internal units. */
#ifndef SIM_CLI_MIX_WISH_H
#define SIM_CLI_MIX_WISH_H

#include <getopt.h>
#include <stdbool.h>

#include "pailcast/study/mix.h"

enum {
    MIX_PRICES_MAX = 16
};

struct mix_price {
    const struct salt *salt;
    double per_kg;
};

struct mix_wish {
    size_t salt_count; /* --salt */
    const struct salt *salts[MIX_SALTS_MAX];
    double g_l[MIX_SALTS_MAX];
    const char *recipe, *water, *analyses; /* NULL: none */
    double dose;                           /* of the recipe, 1 as it stands */
    bool wants;                            /* --target given */
    double wanted_mmol_l[ION_COUNT];       /* NAN: not wanted */
    size_t from_count;                     /* --from */
    const struct salt *from[MIX_SALTS_MAX];
    size_t price_count;
    struct mix_price prices[MIX_PRICES_MAX];
    double litres; /* --volume, 1 if left out */
};

extern const struct option mix_wish_options[];
extern const char mix_wish_help[];

struct mix_wish mix_wish_none(void);

/* For options_read; context is the wish. */
bool mix_wish_take(void *context, size_t index, const char *argument);

/* Whether what was typed fits together. */
enum status mix_wish_check(const struct mix_wish *wish,
                           struct error *error) STATUS_MUST_CHECK;

#endif
