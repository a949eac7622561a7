/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names from strangers: whatever stands in a scenario, nothing of it acts where it is
 * shown. Every name is hostile at once; every command that shows names runs; everything
 * written is read by a strict reader of its kind. */
#include "support/close.h"

#include "attacks.h"

#include "pailcast/base/text.h"

enum {
    LONG = 65536
};

/* The name as the program keeps it: cut at 95 bytes, with '?' for what cannot be shown.
 */
static void comes_back(const cJSON *object, const char *key, const struct attack *attack,
                       int number)
{
    char kept[TEXT_NAME_SIZE];
    char *name = named(attack, number);
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    text_copy(kept, sizeof kept, name);
    assert_true(cJSON_IsString(item));
    assert_string_equal(item->valuestring, kept);
    free(name);
}

static void names_come_back(const char *folder, const struct attack *attack)
{
    char *text = program_read(folder, "out/x/summary.json");
    cJSON *json = cJSON_Parse(text);
    assert_non_null(json);
    const cJSON *strategies = cJSON_GetObjectItemCaseSensitive(json, "strategies");
    assert_int_equal(cJSON_GetArraySize(strategies), 2);
    comes_back(cJSON_GetArrayItem(strategies, 0), "name", attack, 6);
    comes_back(cJSON_GetArrayItem(strategies, 1), "name", attack, 9);
    cJSON_Delete(json);
    free(text);
}

/* Lives it, and returns the tags of its page, to be freed. */
static char *lived(const char *folder, const struct attack *attack)
{
    char command[512];
    (void)snprintf(command, sizeof command, "rm -rf %s/out", folder);
    assert_int_equal(system(command), 0);
    write_scenario(folder, "x.cfg", attack);
    run_clean(folder, "check x.cfg", 0);
    run_clean(folder, "run x.cfg --show --logbook kept.csv", 0);
    sink_csv(folder, "kept.csv");
    /* two tables and lists of visits, the summary and all plots: two of both, six of each
     */
    assert_int_equal(sink_folder(folder, "out/x"), 2 + 2 + 1 + 2 + 2 * 6);
    names_come_back(folder, attack);
    return sink_tags(folder, "out/x/report.html");
}

static void names_of_a_scenario_act_nowhere(void **state)
{
    const char *folder = *state;
    static const struct attack plain = {"plain", "Plain words ", true};
    char *wanted = lived(folder, &plain);
    for (size_t i = 0; i < ATTACKS; i++) {
        char *tags = lived(folder, &attacks[i]);
        if (strcmp(tags, wanted) != 0) {
            print_error("%s changed the page's tags\n", attacks[i].what);
            fail();
        }
        free(tags);
    }
    free(wanted);
}

/* 64 kB of letters, of two bytes each but for the first: names are cut where a character
 * ends, what is quoted in a message too. */
static void names_without_end_are_cut_at_a_character(void **state)
{
    const char *folder = *state;
    static char endless[LONG + 2] = "x";
    for (int i = 1; i < LONG; i += 2) {
        (void)memcpy(endless + i, "\xc3\xa9", 2);
    }
    const struct attack attack = {"endless", endless, false};
    free(lived(folder, &attack));
    run_clean(folder, "why x.cfg", 0);
    struct scratch_text text;
    scratch_open(&text);
    (void)fputs("title = \"t\"; duration = ", text.out);
    quote(text.out, endless);
    (void)fputs("; bucket = { full = \"1 L", text.out);
    (void)fprintf(text.out, "%300s\"; ", "");
    put_name(text.out, &attack, "shape", 0);
    (void)fputs("}; crop = { kind = ", text.out);
    quote(text.out, endless);
    (void)fputs("; }; water = { }; strategies = ( { name = \"s\"; fill = ", text.out);
    quote(text.out, endless);
    (void)fputs("; } );", text.out);
    char *whole = scratch_close(&text);
    program_write(folder, "bad.cfg", whole);
    free(whole);
    run_clean(folder, "check bad.cfg", 2);
    program_says(folder, "stderr", "full: this text is too long for a quantity");
}

#define in_folder(test)                                                                  \
    cmocka_unit_test_setup_teardown(test, program_enter, program_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        in_folder(names_of_a_scenario_act_nowhere),
        in_folder(names_without_end_are_cut_at_a_character),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
