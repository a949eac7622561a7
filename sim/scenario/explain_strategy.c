/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "pailcast/scenario/explain.h"
#include "pailcast/visit/fill.h"

static void explain_strategy_span(FILE *out, double days)
{
    if (days < 1) {
        fprintf(out, "%.3g %s", days * 24, text_plural(days * 24, "hour", "hours"));
    } else if (fabs(days - 1) < 1e-9) {
        fputs("day", out);
    } else {
        fprintf(out, "%.4g days", days);
    }
}

static void explain_strategy_ec(FILE *out, const struct scenario *scenario, double ms_cm)
{
    fputs(display_ec_text(&scenario->display, ms_cm).text, out);
}

static void explain_strategy_fill(FILE *out, const struct strategy_fill *fill,
                                  const struct scenario *scenario)
{
    const char *rule = fill->rule->name;
    if (strcmp(rule, "mix") == 0) {
        fprintf(out, "pour %.3g %% stock and %.3g %% water", 100 * fill->stock_share,
                100 * (1 - fill->stock_share));
    } else if (strcmp(rule, "aim") == 0) {
        fputs("pour water and stock so that EC comes to ", out);
        explain_strategy_ec(out, scenario, fill->aim_ec_ms_cm);
    } else {
        fprintf(out, "pour %s", rule);
    }
    if (isfinite(fill->pour_l)) {
        fprintf(out, ", %.3g %s each time",
                display_volume(&scenario->display, fill->pour_l),
                display_volume_unit(&scenario->display));
    } else {
        fputs(", up to the fill line", out);
    }
}

static void explain_strategy_renewal(FILE *out, const struct strategy *strategy,
                                     const struct scenario *scenario)
{
    const char *joint = " Renewed ";
    if (isfinite(strategy->renew_every_d)) {
        fprintf(out, "%severy ", joint);
        explain_strategy_span(out, strategy->renew_every_d);
        joint = ", ";
    }
    if (isfinite(strategy->renew_above_ec_ms_cm)) {
        fprintf(out, "%swhen EC is above ", joint);
        explain_strategy_ec(out, scenario, strategy->renew_above_ec_ms_cm);
        joint = ", ";
    }
    for (int i = 0; i < ION_COUNT; i++) {
        if (isfinite(strategy->renew_above_mmol_l[i])) {
            fprintf(out, "%swhen a test shows %s above %.3g mmol/L", joint,
                    ion_table[i].name, strategy->renew_above_mmol_l[i]);
            joint = ", ";
        }
    }
    if (joint[0] != ',') {
        fputs(" Never renewed.", out);
        return;
    }
    fprintf(out, "; %.3g %% is drained", 100 * strategy->renew_share);
    if (!isnan(strategy->renew_stock_share)) {
        fprintf(out, " and replaced by %.3g %% stock", 100 * strategy->renew_stock_share);
    }
    fputc('.', out);
}

void explain_strategy(FILE *out, const struct strategy *strategy,
                      const struct scenario *scenario)
{
    const double hour = floor(strategy->visit_at_h);
    if (strcmp(strategy->water_name, scenario->water_name) != 0 ||
        strcmp(strategy->stock_name, scenario->stock_name) != 0) {
        fprintf(out, "With %s and %s. ", strategy->water_name, strategy->stock_name);
    }
    fputs("Every ", out);
    explain_strategy_span(out, strategy->visit_every_d);
    fprintf(out, " at %02.0f:%02.0f: ", hour, 60 * (strategy->visit_at_h - hour));
    explain_strategy_fill(out, &strategy->fill, scenario);
    fputc('.', out);
    for (size_t i = 0; i < strategy->stage_count; i++) {
        const struct strategy_stage *stage = &strategy->stages[i];
        fprintf(out,
                " From the stage %s on: ", scenario->crop.stages[stage->from_stage].name);
        explain_strategy_fill(out, &stage->fill, scenario);
        fputc('.', out);
    }
    explain_strategy_renewal(out, strategy, scenario);
    const struct strategy_adjust *adjust = &strategy->adjust;
    if (adjust->with != NULL) {
        const double first_g =
            salt_g(adjust->with, scenario_start_dose_mmol(scenario, strategy));
        fprintf(out, " When pH is %s %.3g, %s brings it to %.3g",
                adjust->with->alkalinity < 0 ? "above" : "below", adjust->above_ph,
                adjust->with->name, adjust->to_ph);
        if (first_g > 0) {
            fprintf(out, "; the first filling takes %.*f g of it, as pure",
                    first_g < 1 ? 2 : 1, first_g);
        }
        fputc('.', out);
    }
    for (size_t i = 0; i < strategy->away_count; i++) {
        const struct strategy_away *away = &strategy->away[i];
        fprintf(out, " Nobody comes from day %.4g%s to day %.4g%s.", away->from_d,
                display_date_text(scenario, away->from_d).text, away->to_d,
                display_date_text(scenario, away->to_d).text);
    }
}
