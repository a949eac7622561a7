/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How full a bucket was, from the pen alone. With EC proportional to salt
 *     filled = (after - water) / (before - water),    salt left = filled before / aim,
 * which anybody can work out on paper (common practice). EC rises slower than salt, so
 * the true figure is a little lower: the curve solves EC(filled bucket + (1 - filled)
 * water) = after by ions instead, and compares grams. */
#include <math.h>

#include "pailcast/base/root.h"
#include "pailcast/study/pour.h"

static const double guess_tolerance = 1e-9;

static double guess_filled(double before, double after, double water)
{
    return fmin(fmax((after - water) / (before - water), 0), 1);
}

struct guess_search {
    const struct liquid *bucket, *water;
    const struct pen *pen;
    double after_ms_cm;
};

static double guess_miss(double filled, void *context)
{
    const struct guess_search *search = context;
    const struct liquid mixed = liquid_mix(search->water, search->bucket, filled);
    return pen_read(search->pen, &mixed).ec_ms_cm - search->after_ms_cm;
}

static void guess_by_curve(struct pour_guess *guess, const struct pour_kit *kit,
                           double before, double after, double water, double aim)
{
    const struct liquid bucket = pour_kit_scaled(&kit->bucket, before, &kit->pen);
    const struct liquid thin = pour_kit_scaled(&kit->water, water, &kit->pen);
    const struct liquid full = pour_kit_scaled(&kit->bucket, aim, &kit->pen);
    struct guess_search search = {&bucket, &thin, &kit->pen, after};
    guess->filled_by_curve = root_find(guess_miss, &search, 0, 1, guess_tolerance);
    guess->salt_left_by_curve =
        guess->filled_by_curve * liquid_salt_g_l(&bucket) / liquid_salt_g_l(&full);
}

struct pour_guess pour_guess_of(const struct pour_kit *kit, double before_ms_cm,
                                double after_ms_cm, double water_ec_ms_cm,
                                double aim_ec_ms_cm, double error_ms_cm)
{
    const double filled = guess_filled(before_ms_cm, after_ms_cm, water_ec_ms_cm);
    const double left = filled * before_ms_cm / aim_ec_ms_cm;
    struct pour_guess guess = {filled, left, filled, filled, left, left, 0, 0};
    for (int corner = 0; corner < 4; corner++) {
        const double before = before_ms_cm + (corner & 1 ? error_ms_cm : -error_ms_cm);
        const double after = after_ms_cm + (corner & 2 ? error_ms_cm : -error_ms_cm);
        if (!(before > water_ec_ms_cm)) {
            continue;
        }
        const double other = guess_filled(before, after, water_ec_ms_cm);
        guess.filled_low = fmin(guess.filled_low, other);
        guess.filled_high = fmax(guess.filled_high, other);
        guess.salt_left_low = fmin(guess.salt_left_low, other * before / aim_ec_ms_cm);
        guess.salt_left_high = fmax(guess.salt_left_high, other * before / aim_ec_ms_cm);
    }
    guess_by_curve(&guess, kit, before_ms_cm, after_ms_cm, water_ec_ms_cm, aim_ec_ms_cm);
    return guess;
}
