/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "nearest.h"
#include "pailcast/visit/fill.h"
#include "reader_parts.h"

static const double strategies_most_ec = 20;
static const double strategies_most_d = 3650;

enum {
    STRATEGIES_WORDS_MAX = 32
};

/* What a strategy may use. */
struct strategies_means {
    const struct scenario *scenario;
    enum reader_stock stock;
};

static bool reader_strategies_is(const struct strategy_fill *fill, const char *name)
{
    return strcmp(fill->rule->name, name) == 0;
}

/* The fill rule and its settings; what the fields leave out stays as it is. */
static void reader_strategies_fill(struct fields *fields,
                                   const struct strategies_means *means,
                                   struct strategy_fill *fill)
{
    const char *names[STRATEGIES_WORDS_MAX];
    size_t count = fill_rule_count < STRATEGIES_WORDS_MAX ? fill_rule_count : 0;
    size_t index;
    for (size_t i = 0; i < count; i++) {
        names[i] = fill_rules[i]->name;
    }
    if (fields_word(fields, "fill", names, count, &index)) {
        fill->rule = fill_rules[index];
    }
    (void)fields_quantity(fields, "stock_share", QUANTITY_SHARE, 0, 1,
                          &fill->stock_share);
    (void)fields_quantity(fields, "aim_ec", QUANTITY_EC, 0, strategies_most_ec,
                          &fill->aim_ec_ms_cm);
    (void)fields_quantity(fields, "pour", QUANTITY_VOLUME, 0.001, 1000, &fill->pour_l);
    const config_setting_t *rule = fields_find(fields, "fill");
    if (reader_strategies_is(fill, "mix") && rule != NULL && isnan(fill->stock_share)) {
        (void)fields_need(fields, "stock_share", "0.5");
    }
    if (reader_strategies_is(fill, "aim") && rule != NULL && isnan(fill->aim_ec_ms_cm)) {
        (void)fields_need(fields, "aim_ec", "\"1.9 mS/cm\"");
    }
    if (!reader_strategies_is(fill, "water") && means->stock == READER_STOCK_NONE &&
        rule != NULL) {
        fields_refuse(fields->reading, rule,
                      "fill: \"%s\" pours stock, and the file has none; add a stock or a "
                      "recipe",
                      fill->rule->name);
    }
}

/* A setting of a rule that neither this fill nor a stage's uses is a slip, not a wish. */
static void reader_strategies_idle(struct fields *fields,
                                   const struct strategy_fill *fill,
                                   const struct strategy_stage stages[],
                                   size_t stage_count)
{
    static const char *const keys[][2] = {{"stock_share", "mix"}, {"aim_ec", "aim"}};
    for (size_t k = 0; k < sizeof keys / sizeof *keys; k++) {
        const config_setting_t *setting = fields_find(fields, keys[k][0]);
        bool used = reader_strategies_is(fill, keys[k][1]);
        for (size_t i = 0; i < stage_count; i++) {
            used = used || reader_strategies_is(&stages[i].fill, keys[k][1]);
        }
        if (setting != NULL && !used) {
            fields_refuse(fields->reading, setting,
                          "%s: has no effect with fill = \"%s\"; write fill = \"%s\"",
                          keys[k][0], fill->rule->name, keys[k][1]);
        }
    }
}

static size_t reader_strategies_stage(struct fields *fields, const struct crop *crop)
{
    const char *names[CROP_STAGES_MAX];
    size_t index = CROP_STAGES_MAX;
    for (size_t i = 0; i < crop->stage_count; i++) {
        names[i] = crop->stages[i].name;
    }
    if (fields_need(fields, "stage", "\"vegetative\"")) {
        (void)fields_word(fields, "stage", names, crop->stage_count, &index);
    }
    return index;
}

static void reader_strategies_by_stage(struct fields *fields,
                                       const struct strategies_means *means,
                                       struct strategy *strategy)
{
    const config_setting_t *list = fields_list(fields, "by_stage", STRATEGY_STAGES_MAX);
    size_t before = 0;
    for (size_t i = 0; i < fields_count(list); i++) {
        const config_setting_t *group = fields_element(fields->reading, list, i);
        if (group == NULL) {
            continue;
        }
        struct fields part = fields_open(fields->reading, group, "this stage");
        struct strategy_stage *stage = &strategy->stages[i];
        stage->fill = strategy->fill;
        size_t index = reader_strategies_stage(&part, &means->scenario->crop);
        if (index != CROP_STAGES_MAX && i > 0 && index <= before) {
            fields_refuse(fields->reading, fields_find(&part, "stage"),
                          "stage: list the stages in the order the plant meets them");
        }
        before = index != CROP_STAGES_MAX ? index : before;
        stage->from_stage = index;
        reader_strategies_fill(&part, means, &stage->fill);
        reader_strategies_idle(&part, &stage->fill, NULL, 0);
        strategy->stage_count = i + 1;
        fields_close(&part);
    }
}

static void reader_strategies_renewal(struct fields *fields,
                                      const struct strategies_means *means,
                                      struct strategy *strategy)
{
    (void)fields_quantity(fields, "renew_every", QUANTITY_TIME, 1.0 / 24,
                          strategies_most_d, &strategy->renew_every_d);
    (void)fields_quantity(fields, "renew_above_ec", QUANTITY_EC, 0.01, strategies_most_ec,
                          &strategy->renew_above_ec_ms_cm);
    const config_setting_t *above = fields_group(fields, "renew_above");
    if (above != NULL) {
        struct fields part = fields_open(fields->reading, above, "renew_above");
        fields_ions(&part, QUANTITY_ION, 0.001, 500, strategy->renew_above_mmol_l);
        fields_close(&part);
    }
    (void)fields_quantity(fields, "renew_share", QUANTITY_SHARE, 1e-6, 1,
                          &strategy->renew_share);
    (void)fields_quantity(fields, "renew_stock_share", QUANTITY_SHARE, 0, 1,
                          &strategy->renew_stock_share);
    if (strategy->renew_stock_share > 0 && means->stock == READER_STOCK_NONE) {
        fields_refuse(
            fields->reading, fields_find(fields, "renew_stock_share"),
            "renew_stock_share: the file has no stock; add a stock or a recipe");
    }
}

/* The acid or base of an adjust group; NULL with a mistake. */
static const struct salt *reader_strategies_remedy(struct fields *fields)
{
    char formula[64];
    if (!fields_need(fields, "with", "\"HNO3\"") ||
        !fields_text(fields, "with", formula, sizeof formula)) {
        return NULL;
    }
    const struct salt *salt = salt_by_formula(formula);
    if (salt != NULL && salt->alkalinity != 0) {
        return salt;
    }
    char known[300];
    struct text_line line = text_line_in(known, sizeof known);
    for (size_t i = 0; i < salt_count; i++) {
        if (salt_table[i].alkalinity != 0) {
            text_line_add(&line, "%s%s", line.used > 0 ? ", " : "",
                          salt_table[i].formula);
        }
    }
    fields_refuse(fields->reading, fields_find(fields, "with"),
                  "with: \"%s\" is no acid or base of the salt list; accepted are %s",
                  formula, known);
    return NULL;
}

static void reader_strategies_adjust(struct fields *fields, struct strategy *strategy)
{
    const config_setting_t *group = fields_group(fields, "adjust");
    if (group == NULL) {
        return;
    }
    struct fields part = fields_open(fields->reading, group, "adjust");
    struct strategy_adjust *adjust = &strategy->adjust;
    adjust->with = reader_strategies_remedy(&part);
    const bool acid = adjust->with == NULL || adjust->with->alkalinity < 0;
    const char *key = acid ? "above_ph" : "below_ph";
    const char *other = acid ? "below_ph" : "above_ph";
    bool fine = fields_need(&part, "to_ph", "6.0") &&
                fields_quantity(&part, "to_ph", QUANTITY_PH, 3, 10, &adjust->to_ph);
    if (adjust->with != NULL) {
        fine = fields_need(&part, key, acid ? "6.5" : "5.5") &&
               fields_quantity(&part, key, QUANTITY_PH, 3, 10, &adjust->above_ph) && fine;
        if (fields_find(&part, other) != NULL) {
            fields_refuse(fields->reading, fields_find(&part, other),
                          "%s: does not go with %s, %s; write %s", other,
                          adjust->with->formula, acid ? "an acid" : "a base", key);
        }
        if (fine && (acid ? adjust->to_ph > adjust->above_ph
                          : adjust->to_ph < adjust->above_ph)) {
            fields_refuse(fields->reading, fields_find(&part, "to_ph"),
                          "to_ph: %s cannot bring pH %g to %g", adjust->with->formula,
                          adjust->above_ph, adjust->to_ph);
        }
    } else {
        (void)fields_find(&part, "above_ph");
        (void)fields_find(&part, "below_ph");
    }
    fields_close(&part);
}

static void reader_strategies_away(struct fields *fields, struct strategy *strategy)
{
    const config_setting_t *list = fields_list(fields, "away", STRATEGY_AWAY_MAX);
    for (size_t i = 0; i < fields_count(list); i++) {
        const config_setting_t *group = fields_element(fields->reading, list, i);
        struct strategy_away *away = &strategy->away[i];
        if (group == NULL) {
            continue;
        }
        struct fields part = fields_open(fields->reading, group, "away");
        bool from = fields_need(&part, "from", "\"30 d\"") &&
                    fields_day(&part, "from", 0, strategies_most_d, &away->from_d);
        bool to = fields_need(&part, "to", "\"44 d\"") &&
                  fields_day(&part, "to", 0, strategies_most_d, &away->to_d);
        if (from && to && away->to_d <= away->from_d) {
            fields_refuse(fields->reading, fields_find(&part, "to"),
                          "to: the time away ends before it begins");
        }
        strategy->away_count = i + 1;
        fields_close(&part);
    }
}

/* Settings that a rule does not use go back to their defaults. */
static void reader_strategies_settle(struct strategy_fill *fill)
{
    const struct strategy standard = strategy_defaults();
    if (!reader_strategies_is(fill, "mix")) {
        fill->stock_share = standard.fill.stock_share;
    }
    if (!reader_strategies_is(fill, "aim")) {
        fill->aim_ec_ms_cm = standard.fill.aim_ec_ms_cm;
    }
}

static void reader_strategies_filling(struct fields *fields,
                                      const struct strategies_means *means,
                                      struct strategy *strategy)
{
    strategy->fill.stock_share = NAN;
    reader_strategies_fill(fields, means, &strategy->fill);
    reader_strategies_by_stage(fields, means, strategy);
    reader_strategies_idle(fields, &strategy->fill, strategy->stages,
                           strategy->stage_count);
    reader_strategies_settle(&strategy->fill);
    for (size_t i = 0; i < strategy->stage_count; i++) {
        reader_strategies_settle(&strategy->stages[i].fill);
    }
}

/* What it pours: the scenario's liquids, or a water or recipe of its own. A stock typed
 * as poured stays as it is, whatever the water. Returns where its stock is from. */
static enum reader_stock reader_strategies_liquids(struct fields *fields,
                                                   const struct strategies_means *means,
                                                   struct strategy *strategy)
{
    const struct scenario *scenario = means->scenario;
    strategy->water = scenario->water;
    strategy->stock = scenario->stock;
    strategy->recipe = scenario->recipe;
    strategy->weighed = scenario->weighed;
    text_copy(strategy->water_name, TEXT_NAME_SIZE, scenario->water_name);
    text_copy(strategy->stock_name, TEXT_NAME_SIZE, scenario->stock_name);
    const config_setting_t *water = fields_group(fields, "water");
    const config_setting_t *recipe = fields_find(fields, "recipe");
    if (water != NULL) {
        reader_liquid(fields->reading, water, "water", READER_WATER_REFUSE_PERCENT,
                      &strategy->water, strategy->water_name);
    }
    if (recipe != NULL) {
        strategy->recipe = (struct liquid){0};
        reader_salts(fields->reading, recipe, &strategy->recipe, &strategy->weighed,
                     strategy->stock_name);
    }
    const bool typed = means->stock == READER_STOCK_TYPED && recipe == NULL;
    if ((water != NULL || recipe != NULL) && !typed) {
        strategy->stock = liquid_sum(&strategy->water, &strategy->recipe);
    }
    return recipe != NULL ? READER_STOCK_RECIPE : means->stock;
}

static void reader_strategies_one(struct reading *reading, const config_setting_t *group,
                                  const struct strategies_means *means,
                                  struct strategy *strategy)
{
    struct fields fields = fields_open(reading, group, "this strategy");
    *strategy = strategy_defaults();
    if (fields_need(&fields, "name", "\"water only\"")) {
        (void)fields_text(&fields, "name", strategy->name, sizeof strategy->name);
    }
    (void)fields_quantity(&fields, "visit_every", QUANTITY_TIME, 1.0 / 24,
                          strategies_most_d, &strategy->visit_every_d);
    (void)fields_quantity(&fields, "visit_at", QUANTITY_CLOCK, 0, 24,
                          &strategy->visit_at_h);
    const struct strategies_means own = {
        means->scenario, reader_strategies_liquids(&fields, means, strategy)};
    reader_strategies_filling(&fields, &own, strategy);
    reader_strategies_renewal(&fields, &own, strategy);
    reader_strategies_adjust(&fields, strategy);
    reader_strategies_away(&fields, strategy);
    fields_close(&fields);
}

/* Two strategies would write one file. */
static void reader_strategies_twice(struct reading *reading,
                                    const config_setting_t *group,
                                    const struct scenario *scenario,
                                    const struct strategy *strategy)
{
    char slug[TEXT_NAME_SIZE];
    char other[TEXT_NAME_SIZE];
    text_slug(slug, sizeof slug, strategy->name);
    for (size_t i = 0; i < scenario->strategy_count; i++) {
        text_slug(other, sizeof other, scenario->strategies[i].name);
        if (strategy->name[0] != '\0' && strcmp(slug, other) == 0) {
            const config_setting_t *name = config_setting_get_member(group, "name");
            fields_refuse(reading, name != NULL ? name : group,
                          "name: \"%s\" gives the same file name (%s.csv) as an earlier "
                          "strategy; rename one",
                          strategy->name, slug);
            return;
        }
    }
}

void reader_strategies(struct reading *reading, const config_setting_t *list,
                       struct scenario *scenario, enum reader_stock stock)
{
    const struct strategies_means means = {scenario, stock};
    for (size_t i = 0; i < fields_count(list); i++) {
        const config_setting_t *group = fields_element(reading, list, i);
        struct strategy *strategy = &scenario->strategies[scenario->strategy_count];
        if (group == NULL) {
            continue;
        }
        reader_strategies_one(reading, group, &means, strategy);
        reader_strategies_twice(reading, group, scenario, strategy);
        scenario->strategy_count++;
    }
}
