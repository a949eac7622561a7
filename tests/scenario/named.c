/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <string.h>

#include "pailcast/scenario/named.h"

static struct scenario scenario;

static int four_strategies(void **state)
{
    static const char *const names[] = {"Hold EC 1.2", "Hold EC 1.6",
                                        "“Half” and Über – half", "Water only"};
    (void)state;
    scenario_defaults(&scenario);
    scenario.strategy_count = 4;
    for (size_t i = 0; i < 4; i++) {
        (void)snprintf(scenario.strategies[i].name, TEXT_NAME_SIZE, "%s", names[i]);
    }
    return 0;
}

static void expect(const char *asked, size_t wanted)
{
    struct error error = {0};
    size_t which = 99;
    if (named_strategy(&which, &scenario, asked, "a.cfg", &error) != STATUS_OK ||
        which != wanted) {
        fail_msg("%s gives %zu, not %zu: %s", asked, which, wanted, error.text);
    }
}

static void refuse(const char *asked, const char *words)
{
    struct error error = {0};
    size_t which;
    assert_int_equal(named_strategy(&which, &scenario, asked, "a.cfg", &error),
                     STATUS_INPUT);
    assert_string_equal(error.text, words);
}

static void capitals_blanks_and_quotes_do_not_matter(void **state)
{
    (void)state;
    expect("Water only", 3);
    expect("water ONLY", 3);
    expect("  Water   only ", 3);
    expect("hold ec 1.6", 1);
    expect("\"half\" and über - half", 2);
    expect("'HALF' AND ÜBER — HALF", 2);
}

static void the_beginning_of_one_name_is_enough(void **state)
{
    (void)state;
    expect("w", 3);
    expect("Hold EC 1.2", 0);
    expect("'half", 2);
    (void)snprintf(scenario.strategies[3].name, TEXT_NAME_SIZE, "Hold EC 1.60");
    expect("hold ec 1.6", 1); /* a whole name goes before a beginning */
    expect("hold ec 1.60", 3);
}

static void of_several_that_fit_none_is_taken(void **state)
{
    (void)state;
    refuse("hold", "a.cfg: \"hold\" may be any of \"Hold EC 1.2\", \"Hold EC 1.6\"; type "
                   "more of the name");
}

static void where_none_fits_the_nearest_is_named_and_all_are_listed(void **state)
{
    (void)state;
    refuse(
        "Watr only",
        "a.cfg: has no strategy named \"Watr only\"; did you mean \"Water only\"? It has "
        "\"Hold EC 1.2\", \"Hold EC 1.6\", \"“Half” and Über – half\", \"Water "
        "only\"");
    refuse(
        "only water every second day",
        "a.cfg: has no strategy named \"only water every second day\"; it has \"Hold EC "
        "1.2\", \"Hold EC 1.6\", \"“Half” and Über – half\", \"Water only\"");
    scenario.strategy_count = 1;
    refuse("", "a.cfg: has no strategy named \"\"; it has \"Hold EC 1.2\"");
}

static void more_names_than_fit_are_counted(void **state)
{
    (void)state;
    struct error error = {0};
    size_t which;
    scenario.strategy_count = SCENARIO_STRATEGIES_MAX;
    for (size_t i = 0; i < SCENARIO_STRATEGIES_MAX; i++) {
        (void)snprintf(scenario.strategies[i].name, TEXT_NAME_SIZE, "%c%090zu", 'z', i);
    }
    assert_int_equal(named_strategy(&which, &scenario, "z", "a.cfg", &error),
                     STATUS_INPUT);
    assert_non_null(strstr(error.text, "00005\" and 18 more; type more of the name"));
    assert_int_equal(named_strategy(&which, &scenario, "y", "a.cfg", &error),
                     STATUS_INPUT);
    assert_non_null(strstr(error.text, "00005\" and 18 more"));
}

int main(void)
{
#define OF_FOUR(fact) cmocka_unit_test_setup(fact, four_strategies)
    const struct CMUnitTest tests[] = {
        OF_FOUR(capitals_blanks_and_quotes_do_not_matter),
        OF_FOUR(the_beginning_of_one_name_is_enough),
        OF_FOUR(of_several_that_fit_none_is_taken),
        OF_FOUR(where_none_fits_the_nearest_is_named_and_all_are_listed),
        OF_FOUR(more_names_than_fit_are_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
