/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/story.h"

#include "../../sim/report/visits_parts.h"

/* Visits of litres of water and stock, drained before, and mmol of acid. */
struct done {
    double water_l, stock_l, drained_l, adjust_mmol;
};

/* pH above which the first filling takes acid: mostly none. */
static double first_above_ph = 14;

/* What row 0 of a story, named "Hold 1.2", says of these visits. */
static void says(const struct done done[], size_t count, const char *acid,
                 enum display_volume volume, const char *expected)
{
    struct story *story = story_tell();
    char said[FIGURE_LINE_SIZE];
    struct trajectory *path = &story->compare.rows[0].life.trajectory;
    struct strategy *strategy = &story->scenario.strategies[0];
    (void)snprintf(strategy->name, sizeof strategy->name, "Hold 1.2");
    strategy->water =
        (struct liquid){.mmol_l = {[ION_CA] = 0.85}, .alkalinity_meq_l = 1.7};
    story->scenario.start_stock_share = 0;
    story->scenario.start_l = 20;
    story->scenario.room.water_temperature_c = 22;
    story->scenario.room.root_co2_ppm = 700;
    strategy->adjust = (struct strategy_adjust){
        acid != NULL ? salt_by_formula(acid) : NULL, first_above_ph, 6};
    story->scenario.display.volume = volume;
    path->visit_count = count;
    for (size_t i = 0; i < count; i++) {
        path->visits[i].water_l = done[i].water_l;
        path->visits[i].stock_l = done[i].stock_l;
        path->visits[i].drained_l = done[i].drained_l;
        path->visits[i].adjust_mmol = done[i].adjust_mmol;
    }
    visits_sentence(said, &story->compare, 0);
    assert_string_equal(said, expected);
    story_free(story);
}

static void a_pour_is_told_from_the_least_to_the_most(void **state)
{
    (void)state;
    const struct done done[] = {{1.3, 0.2, 0, 0}, {2.7, 1.41, 0, 0}, {0.91, 0.63, 0, 0}};
    says(done, 3, NULL, DISPLAY_LITRE,
         "A visit pours 1.5 to 4.1 L, of which stock 0.20 to 1.4 L; each is listed in "
         "hold-1-2-visits.csv.");
    says(done, 3, NULL, DISPLAY_GALLON,
         "A visit pours 0.40 to 1.1 gal, of which stock 0.05 to 0.37 gal; each is listed "
         "in hold-1-2-visits.csv.");
}

static void one_visit_water_alone_stock_alone_and_none(void **state)
{
    (void)state;
    const struct done both[] = {{1.3, 0.27, 0, 0}};
    const struct done water[] = {{1.3, 0, 0, 0}, {0.7, 0, 0, 0}};
    const struct done stock[] = {{0, 0.31, 0, 0}, {0, 0.311, 0, 0}};
    const struct done alike[] = {{0.97, 0, 0, 0}, {1.04, 0, 0, 0}};
    const struct done nothing[] = {{0, 0, 0, 0}, {0, 0, 0, 0}};
    says(both, 1, NULL, DISPLAY_LITRE,
         "The one visit pours 1.6 L, of which stock 0.27 L; it is listed in "
         "hold-1-2-visits.csv.");
    says(water, 2, NULL, DISPLAY_LITRE,
         "A visit pours 0.70 to 1.3 L of water; each is listed in hold-1-2-visits.csv.");
    says(stock, 2, NULL, DISPLAY_LITRE,
         "A visit pours 0.31 L of stock; each is listed in hold-1-2-visits.csv.");
    says(alike, 2, NULL, DISPLAY_LITRE,
         "A visit pours 1.0 L of water; each is listed in hold-1-2-visits.csv.");
    says(nothing, 2, NULL, DISPLAY_LITRE,
         "A visit pours nothing; each is listed in hold-1-2-visits.csv.");
    says(nothing, 0, NULL, DISPLAY_LITRE, "No visit is made.");
}

static void what_is_not_poured_at_each_visit_is_up_to_its_most(void **state)
{
    (void)state;
    const struct done done[] = {{1.3, 0, 0, 0}, {2.7, 1.41, 0, 0}};
    const struct done drops[] = {{0.0012, 0, 0, 0}, {0.0031, 0, 0, 0}};
    says(done, 2, NULL, DISPLAY_LITRE,
         "A visit pours 1.3 to 4.1 L, of which stock up to 1.4 L; each is listed in "
         "hold-1-2-visits.csv.");
    says(drops, 2, NULL, DISPLAY_LITRE,
         "A visit pours less than 0.01 L of water; each is listed in "
         "hold-1-2-visits.csv.");
}

static void renewals_and_acid_are_counted(void **state)
{
    (void)state;
    const struct done done[] = {
        {1.3, 0.2, 0, 0}, {9.7, 9.41, 18.2, 3.1}, {0.91, 0.63, 0, 17.3}};
    /* nitric acid: 63.012 g/mol */
    says(done, 3, "HNO3", DISPLAY_LITRE,
         "A visit pours 1.5 to 19.1 L, of which stock 0.20 to 9.4 L; 1 of 3 first drains "
         "18.2 L; 2 of 3 add 0.20 to 1.1 g of pure nitric acid; each is listed in "
         "hold-1-2-visits.csv.");
    says(&done[1], 1, "HNO3", DISPLAY_LITRE,
         "The one visit pours 19.1 L, of which stock 9.4 L; it first drains 18.2 L; it "
         "adds 0.20 g of pure nitric acid; it is listed in hold-1-2-visits.csv.");
}

/* 20 L of water with 1.7 meq/L of alkalinity, of which some hundredth is left at pH 6: 34
 * mmol, 2.1 g. */
static void the_acid_of_the_first_filling_is_told_before(void **state)
{
    (void)state;
    const struct done done[] = {{1.3, 0.2, 0, 0}, {0.91, 0.63, 0, 17.3}};
    first_above_ph = 6.5;
    says(done, 2, "HNO3", DISPLAY_LITRE,
         "The first filling takes 2.1 g of pure nitric acid. A visit pours 1.5 L, of "
         "which "
         "stock 0.20 to 0.63 L; 1 of 2 adds 1.1 g of pure nitric acid; each is listed in "
         "hold-1-2-visits.csv.");
    first_above_ph = 14;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pour_is_told_from_the_least_to_the_most),
        cmocka_unit_test(one_visit_water_alone_stock_alone_and_none),
        cmocka_unit_test(what_is_not_poured_at_each_visit_is_up_to_its_most),
        cmocka_unit_test(renewals_and_acid_are_counted),
        cmocka_unit_test(the_acid_of_the_first_filling_is_told_before),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
