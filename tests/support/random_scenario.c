/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random_scenario.h"

#include "close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "pailcast/scenario/reader.h"
#include "random_parts.h"
#include "scratch.h"

/* Litres of a cone's stump 1 cm high, for diameters in cm. */
static double random_litres_a_cm(double top_cm, double bottom_cm)
{
    return 3.14159265358979 / 12000 *
           (top_cm * top_cm + top_cm * bottom_cm + bottom_cm * bottom_cm);
}

/* From flower pots to flat tubs, wider or narrower at the floor. */
static void random_bucket(struct wording_sheet *top, struct random_draw *draw)
{
    struct wording_sheet bucket = {0};
    const struct wording *wording = &draw->wording;
    wording_put(&bucket, wording, "full", WORDING_L, draw->full_l);
    if (random_chance(draw, 0.5)) {
        const double wide_cm = 10 * cbrt(draw->full_l) * random_draw(draw, 0.9, 2.2);
        const double deep_cm = wide_cm * random_draw(draw, 0.3, 1.6);
        const bool straight = random_chance(draw, 0.3);
        const double height_cm =
            draw->full_l * random_draw(draw, 1.02, 2) /
            random_litres_a_cm(wide_cm, straight ? wide_cm : deep_cm);
        wording_put(&bucket, wording, "height", WORDING_CM, height_cm);
        wording_put(&bucket, wording, "top_diameter", WORDING_CM, wide_cm);
        if (!straight) {
            wording_put(&bucket, wording, "bottom_diameter", WORDING_CM, deep_cm);
        }
        wording_put(&bucket, wording, "net_pot_depth", WORDING_CM,
                    height_cm * random_draw(draw, 0, 0.6));
    }
    if (random_chance(draw, 0.4)) {
        wording_put(&bucket, wording, "start", WORDING_L,
                    draw->full_l * random_draw(draw, 0.1, 1));
    }
    if (random_chance(draw, 0.6)) {
        wording_put(&bucket, wording, "evaporation", WORDING_L_D,
                    draw->hurry * random_draw(draw, 0, 0.3));
    }
    wording_group(top, &bucket, wording, "bucket");
}

static void random_room(struct wording_sheet *top, struct random_draw *draw)
{
    struct wording_sheet room = {0};
    const struct wording *wording = &draw->wording;
    wording_put_light(&room, wording, random_draw(draw, 0, 1200));
    const double lamp_d =
        random_chance(draw, 0.2) ? random_pick(draw, 2) : random_draw(draw, 0.2, 0.9);
    wording_put(&room, wording, "lamp_hours", WORDING_D, lamp_d);
    const int lamp_on_h = random_pick(draw, 24);
    wording_add(&room, "lamp_on = \"%02d:%02d\"", lamp_on_h, 30 * random_pick(draw, 2));
    wording_put(&room, wording, "day_temperature", WORDING_DEGC,
                random_draw(draw, 14, 36));
    wording_put(&room, wording, "night_temperature", WORDING_DEGC,
                random_draw(draw, 8, 28));
    wording_put(&room, wording, "day_humidity", WORDING_SHARE,
                random_draw(draw, 0.2, 0.95));
    wording_put(&room, wording, "night_humidity", WORDING_SHARE,
                random_draw(draw, 0.2, 0.95));
    wording_put(&room, wording, "water_temperature", WORDING_DEGC,
                random_draw(draw, 6, 34));
    wording_add(&room, "fan = %s", random_chance(draw, 0.5) ? "true" : "false");
    wording_group(top, &room, wording, "room");
}

/* Limits, method, what was learned: each now and then. */
static void random_settings(struct wording_sheet *top, struct random_draw *draw)
{
    static const char *const methods[] = {"adams", "bdf", "one_step"};
    struct wording_sheet part = {0};
    const struct wording *wording = &draw->wording;
    if (random_chance(draw, 0.5)) {
        wording_put(&part, wording, "ec_high", WORDING_MS_CM, random_draw(draw, 1, 3));
        wording_put(&part, wording, "ec_low", WORDING_MS_CM, random_draw(draw, 0.1, 0.9));
        wording_put_ion(&part, wording, ION_NA, random_decades(draw, 0.3, 9));
        wording_add(&part, "ph_low = 5.2");
        wording_group(top, &part, wording, "limits");
    }
    if (random_chance(draw, 0.3)) {
        wording_add(&part, "method = \"%s\"", methods[random_pick(draw, 3)]);
        wording_add(&part, "rtol = %.17g", random_decades(draw, 1e-8, 1e-5));
        wording_group(top, &part, wording, "numerics");
    }
    if (random_chance(draw, 0.2)) {
        wording_add(&part, "drinking_scale = %.17g", random_decades(draw, 0.6, 1.7));
        wording_add(&part, "eating_scale = %.17g", random_decades(draw, 0.6, 1.7));
        wording_add(&part, "evaporation_scale = %.17g", random_decades(draw, 0.6, 1.7));
        wording_add(&part, "start_stock_share = %.17g", random_draw(draw, 0, 1.5));
        wording_group(top, &part, wording, "learned");
    }
    if (wording->customary) {
        wording_add(top, "display = { volume = \"gal\"; temperature = \"degF\"; ec = "
                         "\"ppm700\"; length = \"inch\"; }");
    }
}

char *random_scenario_text(uint64_t seed, const struct wording *wording)
{
    /* xorshift needs a seed with bits in it, and some rounds to part neighbours. */
    struct random_draw draw = {.seed = seed * UINT64_C(0x9e3779b97f4a7c15) + 1,
                               .wording = *wording};
    for (int i = 0; i < 8; i++) {
        (void)random_unit(&draw.seed);
    }
    struct wording_sheet top = {0};
    wording_add(&top, "title = \"drawn %llu\"", (unsigned long long)seed);
    draw.days = random_days(&draw, 1.5, random_chance(&draw, 0.2) ? 24 : 9);
    draw.full_l = random_decades(&draw, 1.5, 60);
    draw.hurry = draw.full_l * random_decades(&draw, 0.03, 0.5);
    wording_put(&top, wording, "duration", WORDING_D, draw.days);
    wording_put(&top, wording, "sample_every", WORDING_D, random_days(&draw, 0.1, 0.6));
    wording_start(&top, wording);
    random_bucket(&top, &draw);
    random_room(&top, &draw);
    random_crop(&top, &draw);
    random_liquids(&top, &draw);
    random_strategies(&top, &draw);
    random_settings(&top, &draw);
    return wording_join(&top, wording, "", ";\n", "");
}

void random_scenario_read(struct scenario *scenario, uint64_t seed,
                          const struct wording *wording)
{
    struct scratch scratch = scratch_make();
    struct error error = {0};
    char path[SCRATCH_PATH_SIZE + 16];
    char *const text = random_scenario_text(seed, wording);
    scratch_write(&scratch, "drawn.cfg", text, false);
    (void)snprintf(path, sizeof path, "%s/drawn.cfg", scratch.folder);
    const enum status status = reader_scenario(scenario, path, &error);
    scratch_remove(&scratch);
    if (status != STATUS_OK) {
        print_error("seed %llu is refused:\n%s\n%s\n", (unsigned long long)seed,
                    error.text, text);
    }
    free(text);
    assert_int_equal(status, STATUS_OK);
}

/* Prints what is wrong, the seed and the text of its scenario, and fails. */
static void random_scenario_fail(uint64_t seed, const char *what)
{
    const struct wording as_drawn = {0};
    char *const text = random_scenario_text(seed, &as_drawn);
    print_error("seed %llu: %s\n%s\n", (unsigned long long)seed, what, text);
    free(text);
    fail();
}

void random_scenario_live(struct life *life, uint64_t seed,
                          const struct scenario *scenario,
                          const struct strategy *strategy)
{
    struct error error = {0};
    if (life_run(life, scenario, strategy, &error) != STATUS_OK) {
        random_scenario_fail(seed, error.text);
    }
}

static void random_scenario_put(struct random_claim *claim,
                                const struct random_life *lived)
{
    char what[RANDOM_WHAT_SIZE] = "";
    claim->lives++;
    if (!claim->holds(lived, what) && claim->broken++ == 0) {
        claim->seed = lived->seed;
        (void)snprintf(claim->what, sizeof claim->what, "%.90s: %.140s",
                       lived->strategy->name, what);
    }
}

void random_scenario_try(struct random_claim claims[], size_t count, uint64_t first,
                         uint64_t scenarios)
{
    static struct scenario scenario;
    const struct wording as_drawn = {0};
    for (uint64_t seed = first; seed < first + scenarios; seed++) {
        random_scenario_read(&scenario, seed, &as_drawn);
        for (size_t i = 0; i < scenario.strategy_count; i++) {
            struct life life;
            const struct random_life lived = {seed, &scenario, &scenario.strategies[i],
                                              &life};
            random_scenario_live(&life, seed, &scenario, lived.strategy);
            for (size_t c = 0; c < count; c++) {
                random_scenario_put(&claims[c], &lived);
            }
            life_free(&life);
        }
    }
}

void random_scenario_judge(const struct random_claim *claim)
{
    assert_true(claim->lives > 0);
    if (claim->broken > 0) {
        print_error("broken by %zu of %zu lives, first by\n", claim->broken,
                    claim->lives);
        random_scenario_fail(claim->seed, claim->what);
    }
}
