/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "folder.h"

#include "pailcast/scenario/catalog.h"

static struct folder folder;

static int make_trees(void **state)
{
    (void)state;
    static const char *const inside[] = {
        "tree",
        "tree/scenarios",
        "tree/scenarios/crops",
        "tree/build",
        "tree/build/release",
        "usr",
        "usr/bin",
        "usr/share",
        "usr/share/pailcast",
        "usr/share/pailcast/scenarios",
        "usr/share/pailcast/scenarios/crops",
        "bare",
    };
    folder_make(&folder);
    for (size_t i = 0; i < sizeof inside / sizeof *inside; i++) {
        folder_make_inside(&folder, inside[i]);
    }
    return 0;
}

static int remove_trees(void **state)
{
    (void)state;
    folder_remove(&folder);
    return 0;
}

/* Found below the test's folder for a program and other sources given below it too. */
static void finds(const char *expected, const char *environment, const char *program,
                  const char *built_in)
{
    char path[512];
    char full[4][256] = {"", "", "", ""};
    const char *const given[4] = {expected, environment, program, built_in};
    for (int i = 0; i < 4; i++) {
        if (given[i] != NULL && given[i][0] != '\0') {
            (void)snprintf(full[i], sizeof full[i], "%s/%s", folder.path, given[i]);
        }
    }
    catalog_find(path, sizeof path, environment != NULL ? full[1] : NULL, full[2],
                 full[3]);
    assert_string_equal(path, full[0]);
}

static void a_program_in_a_source_tree_finds_its_data(void **state)
{
    (void)state;
    finds("tree", NULL, "tree/build/release/pailcast", "");
    finds("tree", "", "tree/build/pailcast", "");
    finds("tree", NULL, "tree/build/release/tests/scenario/catalog", "bare");
}

static void an_installed_program_finds_its_share(void **state)
{
    (void)state;
    finds("usr/share/pailcast", NULL, "usr/bin/pailcast", "bare");
}

static void the_built_in_folder_is_the_last_resort(void **state)
{
    (void)state;
    finds("usr/share/pailcast", NULL, "bare/pailcast", "usr/share/pailcast");
    finds("", NULL, "bare/pailcast", "bare");
    finds("", NULL, "bare/pailcast", "");
}

static void the_environment_decides_alone(void **state)
{
    (void)state;
    finds("tree", "tree", "usr/bin/pailcast", "usr/share/pailcast");
    finds("", "bare", "tree/build/pailcast", "usr/share/pailcast");
}

static void shelves_are_sorted_and_described(void **state)
{
    (void)state;
    static const size_t least[CATALOG_SHELF_COUNT] = {7, 3, 9};
    for (int shelf = 0; shelf < CATALOG_SHELF_COUNT; shelf++) {
        char **names;
        size_t count;
        struct error error = {0};
        assert_int_equal(catalog_names(&names, &count, (enum catalog_shelf)shelf, &error),
                         STATUS_OK);
        assert_true(count >= least[shelf]);
        for (size_t i = 0; i < count; i++) {
            char summary[200];
            catalog_summary(summary, sizeof summary, (enum catalog_shelf)shelf, names[i]);
            assert_true(strlen(summary) > 10);
            assert_true(summary[0] >= 'A' && summary[0] <= 'Z');
            assert_true(i == 0 || strcmp(names[i - 1], names[i]) < 0);
        }
        catalog_free_names(names, count);
    }
}

static void a_name_leads_to_a_file(void **state)
{
    (void)state;
    char path[512];
    struct error error = {0};
    assert_int_equal(catalog_path(path, sizeof path, CATALOG_CROPS, "tomato", &error),
                     STATUS_OK);
    assert_int_equal(access(path, R_OK), 0);
    assert_int_equal(catalog_path(path, sizeof path, CATALOG_CROPS, "tomatoe", &error),
                     STATUS_INPUT);
    assert_non_null(strstr(error.text, "did you mean \"tomato\"?"));
    assert_int_equal(catalog_path(path, sizeof path, CATALOG_WATERS, "zzz", &error),
                     STATUS_INPUT);
    assert_non_null(
        strstr(error.text, "; there are hard_tap, reverse_osmosis, soft_tap"));
}

static void no_name_leads_out_of_the_shelf(void **state)
{
    (void)state;
    char path[512];
    assert_int_equal(
        catalog_path(path, sizeof path, CATALOG_CROPS, "../waters/soft_tap", NULL),
        STATUS_INPUT);
    assert_int_equal(catalog_path(path, sizeof path, CATALOG_CROPS, "", NULL),
                     STATUS_INPUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_program_in_a_source_tree_finds_its_data),
        cmocka_unit_test(an_installed_program_finds_its_share),
        cmocka_unit_test(the_built_in_folder_is_the_last_resort),
        cmocka_unit_test(the_environment_decides_alone),
        cmocka_unit_test(shelves_are_sorted_and_described),
        cmocka_unit_test(a_name_leads_to_a_file),
        cmocka_unit_test(no_name_leads_out_of_the_shelf),
    };
    return cmocka_run_group_tests(tests, make_trees, remove_trees);
}
