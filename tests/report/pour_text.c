/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is to be poured, as it is told. */
#include "support/close.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/report/pour.h"

/* A small generator of fixed sequence, so that runs repeat. */
static double drawn(double low, double high)
{
    static uint64_t state = 2463534242ULL;
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return low + (high - low) * (double)(state >> 11) * 0x1p-53;
}

/* "1 gal 2 1/4 cups", "3.2 tbsp", "350 mL", "4.35 L" in litres; 231 cubic inches a
 * gallon. */
static double litres_of(const char *words)
{
    static const struct {
        const char *unit;
        double litres;
    } units[] = {{"gal", 3.785411784},
                 {"cup", 0.2365882365},
                 {"tbsp", 0.2365882365 / 16},
                 {"mL", 1e-3},
                 {"L", 1}};
    double litres = 0;
    double number = 0;
    while (*words != '\0') {
        char *end;
        const double next = strtod(words, &end);
        if (end != words) {
            number += *end == '/' ? next / strtod(end + 1, &end) : next;
            words = end + (*end == ' ');
            continue;
        }
        size_t k = 0;
        while (k < 5 && strncmp(words, units[k].unit, strlen(units[k].unit)) != 0) {
            k++;
        }
        if (k == 5) {
            break;
        }
        litres += number * units[k].litres;
        number = 0;
        words += strlen(units[k].unit);
        words += *words == 's';
        words += *words == ' ';
    }
    return litres;
}

/* The text told of a bucket by pen. */
static char *told(const struct pour_readings *readings,
                  const struct scenario_display *display)
{
    const struct pour_kit kit = pour_kit_by_pen();
    const struct pour_answer answer = pour_answer_of(&kit, readings, 0, display);
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    assert_non_null(out);
    pour_text_answer(out, &answer);
    assert_int_equal(fclose(out), 0);
    return text;
}

/* What stands behind the words; NULL where they do not stand. */
static const char *after(const char *text, const char *words)
{
    const char *found = text != NULL ? strstr(text, words) : NULL;
    return found != NULL ? found + strlen(words) : NULL;
}

static void halves_of_stock_add_up_to_what_was_said(void **state)
{
    (void)state;
    int halved[2] = {0};
    for (int i = 0; i < 400; i++) {
        const struct scenario_display display = {.volume = i % 2 ? DISPLAY_GALLON
                                                                 : DISPLAY_LITRE};
        const struct pour_readings readings = {
            drawn(1, 18), 19, drawn(0.3, 2), drawn(0.6, 2), 0.15, drawn(2, 5), NAN};
        char *text = told(&readings, &display);
        const char *all = after(text, "of water and ");
        const char *first = after(text, "Pour half of the stock, ");
        const char *second = after(first, "Pour the other half, ");
        if (all != NULL && second != NULL) {
            assert_close(litres_of(first) + litres_of(second), litres_of(all), 0, 1e-9);
            halved[i % 2]++;
        }
        free(text);
    }
    assert_true(halved[0] > 50 && halved[1] > 50);
}

static void halves_of_salts_add_up_to_what_was_said(void **state)
{
    (void)state;
    const struct scenario_display display = {0};
    int halved = 0;
    for (int i = 0; i < 100; i++) {
        const struct pour_readings readings = {
            drawn(3, 18), 19, drawn(0.3, 1), drawn(1.2, 2), 0.15, NAN, NAN};
        char *text = told(&readings, &display);
        const char *all = after(text, "; dissolve ");
        const char *first = after(all, ". Dissolve ");
        const char *second = after(first, "Add the other half, ");
        assert_non_null(all);
        if (second != NULL) {
            assert_close(strtod(first, NULL) + strtod(second, NULL), strtod(all, NULL), 0,
                         1e-9);
            halved++;
        }
        free(text);
    }
    assert_true(halved > 50);
}

/* A half that the pen does not see is not asked for. */
static void a_small_pour_is_one_step(void **state)
{
    (void)state;
    const struct scenario_display display = {0};
    const struct pour_readings readings = {18.4, 19, 1.9, 1.91, 0.15, 2.4, NAN};
    char *text = told(&readings, &display);
    assert_non_null(strstr(text, " of stock. Stir, wait a minute, read: 1.91 mS/cm.\n"));
    assert_null(strstr(text, "half"));
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(halves_of_stock_add_up_to_what_was_said),
        cmocka_unit_test(halves_of_salts_add_up_to_what_was_said),
        cmocka_unit_test(a_small_pour_is_one_step),
    };
    return cmocka_run_group_tests_name("pour_text", tests, NULL, NULL);
}
