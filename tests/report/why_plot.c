/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "pailcast/report/why.h"

struct told {
    struct scenario scenario;
    struct why why;
    struct why_interval whole;
};

/* An invented stretch that ends where its parts lead. */
static struct told *told(const char *name)
{
    static struct told it;
    it = (struct told){0};
    scenario_defaults(&it.scenario);
    it.scenario.strategy_count = 1;
    (void)snprintf(it.scenario.strategies[0].name, TEXT_NAME_SIZE, "%s", name);
    it.whole = (struct why_interval){
        .from_d = 3.75, .to_d = 96.5, .ec_from_ms_cm = 1.87, .ec_to_ms_cm = 2.416};
    it.whole.tally.part[WHY_DRINKING] = 3.217;
    it.whole.tally.part[WHY_EATING] = -1.131;
    it.whole.tally.part[WHY_WATER] = -1.54;
    it.why = (struct why){.scenario = &it.scenario,
                          .strategy = &it.scenario.strategies[0],
                          .interval_count = 1,
                          .intervals = &it.whole};
    return &it;
}

/* The picture, to be freed. */
static char *drawn(const struct told *it, const char *file)
{
    struct scratch folder = scratch_make();
    struct error error = {0};
    if (why_plot_draw(folder.folder, &it->why, &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
    assert_int_equal(scratch_count(&folder, ""), 1);
    char *picture = scratch_read(&folder, file);
    assert_non_null(picture);
    scratch_remove(&folder);
    return picture;
}

static void each_cause_that_counts_has_a_bar_with_its_change(void **state)
{
    (void)state;
    struct told *it = told("Half & half");
    it->whole.tally.part[WHY_OTHER] = 1e-5; /* too small for a bar */
    char *picture = drawn(it, "half-half-why.svg");
    static const char *const words[] = {
        "day 3.75", "1.87", "drinking", "+3.22", "eating",          "1.13",
        "water",    "1.54", "day 96.5", "2.42",  "Half &amp; half", "EC, mS/cm"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strstr(picture, words[i]) == NULL) {
            print_error("no \"%s\"\n", words[i]);
            fail();
        }
    }
    assert_null(strstr(picture, "stock"));
    assert_null(strstr(picture, "renewal"));
    assert_null(strstr(picture, ">other<"));
    assert_null(strstr(picture, "<script"));
    free(picture);
}

static void a_tds_pen_gets_its_own_scale(void **state)
{
    (void)state;
    struct told *it = told("Half and half");
    it->scenario.display.ec = DISPLAY_PPM500;
    char *picture = drawn(it, "half-and-half-why.svg");
    assert_non_null(strstr(picture, "+1608"));
    assert_non_null(strstr(picture, ">935<"));
    free(picture);
}

static void nothing_at_all_can_be_drawn(void **state)
{
    (void)state;
    struct told *it = told("Left alone");
    it->whole = (struct why_interval){.to_d = 3};
    free(drawn(it, "left-alone-why.svg"));
    it->whole.tally.part[WHY_EATING] = -0.7; /* below zero on the way */
    it->whole.tally.part[WHY_STOCK] = 0.7;
    free(drawn(it, "left-alone-why.svg"));
}

static void a_name_from_a_stranger_runs_nothing(void **state)
{
    (void)state;
    struct scratch home = scratch_make();
    char *old = getcwd(NULL, 0);
    assert_non_null(old);
    assert_int_equal(chdir(home.folder), 0);
    struct told *it = told("`touch pwned`'.system('touch pwned').'</text><script>\"");
    char *picture = drawn(it, "touch-pwned-system-touch-pwned-text-script-why.svg");
    const bool ran = scratch_holds(&home, "pwned");
    assert_int_equal(chdir(old), 0);
    assert_false(ran);
    assert_non_null(strstr(picture, "`touch pwned`"));
    assert_null(strstr(picture, "<script"));
    free(picture);
    free(old);
    scratch_remove(&home);
}

static void without_gnuplot_there_is_no_picture_and_its_package_is_named(void **state)
{
    (void)state;
    struct scratch folder = scratch_make();
    struct error error = {0};
    char path[4096];
    (void)snprintf(path, sizeof path, "%s", getenv("PATH"));
    assert_int_equal(setenv("PATH", folder.folder, 1), 0);
    const enum status status =
        why_plot_draw(folder.folder, &told("Half and half")->why, &error);
    assert_int_equal(setenv("PATH", path, 1), 0);
    assert_int_equal(status, STATUS_PLOT);
    assert_non_null(strstr(error.text, "gnuplot-nox"));
    assert_int_equal(scratch_count(&folder, ""), 0);
    scratch_remove(&folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_cause_that_counts_has_a_bar_with_its_change),
        cmocka_unit_test(a_tds_pen_gets_its_own_scale),
        cmocka_unit_test(nothing_at_all_can_be_drawn),
        cmocka_unit_test(a_name_from_a_stranger_runs_nothing),
        cmocka_unit_test(without_gnuplot_there_is_no_picture_and_its_package_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
