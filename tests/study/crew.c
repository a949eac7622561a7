/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <stdbool.h>

#include "../../sim/study/crew.h"

enum {
    PIECES = 137,
    BROKEN = 41
};

struct pieces {
    int worked[PIECES]; /* by each piece alone */
    int done[PIECES];
    size_t order[PIECES], count; /* of those done */
    bool breaks_at_work, breaks_when_done;
};

static enum status piece_work(void *context, size_t number, struct error *error)
{
    struct pieces *pieces = context;
    pieces->worked[number]++;
    return pieces->breaks_at_work && number == BROKEN
               ? status_error(error, STATUS_SOLVER, "piece %zu broke", number)
               : STATUS_OK;
}

static enum status piece_done(void *context, size_t number, struct error *error)
{
    struct pieces *pieces = context;
    pieces->done[number] += pieces->worked[number];
    pieces->order[pieces->count++] = number;
    return pieces->breaks_when_done && number == BROKEN
               ? status_error(error, STATUS_FILE, "piece %zu is lost", number)
               : STATUS_OK;
}

static enum status share_out(struct pieces *pieces, int threads, struct error *error)
{
    const struct crew crew = {threads, PIECES, piece_work, piece_done, pieces};
    return crew_work(&crew, error);
}

static void each_piece_is_done_once_by_any_number_of_threads(void **state)
{
    (void)state;
    for (int threads = 0; threads <= 5; threads++) {
        struct pieces pieces = {.count = 0};
        assert_int_equal(share_out(&pieces, threads, NULL), STATUS_OK);
        assert_int_equal(pieces.count, PIECES);
        for (size_t i = 0; i < PIECES; i++) {
            assert_int_equal(pieces.done[i], 1);
        }
    }
}

static void after_a_failure_nothing_more_is_begun_and_it_is_told(void **state)
{
    (void)state;
    struct pieces pieces = {.breaks_at_work = true};
    struct error error = {0};
    assert_int_equal(share_out(&pieces, 1, &error), STATUS_SOLVER);
    assert_string_equal(error.text, "piece 41 broke");
    assert_int_equal(pieces.count, BROKEN);
    assert_int_equal(pieces.worked[BROKEN + 1], 0);
    pieces = (struct pieces){.breaks_when_done = true};
    error = (struct error){0};
    assert_int_equal(share_out(&pieces, 1, &error), STATUS_FILE);
    assert_string_equal(error.text, "piece 41 is lost");
    assert_int_equal(pieces.order[pieces.count - 1], BROKEN);
    assert_int_equal(pieces.worked[BROKEN + 1], 0);
}

/* Which other pieces were begun by then is up to the threads; what is told is not. */
static void with_many_threads_one_failure_is_told_once(void **state)
{
    (void)state;
    for (int trial = 0; trial < 50; trial++) {
        struct pieces pieces = {.breaks_at_work = true};
        struct error error = {0};
        assert_int_equal(share_out(&pieces, 4, &error), STATUS_SOLVER);
        assert_string_equal(error.text, "piece 41 broke");
        assert_int_equal(error.count, 1);
        assert_int_equal(pieces.done[BROKEN], 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_piece_is_done_once_by_any_number_of_threads),
        cmocka_unit_test(after_a_failure_nothing_more_is_begun_and_it_is_told),
        cmocka_unit_test(with_many_threads_one_failure_is_told_once),
    };
    return cmocka_run_group_tests_name("crew", tests, NULL, NULL);
}
