/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was typed behind `pailcast mix`, in internal units. */
#ifndef SIM_CLI_MIX_WISH_H
#define SIM_CLI_MIX_WISH_H

#include <getopt.h>
#include <stdbool.h>

#include "pailcast/chem/label.h"
#include "pailcast/scenario/scenario.h"
#include "pailcast/study/mix.h"

enum {
    MIX_PRICES_MAX = 40
};

struct mix_price {
    const struct salt *salt;
    double per_kg;
};

/* Texts are NULL, numbers NAN, where nothing was typed. */
struct mix_wish {
    size_t salt_count; /* --salt */
    const struct salt *salts[MIX_SALTS_MAX];
    double g_l[MIX_SALTS_MAX];
    const char *recipe, *water, *analyses, *crop;
    const char *label, *dose; /* read by mix_label, once all is typed */
    double spoon_g;           /* of a labelled product, in a teaspoon */
    enum ion closing;         /* of a label's open charge; ION_COUNT: as need be */
    bool wants;               /* --target given */
    struct mix_wanted wanted;
    size_t from_count; /* --from */
    const struct salt *from[MIX_SALTS_MAX];
    size_t price_count;
    struct mix_price prices[MIX_PRICES_MAX];
    double litres; /* --volume */
    double temperature_c, co2_ppm;
    struct scenario_display display;
};

extern const struct option mix_wish_options[];
extern const char mix_wish_help[];

struct mix_wish mix_wish_none(void);

/* For options_read; context is the wish. */
bool mix_wish_take(void *context, size_t index, const char *argument);

/* Whether what was typed fits together. */
enum status mix_wish_check(const struct mix_wish *wish,
                           struct error *error) STATUS_MUST_CHECK;

/* What part or multiple of the recipe is dissolved, 1 where nothing was typed; a dose by
 * mass counts the whole recipe, recipe_g_l. */
enum status mix_label_share(double *share, const struct mix_wish *wish, double recipe_g_l,
                            struct error *error) STATUS_MUST_CHECK;

/* Dissolves the labelled product; *g_l receives its dose. On STATUS_OK error may hold a
 * line about what the label leaves open. */
enum status mix_label_dissolve(struct liquid *liquid, double *g_l,
                               const struct mix_wish *wish,
                               struct error *error) STATUS_MUST_CHECK;

#endif
