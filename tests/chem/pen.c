/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "pailcast/chem/pen.h"

static const struct liquid feed = {
    .mmol_l = {8.3, 0.6, 1.1, 4.2, 2.9, 1.3, 1.8, 0.5, 0.4}, .alkalinity_meq_l = 0.1};

/* Molar KCl at 25 degC, from the CRC Handbook's equivalent conductivities: 0.01 mol/L
 * 1412 uS/cm, the pens' own calibration standard. */
static void a_pen_reads_its_calibration_standard(void **state)
{
    (void)state;
    const struct pen pen = pen_at(25, 420);
    const struct liquid standard = {.mmol_l = {[ION_K] = 10, [ION_CL] = 10}};
    assert_close(pen_read(&pen, &standard).ec_ms_cm, 1.413, 0.005, 0);
}

/* EC is referred to 25 degC: what is left of temperature is the species' own shift. */
static void a_cold_bucket_reads_the_same_ec(void **state)
{
    (void)state;
    const struct pen cold = pen_at(14, 420);
    const struct pen warm = pen_at(29, 420);
    assert_close(pen_read(&cold, &feed).ec_ms_cm, pen_read(&warm, &feed).ec_ms_cm, 0.015,
                 0);
}

static void a_pen_is_speciation_and_conductivity_together(void **state)
{
    (void)state;
    const struct pen pen = pen_at(19, 650);
    const struct equilibrium constants = equilibrium_at(19);
    const struct conductivity_setting setting = conductivity_at(25);
    const struct speciation s = speciation_solve(&feed, &constants, 650);
    const struct pen_reading reading = pen_read(&pen, &feed);
    assert_close(reading.ph, s.ph, 0, 0);
    assert_close(reading.ec_ms_cm, conductivity_ms_cm(&s, &setting), 0, 0);
}

static void diluting_lowers_ec_less_than_in_proportion(void **state)
{
    (void)state;
    const struct pen pen = pen_at(22, 420);
    const struct liquid water = {0};
    const double ec = pen_read(&pen, &feed).ec_ms_cm;
    for (double share = 0.05; share < 1; share += 0.0937) {
        const struct liquid thin = liquid_mix(&water, &feed, share);
        const double thin_ec = pen_read(&pen, &thin).ec_ms_cm;
        assert_true(thin_ec > share * ec);
        assert_true(thin_ec < ec);
    }
}

static void more_carbon_dioxide_lowers_ph_and_hardly_moves_ec(void **state)
{
    (void)state;
    const struct pen open = pen_at(22, 420);
    const struct pen rich = pen_at(22, 1500);
    struct liquid hard = feed;
    hard.alkalinity_meq_l = 2.7;
    assert_true(pen_read(&rich, &hard).ph < pen_read(&open, &hard).ph - 0.3);
    assert_close(pen_read(&rich, &hard).ec_ms_cm, pen_read(&open, &hard).ec_ms_cm, 0.02,
                 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pen_reads_its_calibration_standard),
        cmocka_unit_test(a_cold_bucket_reads_the_same_ec),
        cmocka_unit_test(a_pen_is_speciation_and_conductivity_together),
        cmocka_unit_test(diluting_lowers_ec_less_than_in_proportion),
        cmocka_unit_test(more_carbon_dioxide_lowers_ph_and_hardly_moves_ec),
    };
    return cmocka_run_group_tests_name("pen", tests, NULL, NULL);
}
