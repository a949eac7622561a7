/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "commands.h"
#include "mix_wish.h"
#include "options.h"
#include "pailcast/report/mix.h"
#include "pailcast/scenario/reader.h"
#include "pailcast/study/pour.h"

const char cmd_mix_summary[] = "tells what a liquid contains, or which salts make it";

/* A jug on the table: pens refer to 25 degC, and the air has its usual CO2. */
static const double cmd_mix_temperature_c = 25, cmd_mix_co2_ppm = 420;

static double mix_cost(const struct mix_wish *wish, const struct recipe *weighed)
{
    const double g_per_kg = 1000;
    double cost = wish->price_count > 0 ? 0 : NAN;
    for (size_t k = 0; k < wish->price_count; k++) {
        for (size_t i = 0; i < weighed->count; i++) {
            if (salt_by_formula(weighed->parts[i].name) == wish->prices[k].salt) {
                cost += wish->prices[k].per_kg * weighed->parts[i].g_l * wish->litres /
                        g_per_kg;
            }
        }
    }
    return cost;
}

static enum status mix_tell(const struct mix_told *told, const struct options *options,
                            struct error *error)
{
    if (options->json) {
        return mix_json(stdout, told, error);
    }
    if (!options->quiet) {
        mix_text(stdout, told);
    }
    return STATUS_OK;
}

/* Water, recipe and salts dissolved together, and what was weighed. */
static enum status mix_dissolve(struct liquid *liquid, struct recipe *weighed,
                                const struct mix_wish *wish, struct error *error)
{
    char name[TEXT_NAME_SIZE];
    enum status status = STATUS_OK;
    if (wish->water != NULL) {
        status = reader_water(liquid, name, wish->water, error);
    }
    if (status == STATUS_OK && wish->recipe != NULL) {
        struct liquid recipe = {0};
        struct recipe parts = {0};
        status = reader_recipe(&recipe, &parts, name, wish->recipe, error);
        for (int i = 0; i < ION_COUNT; i++) {
            recipe.mmol_l[i] *= wish->dose;
        }
        recipe.alkalinity_meq_l *= wish->dose;
        *liquid = liquid_sum(liquid, &recipe);
        for (size_t i = 0; i < parts.count; i++) {
            recipe_add(weighed, parts.parts[i].name, parts.parts[i].g_l * wish->dose);
        }
    }
    for (size_t k = 0; k < wish->salt_count && status == STATUS_OK; k++) {
        salt_dissolve(liquid, wish->salts[k], wish->g_l[k]);
        recipe_add(weighed, wish->salts[k]->formula, wish->g_l[k]);
    }
    return status;
}

static enum status mix_liquid(const struct mix_wish *wish, const struct pen *pen,
                              const struct options *options, struct error *error)
{
    const struct liquid feed = pour_kit_feed(NULL);
    struct liquid liquid = {0};
    struct recipe weighed = {0};
    struct mix_solution solution = {0};
    enum status status = mix_dissolve(&liquid, &weighed, wish, error);
    if (status == STATUS_OK && wish->wants) {
        const struct liquid water = liquid;
        status = mix_solve(&solution, wish->from, wish->from_count, wish->wanted_mmol_l,
                           &water, error);
        liquid = solution.liquid;
        for (size_t k = 0; k < wish->from_count; k++) {
            recipe_add(&weighed, wish->from[k]->formula, solution.g_l[k]);
        }
    }
    if (status != STATUS_OK) {
        return status;
    }
    const struct mix mix = mix_of(&liquid, pen, &feed);
    const struct mix_told told = {.mix = &mix,
                                  .weighed = &weighed,
                                  .solution = wish->wants ? &solution : NULL,
                                  .wanted_mmol_l = wish->wanted_mmol_l,
                                  .cost = mix_cost(wish, &weighed),
                                  .litres = wish->litres};
    return mix_tell(&told, options, error);
}

static enum status mix_tell_rows(const struct analyses *analyses, const struct pen *pen,
                                 const struct options *options, struct error *error)
{
    const struct liquid feed = pour_kit_feed(NULL);
    struct mix *mixes = calloc(analyses->count, sizeof *mixes);
    if (mixes == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the analyses");
    }
    enum status status = STATUS_OK;
    for (size_t i = 0; i < analyses->count; i++) {
        mixes[i] = mix_of(&analyses->rows[i].liquid, pen, &feed);
    }
    if (options->json) {
        status = mix_json_rows(stdout, analyses, mixes, error);
    } else if (!options->quiet) {
        mix_text_rows(stdout, analyses, mixes);
    }
    free(mixes);
    return status;
}

static enum status mix_analyses(const char *path, const struct pen *pen,
                                const struct options *options, struct error *error)
{
    struct analyses analyses = {0};
    enum status status = analyses_read(&analyses, path, error);
    if (status == STATUS_OK && analyses.short_count > 0 && !options->quiet) {
        (void)fprintf(stderr,
                      "%s: %zu lines have fewer cells than the header; what is missing "
                      "counts as 0\n",
                      path, analyses.short_count);
    }
    if (status == STATUS_OK) {
        status = mix_tell_rows(&analyses, pen, options, error);
    }
    analyses_free(&analyses);
    return status;
}

int cmd_mix(int argc, char **argv)
{
    struct mix_wish wish = mix_wish_none();
    const struct options_command command = {.name = "mix",
                                            .usage = "",
                                            .summary = cmd_mix_summary,
                                            .help = mix_wish_help,
                                            .own = mix_wish_options,
                                            .take = mix_wish_take,
                                            .context = &wish};
    struct options options;
    const enum options_outcome outcome = options_read(&options, argc, argv, &command);
    if (outcome != OPTIONS_GO) {
        return options_exit(outcome);
    }
    const struct pen pen = pen_at(cmd_mix_temperature_c, cmd_mix_co2_ppm);
    struct error error = {0};
    enum status status = mix_wish_check(&wish, &error);
    if (status == STATUS_OK) {
        status = wish.analyses != NULL
                     ? mix_analyses(wish.analyses, &pen, &options, &error)
                     : mix_liquid(&wish, &pen, &options, &error);
    }
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
