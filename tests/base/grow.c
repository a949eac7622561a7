/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/grow.h"

#include <stdlib.h>

#include "support/close.h"

static void what_was_kept_stays_and_room_is_asked_for_seldom(void **state)
{
    (void)state;
    int *kept = NULL;
    size_t room = 0;
    int moves = 0;
    for (size_t count = 0; count < 1731; count++) {
        const size_t before = room;
        int *more = grow_array(kept, count, &room, sizeof *more);
        assert_non_null(more);
        kept = more;
        assert_true(count < room);
        kept[count] = (int)(7 * count + 3);
        moves += room != before;
    }
    for (size_t i = 0; i < 1731; i++) {
        assert_int_equal(kept[i], 7 * i + 3);
    }
    assert_in_range(moves, 1, 8);
    free(kept);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_kept_stays_and_room_is_asked_for_seldom),
    };
    return cmocka_run_group_tests_name("grow", tests, NULL, NULL);
}
