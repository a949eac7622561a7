/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/report/mix.h"

/* Where potassium is richer, nitrogen itself may be what lacks. */
static void nitrate_is_not_held_against_nitrogen(void **state)
{
    (void)state;
    const struct mix mix = {.scarce = {[ION_NO3] = true}};
    const struct mix_told told = {.mix = &mix, .cost = NAN, .litres = NAN};
    struct scratch_text written = {0};
    scratch_open(&written);
    mix_text(written.out, &told);
    char *text = scratch_close(&written);
    assert_non_null(strstr(text, "Too little nitrate for what else it holds"));
    assert_null(strstr(text, "nitrogen"));
    assert_int_equal(scratch_occurs(text, "Too little"), 1);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nitrate_is_not_held_against_nitrogen),
    };
    return cmocka_run_group_tests_name("mix text", tests, NULL, NULL);
}
