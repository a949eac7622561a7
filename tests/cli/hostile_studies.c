/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names from strangers in what the studies write: why, pour, risk, tune. */
#include "support/close.h"

#include "attacks.h"

static void names_act_in_no_study(void **state)
{
    const char *folder = *state;
    for (size_t i = 0; i < ATTACKS; i++) {
        write_scenario(folder, "x.cfg", &attacks[i]);
        run_clean(folder, "check x.cfg --json", 0);
        run_clean(folder, "why x.cfg", 0);
        run_clean(folder, "why x.cfg --json", 0);
        run_clean(folder, "pour x.cfg --volume '2 L' --ec 1.1 --aim 1.2", 0);
        run_clean(folder, "risk x.cfg --lives 4 --jobs 1", 0);
        assert_true(sink_folder(folder, "out/x") > 4);
    }
    run_clean(folder, "tune x.cfg --lives 24 --worlds 2 --jobs 1", 0);
    run_clean(folder, "risk x.cfg --lives 4 --jobs 1 --json", 0);
}

#define in_folder(test)                                                                  \
    cmocka_unit_test_setup_teardown(test, program_enter, program_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        in_folder(names_act_in_no_study),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
