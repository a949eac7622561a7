/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/hash.h"
#include "support/close.h"

/* Published test vectors of FNV-1a, 64 bits (RFC 9923; from memory). */
static void text_has_its_published_fingerprint(void **state)
{
    (void)state;
    assert_true(hash_text(hash_text_start, "", 0) == UINT64_C(0xcbf29ce484222325));
    assert_true(hash_text(hash_text_start, "a", 1) == UINT64_C(0xaf63dc4c8601ec8c));
    assert_true(hash_text(hash_text_start, "foobar", 6) == UINT64_C(0x85944171f73967e8));
}

/* First number of the generator with seed 0 (from memory, common to its programmings). */
static void mixing_zero_gives_the_known_word(void **state)
{
    (void)state;
    assert_true(hash_mix(0) == UINT64_C(0xe220a8397b1dcdaf));
}

/* Mean 1/2 and variance 1/12 of an even spread; four standard errors of 20,000 draws. */
static void units_are_evenly_spread_in_every_direction(void **state)
{
    (void)state;
    enum {
        DRAWS = 20000
    };
    for (int way = 0; way < 3; way++) {
        double sum = 0;
        double squares = 0;
        for (uint64_t i = 0; i < DRAWS; i++) {
            const double u =
                hash_unit(way == 0 ? i : 71, way == 1 ? i : 5, way == 2 ? i : 13);
            assert_true(u >= 0 && u < 1);
            sum += u;
            squares += u * u;
        }
        const double mean = sum / DRAWS;
        assert_close(mean, 0.5, 0, 4 * 0.2887 / 141.4);
        assert_close(squares / DRAWS - mean * mean, 1.0 / 12, 0, 4 * 0.0745 / 141.4);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_has_its_published_fingerprint),
        cmocka_unit_test(mixing_zero_gives_the_known_word),
        cmocka_unit_test(units_are_evenly_spread_in_every_direction),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
