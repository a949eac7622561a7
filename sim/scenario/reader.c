/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/reader.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/base/file.h"
#include "pailcast/base/hash.h"
#include "pailcast/scenario/catalog.h"
#include "pailcast/scenario/date.h"
#include "pailcast/scenario/display.h"
#include "reader_parts.h"
#include "slip.h"

static const double reader_most_d = 3653;
static const double reader_most_rows = 1e6;

/* Parses a file into config, which the caller destroys whatever comes. */
static enum status reader_parse(config_t *config, struct source *source, const char *path,
                                struct error *error)
{
    enum status status = source_read(source, path, error);
    if (status != STATUS_OK) {
        return status;
    }
    if (source->text == NULL || config_read_string(config, source->text) == CONFIG_TRUE) {
        return STATUS_OK;
    }
    int line;
    char words[SLIP_SIZE];
    const int at = slip_words(words, config_error_text(config), source->text,
                              config_error_line(config));
    const char *file = source_place(source, at, &line);
    return status_error(error, STATUS_INPUT, "%s:%d: %s", file, line, words);
}

static void reader_times(struct fields *top, struct scenario *scenario)
{
    char date[16];
    if (fields_need(top, "title", "\"My bucket\"")) {
        (void)fields_text(top, "title", scenario->title, sizeof scenario->title);
    }
    if (fields_text(top, "start", date, sizeof date)) {
        if (date_is(date)) {
            text_copy(scenario->start, sizeof scenario->start, date);
        } else {
            fields_refuse(
                top->reading, fields_find(top, "start"),
                "start: \"%s\" is not a date; accepted is year-month-day such as "
                "\"2026-09-01\"",
                date);
        }
    }
    bool known = fields_need(top, "duration", "\"90 d\"") &&
                 fields_quantity(top, "duration", QUANTITY_TIME, 1.0 / 24, reader_most_d,
                                 &scenario->duration_d);
    (void)fields_quantity(top, "sample_every", QUANTITY_TIME, 1.0 / 1440, 30,
                          &scenario->sample_every_d);
    if (known && scenario->duration_d / scenario->sample_every_d > reader_most_rows) {
        fields_refuse(top->reading, fields_find(top, "sample_every"),
                      "sample_every: gives more than a million rows; take a longer step");
    }
}

/* Read first: what is refused is told in the units that a person asked to see. */
static void reader_shown(struct fields *top, struct scenario *scenario)
{
    const config_setting_t *display = fields_group(top, "display");
    if (display != NULL) {
        reader_settings_display(top->reading, display, &scenario->display);
    }
}

static void reader_places(struct fields *top, struct scenario *scenario)
{
    if (fields_need(top, "bucket", "{ full = \"5 gal\"; }")) {
        const config_setting_t *bucket = fields_group(top, "bucket");
        if (bucket != NULL) {
            reader_bucket(top->reading, bucket, scenario);
        }
    }
    const config_setting_t *room = fields_group(top, "room");
    if (room != NULL) {
        reader_room(top->reading, room, &scenario->room);
    }
    if (!fields_need(top, "crop",
                     "{ kind = \"none\"; }, or @include "
                     "\"crops/lettuce.cfg\"")) {
        return;
    }
    const config_setting_t *crop = fields_group(top, "crop");
    if (crop != NULL) {
        reader_crop(top->reading, crop, &scenario->crop);
    }
    if (scenario->crop.kind == CROP_GROWN && fields_find(top, "room") == NULL) {
        fields_refuse(top->reading, crop,
                      "crop: a grown plant needs a room; add for example room = { ppfd = "
                      "\"350 umol/m2/s\"; lamp_hours = \"14 h\"; };");
    }
}

/* A plant hung so high that its roots begin above the water is most often a slip. */
static void reader_reach(struct reading *reading, const struct scenario *scenario)
{
    const struct shape *bucket = &scenario->bucket;
    if (scenario->crop.kind != CROP_GROWN || bucket->height_cm <= 0) {
        return;
    }
    const double level_cm = shape_level_cm(bucket, scenario->start_l);
    const double tip_cm = shape_root_room_cm(bucket) - scenario->crop.root_start_cm;
    const struct scenario_display *display = &scenario->display;
    const char *unit = display_length_unit(display);
    if (level_cm <= tip_cm) {
        fields_warn(
            reading,
            "on day 0 the water stands %.1f %s high and the roots end %.1f %s above "
            "the floor, so they hang dry; fill higher, or hang the net pot lower",
            display_length(display, level_cm), unit, display_length(display, tip_cm),
            unit);
    }
}

static void reader_water_of(struct fields *top, struct scenario *scenario)
{
    text_copy(scenario->water_name, TEXT_NAME_SIZE, "water");
    if (!fields_need(top, "water", "{ }, or @include \"waters/soft_tap.cfg\"")) {
        return;
    }
    const config_setting_t *water = fields_group(top, "water");
    if (water != NULL) {
        reader_liquid(top->reading, water, "water", READER_WATER_REFUSE_PERCENT,
                      &scenario->water, scenario->water_name);
    }
}

/* The stock: typed, or the water with a recipe in it, or the water alone. */
static void reader_stock_of(struct fields *top, struct scenario *scenario)
{
    const config_setting_t *stock = fields_group(top, "stock");
    const config_setting_t *recipe = fields_find(top, "recipe");
    if (stock != NULL && recipe != NULL) {
        fields_refuse(top->reading, recipe,
                      "recipe: the file has a stock too; keep one of the two");
    }
    scenario->stock = scenario->water;
    text_copy(scenario->stock_name, TEXT_NAME_SIZE, scenario->water_name);
    if (stock != NULL) {
        text_copy(scenario->stock_name, TEXT_NAME_SIZE, "stock");
        reader_liquid(top->reading, stock, "stock", READER_STOCK_REFUSE_PERCENT,
                      &scenario->stock, scenario->stock_name);
        for (int i = 0; i < ION_COUNT; i++) {
            scenario->recipe.mmol_l[i] =
                fmax(scenario->stock.mmol_l[i] - scenario->water.mmol_l[i], 0);
        }
        scenario->recipe.alkalinity_meq_l =
            scenario->stock.alkalinity_meq_l - scenario->water.alkalinity_meq_l;
    } else if (recipe != NULL) {
        reader_salts(top->reading, recipe, &scenario->recipe, &scenario->weighed,
                     scenario->stock_name);
        scenario->stock = liquid_sum(&scenario->water, &scenario->recipe);
    }
    (void)fields_quantity(top, "start_stock_share", QUANTITY_SHARE, 0, 1,
                          &scenario->start_stock_share);
}

static void reader_plans(struct fields *top, struct scenario *scenario)
{
    const enum reader_stock stock = fields_find(top, "stock") != NULL ? READER_STOCK_TYPED
                                    : fields_find(top, "recipe") != NULL
                                        ? READER_STOCK_RECIPE
                                        : READER_STOCK_NONE;
    if (fields_need(top, "strategies", "( { name = \"water only\"; } )")) {
        reader_strategies(top->reading,
                          fields_list(top, "strategies", SCENARIO_STRATEGIES_MAX),
                          scenario, stock);
    }
    for (int i = 0; i < ION_COUNT; i++) {
        scenario->limits.low_mmol_l[i] = NAN;
    }
    const config_setting_t *limits = fields_group(top, "limits");
    if (limits != NULL) {
        reader_settings_limits(top->reading, limits, &scenario->limits);
    }
    reader_settings_watch(&scenario->limits, &scenario->crop);
    const config_setting_t *numerics = fields_group(top, "numerics");
    if (numerics != NULL) {
        reader_settings_numerics(top->reading, numerics, &scenario->numerics);
    }
    const config_setting_t *learned = fields_group(top, "learned");
    if (learned != NULL) {
        reader_settings_learned(top->reading, learned, scenario);
    }
    const config_setting_t *uncertain = fields_group(top, "uncertain");
    if (uncertain != NULL) {
        reader_uncertain(top->reading, uncertain, &scenario->uncertain);
    }
}

/* File name without folder and ending. */
static void reader_stem(char *stem, size_t size, const char *path)
{
    char name[FILE_PATH_SIZE];
    const char *slash = strrchr(path, '/');
    (void)snprintf(name, sizeof name, "%s", slash != NULL ? slash + 1 : path);
    char *dot = strrchr(name, '.');
    if (dot != NULL && dot != name) {
        *dot = '\0';
    }
    const bool is_folder = name[strspn(name, ".")] == '\0';
    text_copy(stem, size, is_folder ? "scenario" : name);
}

enum status reader_scenario(struct scenario *scenario, const char *path,
                            struct error *error)
{
    struct source source = {0};
    config_t config;
    config_init(&config);
    scenario_defaults(scenario);
    enum status status = reader_parse(&config, &source, path, error);
    if (status == STATUS_OK) {
        struct error own = {0};
        struct reading reading = {&source, error != NULL ? error : &own, scenario,
                                  STATUS_OK};
        struct fields top = fields_open(&reading, config_root_setting(&config), "");
        reader_stem(scenario->stem, sizeof scenario->stem, path);
        scenario->fingerprint = hash_text(hash_text_start, source.text, source.used);
        reader_shown(&top, scenario);
        reader_times(&top, scenario);
        reader_places(&top, scenario);
        reader_reach(&reading, scenario);
        reader_water_of(&top, scenario);
        reader_stock_of(&top, scenario);
        reader_plans(&top, scenario);
        fields_close(&top);
        status = reading.status;
    }
    config_destroy(&config);
    source_free(&source);
    return status;
}

/* A shipped name or the path of a file. */
static enum status reader_locate(char path[FILE_PATH_SIZE], enum catalog_shelf shelf,
                                 const char *which, struct error *error)
{
    const char *dot = strrchr(which, '.');
    if (strchr(which, '/') == NULL && (dot == NULL || strcmp(dot, ".cfg") != 0)) {
        return catalog_path(path, FILE_PATH_SIZE, shelf, which, error);
    }
    int length = snprintf(path, FILE_PATH_SIZE, "%s", which);
    if (length < 0 || length >= FILE_PATH_SIZE) {
        return status_error(error, STATUS_INPUT, "the file name %.60s is too long",
                            which);
    }
    return STATUS_OK;
}

/* One thing from a file of its own; liquid, weighed and name are not asked of a crop. */
struct reader_part {
    enum catalog_shelf shelf;
    struct liquid *liquid;
    struct recipe *weighed;
    char *name;
    struct crop *crop;
};

static void reader_part_take(struct fields *top, const struct reader_part *part)
{
    static const char *const keys[] = {[CATALOG_CROPS] = "crop",
                                       [CATALOG_WATERS] = "water",
                                       [CATALOG_RECIPES] = "recipe"};
    static const char *const examples[] = {[CATALOG_CROPS] = "{ kind = \"grown\"; }",
                                           [CATALOG_WATERS] = "{ k = \"0.1 mmol/L\"; }",
                                           [CATALOG_RECIPES] = "{ salts = ( … ); }"};
    const char *key = keys[part->shelf];
    const config_setting_t *setting =
        part->shelf == CATALOG_RECIPES ? fields_find(top, key) : fields_group(top, key);
    if (setting == NULL) {
        (void)fields_need(top, key, examples[part->shelf]);
    } else if (part->shelf == CATALOG_CROPS) {
        reader_crop(top->reading, setting, part->crop);
    } else if (part->shelf == CATALOG_WATERS) {
        reader_liquid(top->reading, setting, key, READER_WATER_REFUSE_PERCENT,
                      part->liquid, part->name);
    } else {
        reader_salts(top->reading, setting, part->liquid, part->weighed, part->name);
    }
}

/* Reads a file that holds one thing. What deserves a look, and is no mistake, goes to
 * error as well. */
static enum status reader_part_file(const struct reader_part *part, const char *which,
                                    struct error *error)
{
    char path[FILE_PATH_SIZE];
    enum status status = reader_locate(path, part->shelf, which, error);
    if (status != STATUS_OK) {
        return status;
    }
    struct scenario *remarks = calloc(1, sizeof *remarks);
    if (remarks == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory to read %.60s", which);
    }
    struct source source = {0};
    config_t config;
    config_init(&config);
    status = reader_parse(&config, &source, path, error);
    if (status == STATUS_OK) {
        struct error own = {0};
        struct reading reading = {&source, error != NULL ? error : &own, remarks,
                                  STATUS_OK};
        struct fields top = fields_open(&reading, config_root_setting(&config), "");
        if (part->name != NULL) {
            reader_stem(part->name, TEXT_NAME_SIZE, path);
        }
        reader_part_take(&top, part);
        fields_close(&top);
        status = reading.status;
    }
    for (size_t i = 0; i < remarks->warning_count && status == STATUS_OK; i++) {
        (void)status_error(error, STATUS_OK, "%s: %s", which, remarks->warnings[i]);
    }
    config_destroy(&config);
    source_free(&source);
    free(remarks);
    return status;
}

enum status reader_water(struct liquid *water, char *name, const char *which,
                         struct error *error)
{
    const struct reader_part part = {
        .shelf = CATALOG_WATERS, .liquid = water, .name = name};
    return reader_part_file(&part, which, error);
}

enum status reader_recipe(struct liquid *recipe, struct recipe *weighed, char *name,
                          const char *which, struct error *error)
{
    struct recipe unasked = {0};
    const struct reader_part part = {.shelf = CATALOG_RECIPES,
                                     .liquid = recipe,
                                     .weighed = weighed != NULL ? weighed : &unasked,
                                     .name = name};
    return reader_part_file(&part, which, error);
}

enum status reader_crop_file(struct crop *crop, const char *which, struct error *error)
{
    const struct reader_part part = {.shelf = CATALOG_CROPS, .crop = crop};
    return reader_part_file(&part, which, error);
}
