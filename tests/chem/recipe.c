/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <stdio.h>

#include "pailcast/chem/recipe.h"

static const double rounding = 1e-14;

static void a_part_weighed_twice_stands_there_once(void **state)
{
    (void)state;
    struct recipe recipe = {0};
    recipe_add(&recipe, "KNO3", 0.4375);
    recipe_add(&recipe, "MgSO4.7H2O", 0.213);
    recipe_add(&recipe, "KNO3", 0.1175);
    assert_int_equal(recipe.count, 2);
    assert_string_equal(recipe.parts[0].name, "KNO3");
    assert_close(recipe.parts[0].g_l, 0.555, rounding, 0);
    assert_close(recipe_g_l(&recipe), 0.768, rounding, 0);
}

static void a_recipe_with_too_many_parts_keeps_its_total(void **state)
{
    (void)state;
    struct recipe recipe = {0};
    double total = 0;
    for (int i = 0; i < RECIPE_PARTS_MAX + 7; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "salt %d", i);
        recipe_add(&recipe, name, 0.013 * (i + 3));
        total += 0.013 * (i + 3);
    }
    assert_int_equal(recipe.count, RECIPE_PARTS_MAX);
    assert_close(recipe_g_l(&recipe), total, 1e-12, 0);
}

static void a_name_that_is_too_long_is_cut_and_found_again(void **state)
{
    (void)state;
    static const char name[] = "a product whose name goes on and on beyond all reason";
    struct recipe recipe = {0};
    recipe_add(&recipe, name, 1.25);
    recipe_add(&recipe, name, 0.75);
    assert_int_equal(recipe.count, 1);
    assert_close(recipe.parts[0].g_l, 2.0, rounding, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_part_weighed_twice_stands_there_once),
        cmocka_unit_test(a_recipe_with_too_many_parts_keeps_its_total),
        cmocka_unit_test(a_name_that_is_too_long_is_cut_and_found_again),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
