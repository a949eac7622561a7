/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/chem/oxygen.h"

/* Benson & Krause 1984 as used in USGS DOTABLES, fresh water at 1 atm of moist air, mg/L.
 * Computed apart from this program; 9.09 at 20 and 8.26 at 25 degC are the printed
 * values. */
static void saturation_meets_the_table(void **state)
{
    (void)state;
    static const double table[][2] = {
        {10, 11.29}, {15, 10.08}, {16, 9.87}, {17, 9.66}, {18, 9.47}, {19, 9.28},
        {20, 9.09},  {21, 8.91},  {22, 8.74}, {23, 8.58}, {24, 8.42}, {25, 8.26},
        {26, 8.11},  {27, 7.97},  {28, 7.83}, {29, 7.69}, {30, 7.56}, {31, 7.43},
        {32, 7.30},  {33, 7.18},  {34, 7.06}, {35, 6.95}};
    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        assert_close(oxygen_saturation_mg_l(table[i][0]), table[i][1], 0, 0.02);
    }
}

/* By hand at 25 degC: 18.5 L x (8.263 - 3.2) mg/L over 4.7 g x 3.5 mg/(g h). */
static void reserve_is_spare_oxygen_over_what_roots_use(void **state)
{
    (void)state;
    assert_close(oxygen_reserve_h(18.5, 25, 4.7, 3.2), 18.5 * (8.263 - 3.2) / (4.7 * 3.5),
                 1e-3, 0);
    assert_close(oxygen_reserve_h(37, 25, 4.7, 3.2),
                 2 * oxygen_reserve_h(18.5, 25, 4.7, 3.2), 1e-14, 0);
}

/* Ten degrees double the use (Q10 = 2, from memory) and lower saturation. */
static void warm_water_runs_out_twice_as_fast_and_more(void **state)
{
    (void)state;
    const double ratio =
        oxygen_reserve_h(18.5, 28, 4.7, 0) / oxygen_reserve_h(18.5, 18, 4.7, 0);
    assert_close(ratio, 0.5 * 7.83 / 9.47, 2e-3, 0);
}

static void without_roots_the_reserve_has_no_end(void **state)
{
    (void)state;
    assert_true(isinf(oxygen_reserve_h(18.5, 22, 0, 3)));
}

static void a_floor_above_saturation_leaves_nothing(void **state)
{
    (void)state;
    assert_close(oxygen_reserve_h(18.5, 30, 4.7, 8), 0, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(saturation_meets_the_table),
        cmocka_unit_test(reserve_is_spare_oxygen_over_what_roots_use),
        cmocka_unit_test(warm_water_runs_out_twice_as_fast_and_more),
        cmocka_unit_test(without_roots_the_reserve_has_no_end),
        cmocka_unit_test(a_floor_above_saturation_leaves_nothing),
    };
    return cmocka_run_group_tests_name("oxygen", tests, NULL, NULL);
}
