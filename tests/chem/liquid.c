/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "pailcast/chem/liquid.h"

static const double exact = 1e-14;

static const struct liquid well = {
    .mmol_l = {[ION_CA] = 2.385, [ION_NA] = 0.71, [ION_SO4] = 0.42, [ION_CL] = 0.93},
    .alkalinity_meq_l = 3.71};
static const struct liquid feed = {
    .mmol_l = {7.3, 0.4, 0.9, 3.1, 2.6, 1.2, 1.7, 0.2, 0.15}, .alkalinity_meq_l = -0.11};

static void a_mix_holds_its_shares_of_every_ion(void **state)
{
    (void)state;
    const struct liquid mixed = liquid_mix(&well, &feed, 0.37);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(mixed.mmol_l[i], 0.63 * well.mmol_l[i] + 0.37 * feed.mmol_l[i],
                     exact, 0);
    }
    assert_close(mixed.alkalinity_meq_l, 0.63 * 3.71 - 0.37 * 0.11, exact, 0);
}

static void the_ends_of_a_mix_are_the_liquids_themselves(void **state)
{
    (void)state;
    const struct liquid first = liquid_mix(&well, &feed, 0);
    const struct liquid last = liquid_mix(&well, &feed, 1);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_close(first.mmol_l[i], well.mmol_l[i], 0, 0);
        assert_close(last.mmol_l[i], feed.mmol_l[i], 0, 0);
    }
}

static void salt_is_the_weight_of_the_ions(void **state)
{
    (void)state;
    /* By hand: 2.385 Ca 40.078 + 0.71 Na 22.990 + 0.42 SO4 96.056 + 0.93 Cl 35.45. */
    assert_close(liquid_salt_g_l(&well), (95.58603 + 16.3229 + 40.34352 + 32.9685) / 1000,
                 1e-12, 0);
}

static void charge_counts_alkalinity_as_an_anion(void **state)
{
    (void)state;
    /* 2 x 2.385 + 0.71 - 2 x 0.42 - 0.93 - 3.71 */
    assert_close(liquid_charge_meq_l(&well), 0, 0, 1e-12);
    struct liquid open = well;
    open.mmol_l[ION_NA] += 0.4;
    assert_close(liquid_charge_meq_l(&open), 0.4, 0, 1e-12);
    /* cations 5.88, anions 5.48 */
    assert_close(liquid_charge_error_percent(&open), 100 * 0.4 / 11.36, 1e-12, 0);
}

static void acid_counts_as_a_cation(void **state)
{
    (void)state;
    const struct liquid acid = {.mmol_l = {[ION_NO3] = 1.3}, .alkalinity_meq_l = -1.7};
    assert_close(liquid_charge_error_percent(&acid), 100 * 0.4 / 3.0, 1e-12, 0);
}

static void pure_water_has_no_charge_error(void **state)
{
    (void)state;
    const struct liquid water = {0};
    assert_close(liquid_charge_error_percent(&water), 0, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_mix_holds_its_shares_of_every_ion),
        cmocka_unit_test(the_ends_of_a_mix_are_the_liquids_themselves),
        cmocka_unit_test(salt_is_the_weight_of_the_ions),
        cmocka_unit_test(charge_counts_alkalinity_as_an_anion),
        cmocka_unit_test(acid_counts_as_a_cation),
        cmocka_unit_test(pure_water_has_no_charge_error),
    };
    return cmocka_run_group_tests_name("liquid", tests, NULL, NULL);
}
