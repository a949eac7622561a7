/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <math.h>

#include "../../sim/report/thin.h"

enum {
    SAMPLES_MAX = 20000
};

static struct sample samples[SAMPLES_MAX];

/* `days` sampled every 6 h, a visit every `every` samples. */
static struct trajectory path_of(size_t days, size_t every)
{
    struct trajectory path = {.samples = samples};
    for (size_t i = 0; i < 4 * days; i++) {
        const double day_d = 0.25 * (double)i;
        if (every > 0 && i % every == every - 1) {
            samples[path.sample_count++] =
                (struct sample){.day_d = day_d, .event = EVENT_BEFORE_VISIT};
            samples[path.sample_count++] =
                (struct sample){.day_d = day_d, .event = EVENT_AFTER_VISIT};
        } else {
            samples[path.sample_count++] = (struct sample){.day_d = day_d};
        }
    }
    return path;
}

struct kept {
    size_t all, before, after;
    bool same_hours; /* plain samples kept are all of like hours of the day */
};

static struct kept kept_of(const struct trajectory *path, size_t points)
{
    struct thin thin = thin_start(path, points);
    struct kept kept = {.same_hours = true};
    double hour = NAN;
    for (size_t i = 0; i < path->sample_count; i++) {
        if (!thin_keeps(&thin, &path->samples[i])) {
            continue;
        }
        kept.all++;
        kept.before += path->samples[i].event == EVENT_BEFORE_VISIT;
        kept.after += path->samples[i].event == EVENT_AFTER_VISIT;
        if (path->samples[i].event == EVENT_NONE) {
            const double now = fmod(path->samples[i].day_d, 1);
            kept.same_hours = kept.same_hours && (isnan(hour) || now == hour);
            hour = now;
        }
    }
    return kept;
}

static void a_short_path_stays_whole(void **state)
{
    (void)state;
    const struct trajectory path = path_of(93, 11);
    assert_int_equal(kept_of(&path, 1200).all, path.sample_count);
}

static void two_years_keep_all_visits_within_the_limit(void **state)
{
    (void)state;
    const struct trajectory path = path_of(730, 12);
    const struct kept kept = kept_of(&path, 1200);
    assert_true(kept.all <= 1200);
    assert_true(kept.all > 600);
    assert_int_equal(kept.before, 243);
    assert_int_equal(kept.after, 243);
}

static void a_daily_swing_is_not_mistaken_for_a_slow_one(void **state)
{
    (void)state;
    const struct trajectory path = path_of(730, 0);
    const struct kept kept = kept_of(&path, 800);
    assert_true(kept.same_hours);
    assert_true(kept.all <= 800);
}

static void too_many_visits_are_thinned_in_pairs(void **state)
{
    (void)state;
    const struct trajectory path = path_of(1500, 2);
    const struct kept kept = kept_of(&path, 500);
    assert_true(kept.all <= 501);
    assert_true(kept.before > 50);
    assert_int_equal(kept.before, kept.after);
}

static void what_happened_is_never_left_out(void **state)
{
    (void)state;
    struct trajectory path = path_of(1500, 2);
    samples[701].event = EVENT_EC_HIGH;
    samples[2003].event = EVENT_NUTRIENT_LOW;
    struct thin thin = thin_start(&path, 300);
    size_t found = 0;
    for (size_t i = 0; i < path.sample_count; i++) {
        found += thin_keeps(&thin, &samples[i]) && (i == 701 || i == 2003);
    }
    assert_int_equal(found, 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_short_path_stays_whole),
        cmocka_unit_test(two_years_keep_all_visits_within_the_limit),
        cmocka_unit_test(a_daily_swing_is_not_mistaken_for_a_slow_one),
        cmocka_unit_test(too_many_visits_are_thinned_in_pairs),
        cmocka_unit_test(what_happened_is_never_left_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
