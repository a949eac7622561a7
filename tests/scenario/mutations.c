/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Damaged scenarios: a thousand copies with flipped bits, lost and repeated stretches.
 * Each is refused with a sentence or read into a scenario that keeps its promises; none
 * crashes, hangs or lets a number out of range through. */
#include "support/close.h"

#include "folder.h"

#include "pailcast/scenario/reader.h"
#include "support/promises.h"

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
    "    away = ( { from = \"2026-12-30\"; to = \"134 d\"; } ); } );\n"
    "limits = { ec_high = \"2.6 mS/cm\"; ec_low = \"0.8 mS/cm\"; na = \"6 mmol/L\"; };\n"
    "display = { volume = \"gal\"; ec = \"ppm700\"; }; numerics = { rtol = 1e-6; };\n";

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
    assert_true(promises_kept(&scenario));
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
            assert_true(promises_kept(&scenario));
        } else {
            assert_int_equal(status, STATUS_INPUT);
            assert_in_range(error.count, 1, 1000);
            assert_true(promises_line_named(&error));
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
            assert_true(promises_kept(&scenario));
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
