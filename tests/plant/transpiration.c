/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Published: Allen, Pereira, Raes & Smith 1998, FAO Irrigation and Drainage Paper 56,
 * examples 3, 5, 17, 18, 19. The plant calls the same routine. */
#include "support/close.h"

#include <math.h>

#include "pailcast/plant/transpiration.h"

/* FAO-56 eq. 4 and 5 for the reference grass: ra = 208/u2, rs = 70 s/m. */
static double reference_l_m2_d(const struct transpiration_air *air, double radiation_w_m2,
                               double wind_m_s)
{
    const double latent =
        transpiration_latent_w_m2(air, radiation_w_m2, 1, 208 / wind_m_s, 70);
    return transpiration_l_m2_d(air, latent);
}

static const double w_per_mj_d = 1e6 / 86400;
static const double w_per_mj_h = 1e6 / 3600;

static double pressure_kpa(double altitude_m) /* eq. 7 */
{
    return 101.3 * pow((293 - 0.0065 * altitude_m) / 293, 5.26);
}

static void saturation_pressures_of_example_3(void **state)
{
    (void)state;
    assert_close(transpiration_saturation_kpa(24.5), 3.075, 0, 5e-4);
    assert_close(transpiration_saturation_kpa(15), 1.705, 0, 5e-4);
    assert_close(transpiration_saturation_kpa(19.75), 2.30, 0, 5e-3);
}

static void vapour_pressure_of_example_5(void **state)
{
    (void)state;
    const double at_min = transpiration_saturation_kpa(18) * 0.82;
    const double at_max = transpiration_saturation_kpa(25) * 0.54;
    assert_close(0.5 * (at_min + at_max), 1.70, 0, 5e-3);
}

/* Air of a day whose saturation pressure is the mean over its extremes (eq. 12), as the
 * book prescribes for daily and monthly steps. */
static struct transpiration_air day_air(double t_min_c, double t_max_c, double vapour_kpa,
                                        double altitude_m)
{
    struct transpiration_air air = transpiration_air_at(
        0.5 * (t_min_c + t_max_c), vapour_kpa, pressure_kpa(altitude_m));
    air.deficit_kpa = 0.5 * (transpiration_saturation_kpa(t_min_c) +
                             transpiration_saturation_kpa(t_max_c)) -
                      vapour_kpa;
    return air;
}

static void bangkok_in_april_example_17(void **state)
{
    (void)state;
    const struct transpiration_air air = day_air(25.6, 34.8, 2.85, 2);
    const double net = (14.33 - 0.14) * w_per_mj_d;
    assert_close(reference_l_m2_d(&air, net, 2.0), 5.72, 0, 0.02);
}

static void uccle_in_july_example_18(void **state)
{
    (void)state;
    const double wind = 10 / 3.6 * 4.87 / log(67.8 * 10 - 5.42);
    const struct transpiration_air air = day_air(12.3, 21.5, 1.409, 100);
    assert_close(wind, 2.078, 0, 1e-3);
    assert_close(reference_l_m2_d(&air, 13.28 * w_per_mj_d, wind), 3.88, 0, 0.02);
}

static void ndiaye_by_the_hour_example_19(void **state)
{
    (void)state;
    const struct transpiration_air night =
        transpiration_air_at(28, 3.402, pressure_kpa(8));
    const struct transpiration_air day = transpiration_air_at(38, 3.445, pressure_kpa(8));
    const double at_night =
        reference_l_m2_d(&night, (-0.100 + 0.050) * w_per_mj_h, 1.9) / 24;
    const double by_day = reference_l_m2_d(&day, (1.749 - 0.175) * w_per_mj_h, 3.3) / 24;
    assert_close(at_night, 0.00, 0, 0.01);
    assert_close(by_day, 0.63, 0, 0.01);
}

/* Arithmetic of the FAO-56 formulas at 101.325 kPa, computed independently. */
static void air_properties_follow_the_fao_formulas(void **state)
{
    (void)state;
    const double vapour = 0.6 * transpiration_saturation_kpa(25);
    const struct transpiration_air air = transpiration_air_at(25, vapour, 101.325);
    assert_close(air.saturation_kpa, 3.16778, 0, 1e-5);
    assert_close(air.slope_kpa_c, 0.188682, 2e-4, 0);
    assert_close(air.latent_mj_kg, 2.44197, 0, 1e-5);
    assert_close(air.psychrometric_kpa_c, 0.067634, 0, 1e-6);
    assert_close(air.heat_j_m3_k, 1.17626 * 1013, 1e-4, 0);
    assert_close(air.deficit_kpa, 1.26711, 0, 1e-5);
}

/* Graamans et al. 2017 as restated: 60 (1500 + I)/(200 + I). */
static void stomata_open_in_the_light(void **state)
{
    (void)state;
    assert_close(transpiration_stomatal_s_m(600), 157.5, 0, 0.05);
    assert_close(transpiration_stomatal_s_m(0), 450, 0, 1e-9);
    assert_close(transpiration_stomatal_s_m(200), 255, 0, 0.01);
}

/* A lettuce of 0.18 m2 leaf on 0.06 m2 at 400 umol, 25 degC, 20 and 60 % humidity, worked
 * by hand from the same published equations: 20.864 and 12.882 g/h. */
static void lettuce_drinks_more_in_dry_air(void **state)
{
    (void)state;
    const double humidity[] = {0.20, 0.60};
    const double expected_g_h[] = {20.86418, 12.88193};
    for (int i = 0; i < 2; i++) {
        const double vapour = humidity[i] * transpiration_saturation_kpa(25);
        const struct transpiration_air air = transpiration_air_at(25, vapour, 101.325);
        const double radiation = 0.95 * 400 / 5.0 * (1 - exp(-0.7 * 3));
        const double stomatal = transpiration_stomatal_s_m(400) /
                                transpiration_dryness_factor(air.deficit_kpa);
        const double latent =
            transpiration_latent_w_m2(&air, radiation, 3, 100, stomatal);
        assert_close(transpiration_l_m2_d(&air, latent) * 0.06 / 24 * 1000,
                     expected_g_h[i], 1e-3, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(saturation_pressures_of_example_3),
        cmocka_unit_test(vapour_pressure_of_example_5),
        cmocka_unit_test(bangkok_in_april_example_17),
        cmocka_unit_test(uccle_in_july_example_18),
        cmocka_unit_test(ndiaye_by_the_hour_example_19),
        cmocka_unit_test(air_properties_follow_the_fao_formulas),
        cmocka_unit_test(stomata_open_in_the_light),
        cmocka_unit_test(lettuce_drinks_more_in_dry_air),
    };
    return cmocka_run_group_tests_name("transpiration", tests, NULL, NULL);
}
