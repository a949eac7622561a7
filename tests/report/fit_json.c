/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"

#include <stdlib.h>

#include <cjson/cJSON.h>

#include "pailcast/report/fit.h"

/* The piece of memory that cJSON does not get, counted down. */
static size_t lost;

static void *some_memory(size_t size)
{
    return lost > 0 && --lost == 0 ? NULL : malloc(size);
}

/* Whichever piece of memory is lost, the answer is whole or there is none. */
static void lost_memory_is_said_and_writes_nothing(void **state)
{
    (void)state;
    static const struct fit fit = {.choice_count = 0};
    cJSON_Hooks some = {some_memory, free};
    enum status status = STATUS_MEMORY;
    size_t piece = 0;
    while (status != STATUS_OK) {
        struct error error = {0};
        struct scratch_text written = {0};
        scratch_open(&written);
        lost = ++piece;
        cJSON_InitHooks(&some);
        status = fit_json_write(written.out, &fit, &error);
        cJSON_InitHooks(NULL);
        char *text = scratch_close(&written);
        assert_int_equal(status, lost > 0 ? STATUS_OK : STATUS_MEMORY);
        assert_int_equal(text[0], status == STATUS_OK ? '{' : '\0');
        free(text);
    }
    assert_true(piece > FIT_UNKNOWNS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lost_memory_is_said_and_writes_nothing),
    };
    return cmocka_run_group_tests_name("fit json", tests, NULL, NULL);
}
