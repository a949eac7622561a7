/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"

#include "../../sim/report/fit_plot.h"

/* It would be taken for one of these readings. */
static void a_picture_of_readings_that_are_no_more_is_taken_away(void **state)
{
    (void)state;
    static const struct fit without_readings = {.moment_count = 1};
    struct scratch folder = scratch_make();
    struct error error = {0};
    scratch_write(&folder, "fit-ph.svg", "an earlier logbook's", false);
    scratch_write(&folder, "fit.json", "{}", false);
    assert_int_equal(fit_plot_draw(folder.folder, &without_readings, &error), STATUS_OK);
    assert_false(scratch_holds(&folder, "fit-ph.svg"));
    assert_true(scratch_holds(&folder, "fit.json"));
    scratch_remove(&folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_picture_of_readings_that_are_no_more_is_taken_away),
    };
    return cmocka_run_group_tests_name("fit plot", tests, NULL, NULL);
}
