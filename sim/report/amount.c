/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "amount.h"

#include <math.h>
#include <stdio.h>

enum {
    AMOUNT_QUARTERS_PER_CUP = 4,
    AMOUNT_QUARTERS_PER_GAL = 64
};

/* A sixteenth of 231 cubic inches, and a sixteenth of that. */
static const double amount_l_per_cup = 0.2365882365;
static const double amount_tbsp_per_cup = 16;

/* Less is told in spoons; less than amount_jug_l in millilitres. */
static const double amount_cups_least = 0.5, amount_jug_l = 0.995;

/* Digits of litres and of grams. */
static int amount_digits_l(double litres)
{
    return litres < amount_jug_l ? 3 : litres < 100 ? 2 : 1;
}

static int amount_digits_g(double grams)
{
    return grams < 1 ? 2 : grams < 100 ? 1 : 0;
}

static double amount_rounded(double amount, int digits)
{
    const double steps = pow(10, digits);
    return round(amount * steps) / steps;
}

double amount_volume_told(const struct scenario_display *display, double litres)
{
    if (display->volume != DISPLAY_GALLON) {
        return amount_rounded(litres, amount_digits_l(litres));
    }
    const double cups = litres / amount_l_per_cup;
    if (cups < amount_cups_least) {
        return amount_rounded(cups * amount_tbsp_per_cup, 1) / amount_tbsp_per_cup *
               amount_l_per_cup;
    }
    return round(cups * AMOUNT_QUARTERS_PER_CUP) / AMOUNT_QUARTERS_PER_CUP *
           amount_l_per_cup;
}

double amount_mass_told(double grams)
{
    return amount_rounded(grams, amount_digits_g(grams));
}

static struct amount_text amount_in_cups(double litres)
{
    static const char *const fractions[] = {"", "1/4", "1/2", "3/4"};
    struct amount_text amount;
    const double cups = litres / amount_l_per_cup;
    const long quarters = lround(cups * AMOUNT_QUARTERS_PER_CUP);
    const long gallons = quarters / AMOUNT_QUARTERS_PER_GAL;
    const long rest = quarters % AMOUNT_QUARTERS_PER_GAL;
    const long whole = rest / AMOUNT_QUARTERS_PER_CUP;
    const long part = rest % AMOUNT_QUARTERS_PER_CUP;
    char gal[24] = "";
    char cup[24] = "";
    if (cups < amount_cups_least) {
        (void)snprintf(amount.text, sizeof amount.text, "%.1f tbsp",
                       cups * amount_tbsp_per_cup);
        return amount;
    }
    if (gallons > 0) {
        (void)snprintf(gal, sizeof gal, "%ld gal%s", gallons, rest > 0 ? " " : "");
    }
    if (rest > 0 && whole > 0) {
        (void)snprintf(cup, sizeof cup, "%ld%s%s cup%s", whole, part > 0 ? " " : "",
                       fractions[part], whole > 1 || part > 0 ? "s" : "");
    } else if (rest > 0) {
        (void)snprintf(cup, sizeof cup, "%s cup", fractions[part]);
    }
    (void)snprintf(amount.text, sizeof amount.text, "%s%s", gal, cup);
    return amount;
}

struct amount_text amount_volume(const struct scenario_display *display, double litres)
{
    struct amount_text amount;
    if (display->volume == DISPLAY_GALLON) {
        return amount_in_cups(litres);
    }
    if (litres < amount_jug_l) {
        (void)snprintf(amount.text, sizeof amount.text, "%.0f mL", litres * 1000);
    } else {
        (void)snprintf(amount.text, sizeof amount.text, "%.*f L", amount_digits_l(litres),
                       litres);
    }
    return amount;
}

struct amount_text amount_mass(double grams)
{
    struct amount_text amount;
    (void)snprintf(amount.text, sizeof amount.text, "%.*f g", amount_digits_g(grams),
                   grams);
    return amount;
}
