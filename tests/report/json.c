/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"
#include "support/story.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "pailcast/report/json.h"

static cJSON *summary_of(const struct compare *compare)
{
    struct error error = {0};
    struct scratch_text written = {0};
    scratch_open(&written);
    assert_int_equal(json_write_summary(written.out, compare, &error), STATUS_OK);
    char *text = scratch_close(&written);
    cJSON *root = cJSON_Parse(text);
    free(text);
    assert_non_null(root);
    return root;
}

/* "a.b.2.c" from root; the item must exist. */
static const cJSON *item_at(const cJSON *root, const char *path)
{
    char copy[128];
    (void)snprintf(copy, sizeof copy, "%s", path);
    const cJSON *item = root;
    char *rest = copy;
    for (char *word = strtok_r(copy, ".", &rest); word != NULL;
         word = strtok_r(NULL, ".", &rest)) {
        item = cJSON_IsArray(item) ? cJSON_GetArrayItem(item, atoi(word))
                                   : cJSON_GetObjectItemCaseSensitive(item, word);
        if (item == NULL) {
            print_error("no %s in %s\n", word, path);
        }
        assert_non_null(item);
    }
    return item;
}

static double number_at(const cJSON *root, const char *path)
{
    const cJSON *item = item_at(root, path);
    assert_true(cJSON_IsNumber(item));
    return item->valuedouble;
}

static const char *text_at(const cJSON *root, const char *path)
{
    const cJSON *item = item_at(root, path);
    assert_true(cJSON_IsString(item));
    return item->valuestring;
}

static void numbers_come_through_unchanged(void **state)
{
    (void)state;
    struct story *story = story_tell();
    cJSON *root = summary_of(&story->compare);
    const struct compare_row *row = &story->compare.rows[1];
    const struct sample *last =
        &row->life.trajectory.samples[row->life.trajectory.sample_count - 1];
    const char *const paths[] = {"strategies.1.ec_mS_cm.min",
                                 "strategies.1.ec_mS_cm.max",
                                 "strategies.1.ec_mS_cm.mean",
                                 "strategies.1.ec_mS_cm.last",
                                 "strategies.1.first_day.ec_high",
                                 "strategies.1.first_day.sodium_high",
                                 "strategies.1.totals.drunk_L",
                                 "strategies.1.totals.evaporated_L",
                                 "strategies.1.totals.water_poured_L",
                                 "strategies.1.totals.stock_poured_L",
                                 "strategies.1.totals.drained_L",
                                 "strategies.1.totals.salt_poured_g",
                                 "strategies.1.totals.visits",
                                 "strategies.1.totals.renewals",
                                 "strategies.1.dry_mass_g",
                                 "strategies.1.growth_index",
                                 "strategies.1.balance.water_rel",
                                 "strategies.1.balance.worst_ion_rel",
                                 "strategies.1.balance.charge_rel",
                                 "strategies.1.effort.rate_calls",
                                 "limits.high_mmol_L.na",
                                 "duration_d"};
    const double expected[] = {row->ec_min,
                               row->ec_max,
                               row->ec_mean,
                               row->ec_last,
                               row->life.first.ec_high,
                               row->life.first.ion_high[ION_NA],
                               last->state[STATE_DRUNK],
                               last->state[STATE_EVAPORATED],
                               last->water_poured_l,
                               last->stock_poured_l,
                               last->drained_l,
                               row->life.ledger.salt_poured_g,
                               row->life.ledger.visits,
                               row->life.ledger.renewals,
                               row->dry_mass_g,
                               row->growth_index,
                               row->life.balance.water_rel,
                               row->life.balance.worst_ion_rel,
                               row->life.balance.charge_rel,
                               (double)row->life.effort.rate_calls,
                               story->scenario.limits.high_mmol_l[ION_NA],
                               story->scenario.duration_d};
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
        /* cJSON writes 15 to 17 digits */
        assert_close(number_at(root, paths[i]), expected[i], 1e-14, 0);
    }
    cJSON_Delete(root);
    story_free(story);
}

static void what_never_happened_is_null(void **state)
{
    (void)state;
    struct story *story = story_tell();
    story->compare.rows[1].nutrient_low = ION_COUNT;
    story->compare.rows[1].growth_index = NAN;
    cJSON *root = summary_of(&story->compare);
    const char *const never[] = {"strategies.2.first_day.ec_high",
                                 "strategies.0.first_day.ec_low",
                                 "strategies.0.first_day.roots_dry",
                                 "strategies.1.first_day.nutrient_low",
                                 "strategies.0.first_day.ion_high.so4",
                                 "strategies.1.growth_index",
                                 "strategies.0.absence.limit_day",
                                 "limits.high_mmol_L.cl",
                                 "limits.ph_low"};
    for (size_t i = 0; i < sizeof never / sizeof never[0]; i++) {
        assert_true(cJSON_IsNull(item_at(root, never[i])));
    }
    cJSON_Delete(root);
    story_free(story);
}

static void first_nutrient_gone_is_named_with_its_day(void **state)
{
    (void)state;
    struct story *story = story_tell();
    cJSON *root = summary_of(&story->compare);
    assert_string_equal(text_at(root, "strategies.0.first_day.nutrient_low.ion"), "k");
    assert_close(number_at(root, "strategies.0.first_day.nutrient_low.day"),
                 story->compare.rows[0].life.first.nutrient_low[ION_K], 1e-14, 0);
    cJSON_Delete(root);
    story_free(story);
}

static void names_and_advice_come_back_letter_by_letter(void **state)
{
    (void)state;
    struct story *story = story_tell();
    cJSON *root = summary_of(&story->compare);
    assert_string_equal(text_at(root, "scenario"), story->scenario.stem);
    assert_string_equal(text_at(root, "title"), story->scenario.title);
    assert_string_equal(text_at(root, "verdict"), story->compare.verdict);
    assert_string_equal(text_at(root, "best"), story->scenario.strategies[1].name);
    assert_string_equal(text_at(root, "warnings.0"), story->scenario.warnings[0]);
    assert_int_equal(cJSON_GetArraySize(item_at(root, "strategies")), STORY_ROWS);
    for (int i = 0; i < STORY_ROWS; i++) {
        char path[64];
        (void)snprintf(path, sizeof path, "strategies.%d.name", i);
        assert_string_equal(text_at(root, path), story->scenario.strategies[i].name);
        (void)snprintf(path, sizeof path, "strategies.%d.advice.1", i);
        assert_string_equal(text_at(root, path), story->compare.rows[i].advice[1]);
    }
    cJSON_Delete(root);
    story_free(story);
}

static void ph_range_is_that_of_the_samples(void **state)
{
    (void)state;
    struct story *story = story_tell();
    cJSON *root = summary_of(&story->compare);
    const struct trajectory *path = &story->compare.rows[2].life.trajectory;
    const double low = number_at(root, "strategies.2.ph.min");
    const double high = number_at(root, "strategies.2.ph.max");
    bool low_met = false;
    bool high_met = false;
    for (size_t i = 0; i < path->sample_count; i++) {
        assert_true(path->samples[i].ph >= low - 1e-12);
        assert_true(path->samples[i].ph <= high + 1e-12);
        low_met = low_met || fabs(path->samples[i].ph - low) < 1e-12;
        high_met = high_met || fabs(path->samples[i].ph - high) < 1e-12;
    }
    assert_true(low_met && high_met);
    cJSON_Delete(root);
    story_free(story);
}

static void a_life_cut_short_is_marked(void **state)
{
    (void)state;
    struct story *story = story_tell();
    cJSON *root = summary_of(&story->compare);
    assert_true(cJSON_IsTrue(item_at(root, "strategies.0.complete")));
    assert_true(cJSON_IsFalse(item_at(root, "strategies.2.complete")));
    assert_close(number_at(root, "strategies.2.end_day"), 71.3, 1e-14, 0);
    cJSON_Delete(root);
    story_free(story);
}

static void *no_memory(size_t size)
{
    (void)size;
    return NULL;
}

static void lost_memory_is_said_and_writes_nothing(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct error error = {0};
    struct scratch_text written = {0};
    scratch_open(&written);
    cJSON_Hooks none = {no_memory, free};
    cJSON_InitHooks(&none);
    enum status status = json_write_summary(written.out, &story->compare, &error);
    cJSON_InitHooks(NULL);
    char *text = scratch_close(&written);
    assert_int_equal(status, STATUS_MEMORY);
    assert_string_equal(text, "");
    free(text);
    story_free(story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_come_through_unchanged),
        cmocka_unit_test(what_never_happened_is_null),
        cmocka_unit_test(first_nutrient_gone_is_named_with_its_day),
        cmocka_unit_test(names_and_advice_come_back_letter_by_letter),
        cmocka_unit_test(ph_range_is_that_of_the_samples),
        cmocka_unit_test(a_life_cut_short_is_marked),
        cmocka_unit_test(lost_memory_is_said_and_writes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
