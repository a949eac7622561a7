/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "pailcast/chem/pen.h"
#include "support/bench.h"

static struct scenario scenario;

static struct pen_reading read_of(const struct sample *sample)
{
    const struct pen pen =
        pen_at(scenario.room.water_temperature_c, scenario.room.root_co2_ppm);
    const struct liquid liquid = state_liquid(sample->state);
    return pen_read(&pen, &liquid);
}

/* Visits, renewals, cuts and crossings have rows of their own, whose readings come from
 * elsewhere than those of plain rows. */
static void every_row_reads_what_the_pens_show_of_its_own_state(void **state)
{
    (void)state;
    struct life life;
    int seen[EVENT_COUNT] = {0};
    bench_shipped(&scenario, "renew-or-not");
    bench_live(&life, &scenario, 3);
    for (size_t i = 0; i < life.trajectory.sample_count; i++) {
        const struct sample *sample = &life.trajectory.samples[i];
        const struct pen_reading reading = read_of(sample);
        assert_close(sample->ec_ms_cm, reading.ec_ms_cm, 1e-15, 0);
        assert_close(sample->ph, reading.ph, 1e-15, 0);
        seen[sample->event]++;
    }
    assert_true(seen[EVENT_BEFORE_VISIT] > 50 && seen[EVENT_RENEWAL] >= 4);
    assert_true(seen[EVENT_AFTER_VISIT] > 50 && seen[EVENT_NONE] > 500);
    life_free(&life);
}

static void the_unstressed_plants_bucket_reads_as_filled_to_the_end(void **state)
{
    (void)state;
    struct life life;
    bench_shipped(&scenario, "first-bucket");
    assert_int_equal(life_run_unstressed(&life, &scenario, NULL), STATUS_OK);
    const struct trajectory *path = &life.trajectory;
    const struct sample *last = &path->samples[path->sample_count - 1];
    const struct pen_reading reading = read_of(last);
    assert_close(last->state[STATE_VOLUME], scenario.start_l, 0, 0);
    assert_close(last->ec_ms_cm, reading.ec_ms_cm, 1e-15, 0);
    assert_close(last->ph, reading.ph, 1e-15, 0);
    assert_true(last->state[STATE_PLANT + PLANT_DRY_MASS] > 10);
    life_free(&life);
}

/* Crossings are found with estimates tied to the last sample, 6 h before at most; at the
 * crossing itself the full reading must be on the line too, even in a bucket that nobody
 * fills during a holiday. */
static void a_crossing_is_where_the_pens_say_it_is(void **state)
{
    (void)state;
    int ec_high = 0;
    int ph_low = 0;
    bench_shipped(&scenario, "pepper-in-gallons");
    for (size_t k = 0; k < scenario.strategy_count; k++) {
        struct life life;
        bench_live(&life, &scenario, k);
        for (size_t i = 0; i < life.trajectory.sample_count; i++) {
            const struct sample *sample = &life.trajectory.samples[i];
            if (sample->event == EVENT_EC_HIGH) {
                assert_close(sample->ec_ms_cm, scenario.limits.ec_high_ms_cm, 2e-3, 0);
                assert_close(sample->day_d, life.first.ec_high, 0, 0);
                ec_high++;
            } else if (sample->event == EVENT_PH_LOW) {
                assert_close(sample->ph, scenario.limits.ph_low, 0, 0.01);
                assert_close(sample->day_d, life.first.ph_low, 0, 0);
                ph_low++;
            }
        }
        life_free(&life);
    }
    assert_true(ec_high > 1 && ph_low > 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_row_reads_what_the_pens_show_of_its_own_state),
        cmocka_unit_test(the_unstressed_plants_bucket_reads_as_filled_to_the_end),
        cmocka_unit_test(a_crossing_is_where_the_pens_say_it_is),
    };
    return cmocka_run_group_tests_name("living", tests, NULL, NULL);
}
