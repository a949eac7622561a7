/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/uncertain.h"

const struct uncertain_row uncertain_table[UNCERTAIN_COUNT] = {
#define UNCERTAIN_ROW(code, key, words, kind, quantity, most, spread)                    \
    [code] = {key, words, kind, quantity, most, spread},
    UNCERTAIN_LIST(UNCERTAIN_ROW)
#undef UNCERTAIN_ROW
};

const char *const uncertain_shape_words[UNCERTAIN_SHAPES] = {
    [UNCERTAIN_LOGNORMAL] = "lognormal",
    [UNCERTAIN_NORMAL] = "normal",
    [UNCERTAIN_UNIFORM] = "uniform",
};

struct uncertain uncertain_defaults(void)
{
    struct uncertain uncertain;
    for (int i = 0; i < UNCERTAIN_COUNT; i++) {
        const struct uncertain_row *row = &uncertain_table[i];
        uncertain.spread[i] = row->spread;
        uncertain.shape[i] =
            row->kind == UNCERTAIN_FACTOR ? UNCERTAIN_LOGNORMAL : UNCERTAIN_NORMAL;
    }
    return uncertain;
}
