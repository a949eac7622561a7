/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plan.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "figure.h"
#include "pailcast/scenario/display.h"

static void plan_ec(FILE *out, const char *words, const struct scenario *scenario,
                    double ec_ms_cm)
{
    char ec[FIGURE_CELL_SIZE];
    figure_ec(ec, &scenario->display, ec_ms_cm);
    fprintf(out, "%s%s %s", words, ec, display_ec_unit(&scenario->display));
}

static void plan_fill(FILE *out, const struct strategy_fill *fill,
                      const struct scenario *scenario)
{
    const char *rule = fill->rule != NULL ? fill->rule->name : "";
    if (strcmp(rule, "water") == 0) {
        fputs("fills with clean water", out);
    } else if (strcmp(rule, "stock") == 0) {
        fputs("fills with stock", out);
    } else if (strcmp(rule, "mix") == 0) {
        fprintf(out, "fills with %g %% stock in water", 100 * fill->stock_share);
    } else if (strcmp(rule, "aim") == 0) {
        plan_ec(out, "fills with water and stock aiming at EC ", scenario,
                fill->aim_ec_ms_cm);
    } else {
        fprintf(out, "fills by the rule \"%s\"", rule);
    }
    if (isfinite(fill->pour_l)) {
        fprintf(out, " (at most %.3g %s)",
                display_volume(&scenario->display, fill->pour_l),
                display_volume_unit(&scenario->display));
    }
}

/* "; renews all every 30 d, or above EC 3.00 mS/cm" */
static void plan_renew(FILE *out, const struct strategy *strategy,
                       const struct scenario *scenario)
{
    const char *link = " ";
    char share[FIGURE_CELL_SIZE] = "the whole bucket";
    if (strategy->renew_share < 1) {
        (void)snprintf(share, sizeof share, "%g %% of the bucket",
                       100 * strategy->renew_share);
    }
    char *text = NULL;
    size_t size = 0;
    FILE *when = open_memstream(&text, &size);
    if (when == NULL) {
        return;
    }
    if (isfinite(strategy->renew_every_d)) {
        fprintf(when, "%severy %g d", link, strategy->renew_every_d);
        link = ", or ";
    }
    if (isfinite(strategy->renew_above_ec_ms_cm)) {
        fputs(link, when);
        plan_ec(when, "above EC ", scenario, strategy->renew_above_ec_ms_cm);
        link = ", or ";
    }
    for (size_t i = 0; i < ION_COUNT; i++) {
        if (isfinite(strategy->renew_above_mmol_l[i])) {
            fprintf(when, "%sabove %g mmol/L of %s (by a test)", link,
                    strategy->renew_above_mmol_l[i], ion_table[i].name);
            link = ", or ";
        }
    }
    if (fclose(when) == 0 && size > 0) {
        fprintf(out, "; renews %s%s", share, text);
    } else {
        fputs("; never renews", out);
    }
    free(text);
}

/* What it pours, where that is not the scenario's. */
static void plan_liquids(FILE *out, const struct strategy *strategy,
                         const struct scenario *scenario)
{
    if (strcmp(strategy->water_name, scenario->water_name) != 0) {
        fprintf(out, " Its water is %s.", strategy->water_name);
    }
    if (strcmp(strategy->stock_name, scenario->stock_name) != 0) {
        fprintf(out, " Its stock is %s.", strategy->stock_name);
    }
}

static void plan_extras(FILE *out, const struct strategy *strategy,
                        const struct scenario *scenario)
{
    for (size_t i = 0; i < strategy->stage_count; i++) {
        const size_t from = strategy->stages[i].from_stage;
        if (from < scenario->crop.stage_count) {
            fprintf(out, " From the stage \"%s\" on it ",
                    scenario->crop.stages[from].name);
            plan_fill(out, &strategy->stages[i].fill, scenario);
            fputc('.', out);
        }
    }
    if (strategy->adjust.with != NULL) {
        fprintf(out, " Doses %s when pH has passed %g, to pH %g.",
                strategy->adjust.with->name, strategy->adjust.above_ph,
                strategy->adjust.to_ph);
    }
    for (size_t i = 0; i < strategy->away_count; i++) {
        const struct strategy_away *away = &strategy->away[i];
        fprintf(out, " Away from day %g%s to day %g%s.", away->from_d,
                display_date_text(scenario, away->from_d).text, away->to_d,
                display_date_text(scenario, away->to_d).text);
    }
}

void plan_tell(FILE *out, const struct strategy *strategy,
               const struct scenario *scenario)
{
    const int minutes = (int)lround(60 * strategy->visit_at_h) % (24 * 60);
    fprintf(out, "Visits every %g d at %02d:%02d; ", strategy->visit_every_d,
            minutes / 60, minutes % 60);
    if (strategy->stage_count > 0 && strategy->stages[0].from_stage == 0) {
        fputs("fills by growth stage", out);
    } else {
        plan_fill(out, &strategy->fill, scenario);
    }
    plan_renew(out, strategy, scenario);
    fputc('.', out);
    plan_liquids(out, strategy, scenario);
    plan_extras(out, strategy, scenario);
}
