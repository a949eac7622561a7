/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "advice_visit.h"
#include "pailcast/scenario/display.h"
#include "pailcast/study/advice.h"

/* A strategy that grows less than this share of the unstressed plant is not praised. */
static const double advice_good_growth = 0.9;

/* The lines a grower does not want crossed. */
struct advice_troubles {
    int count;
    double first_d; /* NAN without any */
};

static void advice_trouble(struct advice_troubles *troubles, double day_d)
{
    troubles->count += !isnan(day_d);
    troubles->first_d = fmin(troubles->first_d, day_d);
}

static struct advice_troubles advice_troubles(const struct compare_row *row)
{
    const struct life_first_days *first = &row->life.first;
    struct advice_troubles troubles = {.first_d = NAN};
    advice_trouble(&troubles, first->ec_high);
    advice_trouble(&troubles, first->ec_low);
    advice_trouble(&troubles, first->ph_high);
    advice_trouble(&troubles, first->ph_low);
    advice_trouble(&troubles, first->roots_dry);
    for (int i = 0; i < ION_COUNT; i++) {
        advice_trouble(&troubles, first->ion_high[i]);
        advice_trouble(&troubles, first->nutrient_low[i]);
    }
    return troubles;
}

/* Better is: not losing the plant; then growth, as far as it can be told; then fewer
 * lines crossed; then less dumped; then less salt. */
static bool advice_better(const struct compare_row *a, const struct compare_row *b,
                          double best_index)
{
    const bool a_lost = !isnan(a->life.first.plant_lost);
    const bool b_lost = !isnan(b->life.first.plant_lost);
    if (a_lost != b_lost) {
        return b_lost;
    }
    if (a_lost && a->life.first.plant_lost != b->life.first.plant_lost) {
        return a->life.first.plant_lost > b->life.first.plant_lost;
    }
    const bool a_grows = a->growth_index >= best_index - advice_same_growth;
    const bool b_grows = b->growth_index >= best_index - advice_same_growth;
    if (a_grows != b_grows) {
        return a_grows;
    }
    if (!a_grows && fabs(a->growth_index - b->growth_index) > advice_same_growth) {
        return a->growth_index > b->growth_index;
    }
    const int a_troubles = advice_troubles(a).count;
    const int b_troubles = advice_troubles(b).count;
    if (a_troubles != b_troubles) {
        return a_troubles < b_troubles;
    }
    const double a_drained = a->life.ledger.drained.water_l;
    const double b_drained = b->life.ledger.drained.water_l;
    if (a_drained != b_drained) {
        return a_drained < b_drained;
    }
    return a->life.ledger.salt_poured_g < b->life.ledger.salt_poured_g;
}

void advice_verdict(struct compare *compare)
{
    const struct scenario_display *display = &compare->scenario->display;
    double best_index = 0;
    for (size_t i = 0; i < compare->row_count; i++) {
        best_index = fmax(best_index, compare->rows[i].growth_index);
    }
    compare->best = 0;
    for (size_t i = 1; i < compare->row_count; i++) {
        if (advice_better(&compare->rows[i], &compare->rows[compare->best], best_index)) {
            compare->best = i;
        }
    }
    const struct compare_row *best = &compare->rows[compare->best];
    if (!isnan(best->life.first.plant_lost)) {
        (void)snprintf(
            compare->verdict, sizeof compare->verdict,
            "No strategy here keeps the plant alive; \"%s\" keeps it longest, to "
            "day %s.",
            best->strategy->name,
            display_day_text(compare->scenario, best->life.first.plant_lost, 0).text);
        return;
    }
    const char *opening = compare->row_count == 1 ? ""
                          : best->growth_index < advice_good_growth
                              ? "None of these is good; the best is "
                              : "Use ";
    const double drained_l = best->life.ledger.drained.water_l;
    (void)snprintf(
        compare->verdict, sizeof compare->verdict,
        "%s\"%s\": growth %.0f %% of the unstressed plant, %s dumped, EC %s to %s "
        "over %.0f %s.",
        opening, best->strategy->name, 100 * best->growth_index,
        drained_l > 0 ? display_volume_text(display, drained_l).text : "nothing",
        display_ec_text(display, best->ec_min).text,
        display_ec_text(display, best->ec_max).text, best->life.end_d,
        text_plural(round(best->life.end_d), "day", "days"));
    const struct advice_troubles troubles = advice_troubles(best);
    if (troubles.count > 0) {
        const size_t used = strlen(compare->verdict);
        (void)snprintf(
            compare->verdict + used, sizeof compare->verdict - used,
            " Even so something goes amiss, first on day %s: see its own lines.",
            display_day_text(compare->scenario, troubles.first_d, 0).text);
    }
}
