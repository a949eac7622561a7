/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "../../sim/report/scale.h"

enum {
    SAMPLES = 600
};

static struct sample samples[SAMPLES];
static const double volume_l = 17.3;

/* EC around 1.37 mS/cm; from sample `from` for `count` samples `high`. */
static struct trajectory path_with_peak(size_t from, size_t count, double high)
{
    for (size_t i = 0; i < SAMPLES; i++) {
        samples[i] = (struct sample){.day_d = 0.25 * (double)i};
        samples[i].ec_ms_cm = 1.37 + 0.05 * sin(0.3 * (double)i);
        samples[i].state[STATE_VOLUME] = volume_l;
        samples[i].state[STATE_ION + ION_K] = 5.1 * volume_l;
    }
    for (size_t i = from; i < from + count; i++) {
        samples[i].ec_ms_cm = high;
    }
    return (struct trajectory){.samples = samples, .sample_count = SAMPLES};
}

static void a_short_peak_is_cut_and_told(void **state)
{
    (void)state;
    const struct trajectory path = path_with_peak(300, 9, 11.3);
    const struct scale scale = scale_of(&path, SCALE_EC);
    assert_true(scale.cut);
    assert_close(scale.peak, 11.3, 0, 0);
    assert_close(scale.peak_day_d, 75, 0, 0);
    /* 1.25 times the usual highest of 1.42, known to a part in 512 of the peak */
    assert_close(scale.top, 1.25 * 1.42, 0, 1.25 * 11.3 / 512);
    assert_true(scale.top > 1.42);
}

static void a_long_rise_is_shown_whole(void **state)
{
    (void)state;
    const struct trajectory path = path_with_peak(300, 40, 11.3);
    const struct scale scale = scale_of(&path, SCALE_EC);
    assert_false(scale.cut);
    assert_close(scale.top, 11.3, 0, 0);
}

static void a_low_peak_is_shown_whole(void **state)
{
    (void)state;
    const struct trajectory path = path_with_peak(300, 9, 2.1);
    const struct scale scale = scale_of(&path, SCALE_EC);
    assert_false(scale.cut);
    assert_close(scale.top, 2.1, 0, 0);
}

static void an_ion_is_scaled_by_its_concentration(void **state)
{
    (void)state;
    struct trajectory path = path_with_peak(0, 0, 0);
    samples[7].state[STATE_VOLUME] = 0; /* dry: no concentration */
    const struct scale scale = scale_of(&path, ION_K);
    assert_close(scale.top, 5.1, 1e-15, 0);
    assert_close(scale_of(&path, ION_MG).top, 0, 0, 0);
}

static void a_limit_above_the_cut_uncovers_the_peak(void **state)
{
    (void)state;
    const struct trajectory path = path_with_peak(300, 9, 4.4);
    struct scale scale = scale_of(&path, SCALE_EC);
    assert_true(scale.cut);
    scale = scale_reach(scale, 3.9);
    assert_true(scale.cut);
    assert_close(scale.top, 3.9, 0, 0);
    scale = scale_reach(scale, 4.7);
    assert_false(scale.cut);
    scale = scale_reach(scale, INFINITY);
    assert_close(scale.top, 4.7, 0, 0);
}

static void joined_scales_show_both(void **state)
{
    (void)state;
    const struct scale spiky = {.top = 1.7, .peak = 8.9, .peak_day_d = 31, .cut = true};
    const struct scale calm = {.top = 2.3, .peak = 2.3, .peak_day_d = 5};
    const struct scale high = {.top = 9.4, .peak = 9.4, .peak_day_d = 77};
    assert_close(scale_join(spiky, calm).top, 2.3, 0, 0);
    assert_true(scale_join(calm, spiky).cut);
    assert_close(scale_join(calm, spiky).peak_day_d, 31, 0, 0);
    assert_false(scale_join(spiky, high).cut);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_short_peak_is_cut_and_told),
        cmocka_unit_test(a_long_rise_is_shown_whole),
        cmocka_unit_test(a_low_peak_is_shown_whole),
        cmocka_unit_test(an_ion_is_scaled_by_its_concentration),
        cmocka_unit_test(a_limit_above_the_cut_uncovers_the_peak),
        cmocka_unit_test(joined_scales_show_both),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
