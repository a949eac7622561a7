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

/* The price of a part for a kilogram; NAN where none was told. */
static double mix_price_of(const struct mix_wish *wish, const struct recipe_part *part)
{
    const struct salt *salt = salt_by_formula(part->name);
    for (size_t k = 0; k < wish->price_count; k++) {
        if (wish->prices[k].salt == salt) {
            return wish->prices[k].per_kg;
        }
    }
    return NAN;
}

/* Cost of a fill, or of a litre; what has no price goes to *unpriced. */
static double mix_cost(struct recipe *unpriced, const struct mix_wish *wish,
                       const struct recipe *weighed)
{
    const double g_per_kg = 1000;
    const double litres = isnan(wish->litres) ? 1 : wish->litres;
    double cost = 0;
    for (size_t i = 0; i < weighed->count; i++) {
        const struct recipe_part *part = &weighed->parts[i];
        const double per_kg = mix_price_of(wish, part);
        if (!isnan(per_kg)) {
            cost += per_kg * part->g_l * litres / g_per_kg;
        } else if (part->g_l > 0) {
            recipe_add(unpriced, part->name, part->g_l);
        }
    }
    return wish->price_count > 0 ? cost : NAN;
}

/* What is no mistake and yet worth telling, to standard error. */
static void mix_remark(const struct error *error, const struct options *options)
{
    if (error->count > 0 && !options->quiet) {
        (void)options_fail(STATUS_OK, error);
    }
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

static enum status mix_add_recipe(struct liquid *liquid, struct recipe *weighed,
                                  const struct mix_wish *wish, struct error *error)
{
    char name[TEXT_NAME_SIZE];
    struct liquid brought = {0};
    struct recipe parts = {0};
    double share = 1;
    enum status status = reader_recipe(&brought, &parts, name, wish->recipe, error);
    if (status == STATUS_OK) {
        status = mix_label_share(&share, wish, recipe_g_l(&parts), error);
    }
    for (int i = 0; i < ION_COUNT; i++) {
        brought.mmol_l[i] *= share;
    }
    brought.alkalinity_meq_l *= share;
    *liquid = liquid_sum(liquid, &brought);
    for (size_t i = 0; i < parts.count; i++) {
        recipe_add(weighed, parts.parts[i].name, parts.parts[i].g_l * share);
    }
    return status;
}

/* Water, recipe, labelled product and salts dissolved together, and what was weighed. */
static enum status mix_dissolve(struct liquid *liquid, struct recipe *weighed,
                                const struct mix_wish *wish, struct error *error)
{
    enum status status = STATUS_OK;
    if (wish->water != NULL) {
        char name[TEXT_NAME_SIZE];
        status = reader_water(liquid, name, wish->water, error);
    }
    if (status == STATUS_OK && wish->recipe != NULL) {
        status = mix_add_recipe(liquid, weighed, wish, error);
    }
    if (status == STATUS_OK && wish->label != NULL) {
        double g_l = 0;
        status = mix_label_dissolve(liquid, &g_l, wish, error);
        recipe_add(weighed, "the labelled product", g_l);
    }
    for (size_t k = 0; k < wish->salt_count && status == STATUS_OK; k++) {
        salt_dissolve(liquid, wish->salts[k], wish->g_l[k]);
        recipe_add(weighed, wish->salts[k]->formula, wish->g_l[k]);
    }
    return status;
}

static enum status mix_liquid(const struct mix_wish *wish, const struct pen *pen,
                              const struct liquid *feed, const struct options *options,
                              struct error *error)
{
    struct liquid liquid = {0};
    struct recipe weighed = {0};
    struct recipe unpriced = {0};
    struct mix_solution solution = {0};
    enum status status = mix_dissolve(&liquid, &weighed, wish, error);
    if (status == STATUS_OK && wish->wants) {
        const struct liquid water = liquid;
        status = mix_solve(&solution, wish->from, wish->from_count, &wish->wanted, &water,
                           error);
        liquid = solution.liquid;
        for (size_t k = 0; k < wish->from_count; k++) {
            recipe_add(&weighed, wish->from[k]->formula, solution.g_l[k]);
        }
    }
    if (status != STATUS_OK) {
        return status;
    }
    mix_remark(error, options);
    const struct mix mix = mix_of(&liquid, pen, feed);
    const struct mix_told told = {.mix = &mix,
                                  .weighed = &weighed,
                                  .solution = wish->wants ? &solution : NULL,
                                  .wanted = &wish->wanted,
                                  .unpriced = &unpriced,
                                  .cost = mix_cost(&unpriced, wish, &weighed),
                                  .litres = wish->litres,
                                  .display = wish->display};
    return mix_tell(&told, options, error);
}

/* Tells of a row whose charges do not balance; beyond so many they are only counted. */
static void mix_weigh_charges(struct error *error, const char *path,
                              const struct analysis *row, const struct mix *mix)
{
    const size_t many = 40;
    if (fabs(mix->charge_error_percent) <= mix_fair_percent) {
        return;
    }
    if (error->count >= many) {
        error->count++;
        return;
    }
    (void)status_error(error, STATUS_OK,
                       "%s:%zu: \"%.40s\" does not balance: %.1f %% of the charge is "
                       "missing as %s; its pH is not to be trusted",
                       path, row->line, row->label, fabs(mix->charge_error_percent),
                       mix->charge_error_percent > 0 ? "anions" : "cations");
}

static enum status mix_tell_rows(const struct analyses *analyses, const char *path,
                                 const struct pen *pen, const struct liquid *feed,
                                 const struct options *options, struct error *error)
{
    struct mix *mixes = calloc(analyses->count, sizeof *mixes);
    if (mixes == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the analyses");
    }
    enum status status = STATUS_OK;
    for (size_t i = 0; i < analyses->count; i++) {
        if (analyses->rows[i].usable) {
            mixes[i] = mix_of(&analyses->rows[i].liquid, pen, feed);
            mix_weigh_charges(error, path, &analyses->rows[i], &mixes[i]);
        }
    }
    mix_remark(error, options);
    if (options->json) {
        status = mix_json_rows(stdout, analyses, mixes, error);
    } else if (!options->quiet) {
        mix_text_rows(stdout, analyses, mixes);
    }
    free(mixes);
    return status;
}

static enum status mix_analyses(const char *path, const struct pen *pen,
                                const struct liquid *feed, const struct options *options,
                                struct error *error)
{
    struct analyses analyses = {0};
    enum status status = analyses_read(&analyses, path, error);
    if (status == STATUS_OK) {
        status = mix_tell_rows(&analyses, path, pen, feed, options, error);
    }
    analyses_free(&analyses);
    return status;
}

/* What counts as enough: a crop's needs, or a full feed. */
static enum status mix_measure(struct liquid *feed, const struct mix_wish *wish,
                               struct error *error)
{
    struct crop crop;
    *feed = pour_kit_feed(NULL);
    if (wish->crop == NULL) {
        return STATUS_OK;
    }
    enum status status = reader_crop_file(&crop, wish->crop, error);
    if (status == STATUS_OK && !mix_feed_of(feed, &crop)) {
        status = status_error(error, STATUS_INPUT,
                              "pailcast mix: --crop: %.60s eats nothing that is known",
                              wish->crop);
    }
    return status;
}

static enum status mix_answer(const struct mix_wish *wish, const struct options *options,
                              struct error *error)
{
    const struct pen pen =
        pen_at(isnan(wish->temperature_c) ? cmd_mix_temperature_c : wish->temperature_c,
               isnan(wish->co2_ppm) ? cmd_mix_co2_ppm : wish->co2_ppm);
    struct liquid feed;
    enum status status = mix_wish_check(wish, error);
    if (status == STATUS_OK) {
        status = mix_measure(&feed, wish, error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    return wish->analyses != NULL
               ? mix_analyses(wish->analyses, &pen, &feed, options, error)
               : mix_liquid(wish, &pen, &feed, options, error);
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
    struct error error = {0};
    const enum status status = mix_answer(&wish, &options, &error);
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
