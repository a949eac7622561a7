/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Damaged scenarios: a thousand copies with flipped bits, lost and repeated stretches.
 * Each is refused with a sentence or read into a scenario that keeps its promises; none
 * crashes, hangs or lets a number out of range through. */
#include "support/close.h"

#include <math.h>

#include "folder.h"

#include "pailcast/scenario/reader.h"

static const char whole[] =
    "title = \"Pepper in the cellar\"; start = \"2026-09-01\"; duration = \"180 d\";\n"
    "bucket = { full = \"5 gal\"; height = \"14.5 inch\"; top_diameter = \"30 cm\";\n"
    "           start = \"18 L\"; evaporation = \"0.02 L/d\"; };\n"
    "/* the room */ room = { lux = \"24000 lux\"; lamp = \"white led\";\n"
    "  lamp_hours = \"14 h\"; lamp_on = \"06:00\"; day_temperature = \"78 degF\";\n"
    "  day_humidity = \"45 %\"; night_humidity = 0.55; fan = true; };\n"
    "@include \"crops/sweet_pepper.cfg\"\n"
    "@include \"waters/soft_tap.cfg\"\n"
    "recipe = ( { name = \"mix\"; salts = ( { salt = \"KNO3\"; dose = \"2 g/gal\"; },\n"
    "    { salt = \"MgSO4.7H2O\"; dose = \"1/4 tsp/gal\"; g_per_tsp = \"5 g\"; } ); },\n"
    "  { label = { n_nitrate = \"15 %\"; cao = \"32 %\"; }; dose = \"0.6 g/L\";\n"
    "    closes_with = \"no3\"; } ); # two parts\n"
    "start_stock_share = 0.5;\n"
    "strategies = (\n"
    "  { name = \"Water\"; visit_every = \"3 d\"; visit_at = \"18:00\"; },\n"
    "  { name = \"Aim\"; fill = \"aim\"; aim_ec = \"950 ppm500\"; renew_every = \"30 "
    "d\";\n"
    "    by_stage = ( { stage = \"fruiting\"; aim_ec = \"2.1 mS/cm\"; } );\n"
    "    renew_above = { na = \"6 mmol/L\"; }; renew_share = \"50 %\";\n"
    "    adjust = { with = \"HNO3\"; to_ph = 6.0; above_ph = 6.5; };\n"
    "    away = ( { from = \"120 d\"; to = \"134 d\"; } ); } );\n"
    "limits = { ec_high = \"2.6 mS/cm\"; ec_low = \"0.8 mS/cm\"; na = \"6 mmol/L\"; };\n"
    "display = { volume = \"gal\"; ec = \"ppm700\"; }; numerics = { rtol = 1e-6; };\n";

/* libconfig 1.5 loses 64 bytes where a syntax error follows a text directly. Asked for by
 * the leak checker, by this name. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
    return "leak:libconfig.so\n";
}

enum {
    COPIES = 1000
};

/* Linear congruential numbers (Numerical Recipes' constants), upper bits. */
static unsigned draw(unsigned *seed, unsigned below)
{
    *seed = *seed * 1664525U + 1013904223U;
    return (*seed >> 8) % below;
}

/* Spoils text[*length] in one of five ways; it has room for twice its length. */
static void spoil(char *text, size_t *length, unsigned *seed)
{
    size_t at = draw(seed, (unsigned)*length);
    size_t span = 1 + draw(seed, 40);
    span = at + span > *length ? *length - at : span;
    switch (draw(seed, 8)) {
    case 0:
        text[at] = (char)(text[at] ^ (1 << draw(seed, 8)));
        break;
    case 1:
        text[at] = "{}()[]\"=;@-.9e %\\/*#"[draw(seed, 20)];
        break;
    case 2:
        memmove(text + at, text + at + span, *length - at - span);
        *length -= span;
        break;
    case 3:
    case 4:
    case 5:
    case 6:
        at += strcspn(text + at, "0123456789");
        if (at < *length) {
            text[at] = (char)('0' + draw(seed, 10));
        }
        break;
    default:
        memmove(text + at + span, text + at, *length - at);
        *length += span;
        break;
    }
}

static void assert_in(double value, double low, double high)
{
    if (!(value >= low && value <= high)) {
        print_error("%.17g is not in [%g, %g]\n", value, low, high);
        fail();
    }
}

static void assert_liquid(const struct liquid *liquid)
{
    for (int i = 0; i < ION_COUNT; i++) {
        assert_in(liquid->mmol_l[i], 0, 1e5);
    }
    assert_true(isfinite(liquid->alkalinity_meq_l));
}

static void assert_kept_promises(const struct scenario *s)
{
    assert_in(s->duration_d, 1. / 24 - 1e-9, 3653);
    assert_in(s->duration_d / s->sample_every_d, 0, 1e6);
    assert_in(s->bucket.full_l, 0.1, 1000);
    assert_in(s->bucket.full_l, 0, shape_rim_l(&s->bucket));
    assert_in(s->start_l, 0.001, s->bucket.full_l);
    assert_in(s->room.lamp_hours, 0, 24);
    assert_in(s->room.lamp_on_h, 0, 24);
    assert_in(s->room.ppfd_umol_m2_s, 0, 2500);
    assert_in(s->room.day.humidity, 0.01, 1);
    assert_in(s->room.night.humidity, 0.01, 1);
    assert_in(s->start_stock_share, 0, 1);
    assert_liquid(&s->water);
    assert_liquid(&s->stock);
    assert_in((double)s->strategy_count, 1, SCENARIO_STRATEGIES_MAX);
    assert_in((double)s->crop.stage_count, 1, CROP_STAGES_MAX);
    assert_in((double)s->warning_count, 0, SCENARIO_WARNINGS_MAX);
    for (size_t i = 0; i < s->strategy_count; i++) {
        const struct strategy *strategy = &s->strategies[i];
        assert_non_null(strategy->fill.rule);
        assert_true(strategy->name[0] != '\0');
        assert_in(strategy->visit_every_d, 1. / 24 - 1e-9, 3650);
        assert_in(strategy->renew_share, 0, 1);
        for (size_t k = 0; k < strategy->stage_count; k++) {
            assert_in((double)strategy->stages[k].from_stage, 0,
                      (double)s->crop.stage_count - 1);
        }
    }
}

/* FILE:LINE: at the start; the file may be an included one. */
static void assert_names_a_line(const char *text)
{
    const char *colon = strchr(text, ':');
    if (colon == NULL || strspn(colon + 1, "0123456789") == 0 ||
        strncmp(colon + 1 + strspn(colon + 1, "0123456789"), ": ", 2) != 0) {
        print_error("no file and line in: %s\n", text);
        fail();
    }
}

static void the_file_to_be_damaged_is_sound(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct folder folder;
    folder_make(&folder);
    struct error error = {0};
    const char *path = folder_write(&folder, "a.cfg", whole);
    if (reader_scenario(&scenario, path, &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
    assert_kept_promises(&scenario);
    folder_remove(&folder);
}

static void damaged_copies_are_refused_or_sound(void **state)
{
    (void)state;
    static struct scenario scenario;
    static char text[4 * sizeof whole];
    struct folder folder;
    folder_make(&folder);
    unsigned seed = 20260901;
    int refused = 0;
    for (int copy = 0; copy < COPIES; copy++) {
        size_t length = sizeof whole - 1;
        memcpy(text, whole, length);
        for (unsigned times = 1 + draw(&seed, 3); times > 0; times--) {
            text[length] = '\0';
            spoil(text, &length, &seed);
        }
        const char *path = folder_write_bytes(&folder, "a.cfg", text, length);
        struct error error = {0};
        enum status status = reader_scenario(&scenario, path, &error);
        if (status == STATUS_OK) {
            assert_int_equal(error.count, 0);
            assert_kept_promises(&scenario);
        } else {
            assert_int_equal(status, STATUS_INPUT);
            assert_in_range(error.count, 1, 1000);
            assert_names_a_line(error.text);
            refused++;
        }
    }
    folder_remove(&folder);
    /* most damage hits something that matters, some only a comment or a digit */
    assert_in_range(refused, COPIES / 2, COPIES - 50);
}

static void every_beginning_of_a_file_is_refused_or_sound(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct folder folder;
    folder_make(&folder);
    for (size_t length = 0; length < sizeof whole; length += 7) {
        const char *path = folder_write_bytes(&folder, "a.cfg", whole, length);
        struct error error = {0};
        enum status status = reader_scenario(&scenario, path, &error);
        assert_true(status == STATUS_INPUT || status == STATUS_OK);
        if (status == STATUS_OK) {
            assert_kept_promises(&scenario);
        }
    }
    folder_remove(&folder);
}

static void deep_brackets_do_not_overflow(void **state)
{
    (void)state;
    static struct scenario scenario;
    static char text[400000];
    static const char *const openings[] = {"(", "{a=", "[", "a={b=("};
    struct folder folder;
    folder_make(&folder);
    for (size_t i = 0; i < sizeof openings / sizeof *openings; i++) {
        size_t width = strlen(openings[i]);
        for (size_t at = 0; at + width <= sizeof text; at += width) {
            memcpy(text + at, openings[i], width);
        }
        memcpy(text, "x=", 2);
        const char *path =
            folder_write_bytes(&folder, "a.cfg", text, sizeof text - sizeof text % width);
        struct error error = {0};
        assert_int_equal(reader_scenario(&scenario, path, &error), STATUS_INPUT);
        assert_int_equal(error.count, 1);
    }
    folder_remove(&folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_file_to_be_damaged_is_sound),
        cmocka_unit_test(damaged_copies_are_refused_or_sound),
        cmocka_unit_test(every_beginning_of_a_file_is_refused_or_sound),
        cmocka_unit_test(deep_brackets_do_not_overflow),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
