/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The step against a trouble: what there is to change about this strategy, and the
 * command that searches it where one does. */
#include <math.h>
#include <string.h>

#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "pailcast/study/advice.h"
#include "pailcast/study/tune.h"
#include "pailcast/visit/fill.h"
#include "risk_parts.h"

/* What happens to more lives than this happens to a plant as written too (chosen). */
static const double step_usual = 0.75;

/* Whether every stage is filled by a rule. */
static bool step_fills(const struct risk_case *it, const char *rule)
{
    const struct strategy *strategy = it->strategy;
    const bool staged = strategy->stage_count > 0 && strategy->stages[0].from_stage == 0;
    bool fills = staged || strcmp(strategy->fill.rule->name, rule) == 0;
    for (size_t i = 0; i < strategy->stage_count; i++) {
        fills = fills && strcmp(strategy->stages[i].fill.rule->name, rule) == 0;
    }
    return fills;
}

/* What tune searches is named with the command that does, quoted for the shell. */
static void step_tune(struct text_line *line, const struct risk_case *it,
                      enum tune_setting setting, const char *what)
{
    struct tune_range range;
    if (!tune_range_of(&range, setting, it->strategy, it->scenario)) {
        text_line_add(line, ".");
        return;
    }
    text_line_add(line, "; pailcast tune SCENARIO --strategy '");
    for (const char *c = it->strategy->name; *c != '\0'; c++) {
        if (*c == '\'') {
            text_line_add(line, "'\\''");
        } else {
            text_line_add(line, "%c", *c);
        }
    }
    text_line_add(line, "' searches %s.", what);
}

/* "less stock than 50 %", or of stages, each with a share of its own. */
static void step_share(struct text_line *line, const struct risk_case *it,
                       const char *more)
{
    if (it->strategy->stage_count > 0) {
        text_line_add(line, "pour %s stock at each stage.", more);
    } else {
        text_line_add(line, "pour %s stock than %.0f %%", more,
                      100 * it->strategy->fill.stock_share);
        step_tune(line, it, TUNE_STOCK_SHARE, "how much");
    }
}

/* The time away in which half of those lives met the trouble; NULL: none. */
static const struct strategy_away *step_away(const struct risk_case *it)
{
    const struct strategy *strategy = it->strategy;
    const double day_d = it->row->chance[it->trouble].median_d;
    for (size_t i = 0; i < strategy->away_count; i++) {
        const struct strategy_away *away = &strategy->away[i];
        if (day_d >= away->from_d && day_d <= away->to_d + strategy->visit_every_d) {
            return away;
        }
    }
    return NULL;
}

static void step_visits(struct text_line *line, const struct risk_case *it,
                        const char *why)
{
    const struct strategy_away *away = step_away(it);
    if (away != NULL) {
        text_line_add(line, "let somebody visit while you are away, day %s to %s.",
                      display_day_text(it->scenario, away->from_d, 0).text,
                      display_day_text(it->scenario, away->to_d, 0).text);
    } else if (it->strategy->visit_every_d > advice_often_d) {
        text_line_add(line, "visit more often than every %.3g d, %s",
                      it->strategy->visit_every_d, why);
        step_tune(line, it, TUNE_VISIT_EVERY, "how often");
    } else {
        text_line_add(line, "take a larger bucket, %s.", why);
    }
}

static void step_roots(struct text_line *line, const struct risk_case *it)
{
    const double pour_l = it->strategy->fill.pour_l;
    if (it->row->chance[OUTCOME_ROOTS_DRY].median_d < advice_often_d) {
        text_line_add(line, "fill the bucket higher, or hang the plant lower: the first "
                            "filling does not reach its roots.");
    } else if (isfinite(pour_l)) {
        text_line_add(line, "pour more than %s at a visit.",
                      display_volume_text(&it->scenario->display, pour_l).text);
    } else {
        step_visits(line, it, "since the water sinks below the roots between two");
    }
}

/* Why visits keep salts from growing strong. */
static const char *step_less_lost(const struct risk_case *it)
{
    return it->scenario->crop.kind == CROP_NONE ? "so that less evaporates between two"
                                                : "so that less is drunk between two";
}

/* Salts that build up: out with them. */
static void step_renew(struct text_line *line, const struct risk_case *it)
{
    const struct strategy *strategy = it->strategy;
    const bool calendar = isfinite(strategy->renew_every_d);
    if (it->row->amount[OUTCOME_RENEWALS].p50 > 0 && strategy->renew_share < 1) {
        text_line_add(line, "renew more than %.0f %% at a time",
                      100 * strategy->renew_share);
        step_tune(line, it, TUNE_RENEW_SHARE, "how much");
    } else if (calendar && strategy->renew_every_d < it->scenario->duration_d) {
        text_line_add(line, "renew more often than every %.3g d",
                      strategy->renew_every_d);
        step_tune(line, it, TUNE_RENEW_EVERY, "how often");
    } else if (it->keep_d >= advice_often_d && isfinite(it->keep_d)) {
        text_line_add(line,
                      "renew the bucket by day %s, until when nine lives in ten keep "
                      "clear of it%s",
                      display_day_text(it->scenario, floor(it->keep_d), 0).text,
                      it->scenario->crop.kind == CROP_GROWN
                          ? ", and sooner again as the plant grows"
                          : "");
        step_tune(line, it, TUNE_RENEW_EVERY, "how often");
    } else {
        text_line_add(line, "renew the bucket before it comes to that");
        step_tune(line, it, TUNE_RENEW_EVERY, "how often");
    }
}

static void step_ec_high(struct text_line *line, const struct risk_case *it)
{
    const struct scenario_display *display = &it->scenario->display;
    const double limit = it->scenario->limits.ec_high_ms_cm;
    const struct strategy_fill *fill = &it->strategy->fill;
    if (it->mended) {
        step_visits(line, it, step_less_lost(it));
    } else if (step_fills(it, "mix")) {
        step_share(line, it, "less");
    } else if (step_fills(it, "stock")) {
        text_line_add(line, "pour water too, not stock alone.");
    } else if (step_fills(it, "aim") && fill->aim_ec_ms_cm >= limit) {
        text_line_add(line, "aim below %s", display_ec_text(display, limit).text);
        step_tune(line, it, TUNE_AIM_EC, "where");
    } else {
        step_renew(line, it);
    }
}

static void step_ion_high(struct text_line *line, const struct risk_case *it)
{
    const double limit = it->scenario->limits.high_mmol_l[ION_NA];
    const double water = it->strategy->water.mmol_l[ION_NA];
    if (it->trouble == OUTCOME_SODIUM_HIGH && water >= limit) {
        text_line_add(line, "find a softer water, this one has %.3g mmol/L.", water);
    } else if (it->mended) {
        step_visits(line, it, step_less_lost(it));
    } else {
        step_renew(line, it);
    }
}

/* Too little is fed. */
static void step_feed(struct text_line *line, const struct risk_case *it)
{
    const struct scenario_display *display = &it->scenario->display;
    const double limit = it->scenario->limits.ec_low_ms_cm;
    const struct strategy_fill *fill = &it->strategy->fill;
    if (step_fills(it, "water")) {
        text_line_add(line, "pour stock too, not water alone.");
    } else if (it->mended) {
        step_visits(line, it, "so that less is eaten between two");
    } else if (step_fills(it, "mix")) {
        step_share(line, it, "more");
    } else if (step_fills(it, "aim") && fill->aim_ec_ms_cm <= limit) {
        text_line_add(line, "aim above %s", display_ec_text(display, limit).text);
        step_tune(line, it, TUNE_AIM_EC, "where");
    } else {
        text_line_add(line, "make the stock stronger.");
    }
}

/* EC tells of it too where it is low in at least half as many lives. */
static void step_nutrient(struct text_line *line, const struct risk_case *it)
{
    const double low = it->row->chance[OUTCOME_EC_LOW].share;
    const bool seen = low >= 0.5 * it->row->chance[OUTCOME_NUTRIENT_LOW].share;
    if (seen || it->mended || step_fills(it, "water")) {
        step_feed(line, it);
    } else {
        text_line_add(
            line, "take a recipe with more of what runs out%s; EC does not tell of it.",
            it->row->chance[it->trouble].share > step_usual ? " (pailcast run names it)"
                                                            : "");
    }
}

/* Acid or base poured against it: further or sooner. */
static void step_dose(struct text_line *line, const struct risk_case *it, bool high)
{
    const struct strategy_adjust *adjust = &it->strategy->adjust;
    if (it->mended) {
        step_visits(line, it, "since visits mend it");
    } else {
        text_line_add(line, "dose %s to a %s pH than %.3g.", adjust->with->name,
                      high ? "lower" : "higher", adjust->to_ph);
    }
}

/* Whether the strategy's acid (turn < 0) or base (turn > 0) is poured: its water alone
 * asks for it. */
static bool step_poured(const struct risk_case *it, int turn)
{
    const struct strategy_adjust *adjust = &it->strategy->adjust;
    if (adjust->with == NULL || adjust->with->alkalinity * turn <= 0) {
        return false;
    }
    const struct room *room = &it->scenario->room;
    const struct pen pen = pen_at(room->water_temperature_c, room->root_co2_ppm);
    return (pen_read(&pen, &it->strategy->water).ph - adjust->above_ph) * turn < 0;
}

/* One side of pH, nothing being poured that moves it there. Closer visits are no cure,
 * even where a visit mends it: they pour the same feed. */
static void step_ph_side(struct text_line *line, const struct risk_case *it, bool high)
{
    const struct salt *with = it->strategy->adjust.with;
    if (with != NULL && (high ? with->alkalinity < 0 : with->alkalinity > 0)) {
        step_dose(line, it, high);
    } else if (high) {
        text_line_add(line, "add acid at visits (adjust in the scenario), in small doses "
                            "and with eyes and hands covered.");
    } else {
        text_line_add(line, "%stop up with a water that holds some alkalinity.",
                      it->strategy->stock.mmol_l[ION_NH4] > 0
                          ? "use a recipe with less ammonium, or "
                          : "");
    }
}

/* A dose is taken back where it is what moves pH there; where the other limit is passed
 * in half as many lives or more, neither side is pushed. */
static void step_ph(struct text_line *line, const struct risk_case *it)
{
    const bool high = it->trouble == OUTCOME_PH_HIGH;
    const double other = it->row->chance[high ? OUTCOME_PH_LOW : OUTCOME_PH_HIGH].share;
    const struct strategy_adjust *adjust = &it->strategy->adjust;
    if (step_poured(it, high ? 1 : -1)) {
        text_line_add(line, "dose %s to a %s pH than %.3g.", adjust->with->name,
                      high ? "lower" : "higher", adjust->to_ph);
    } else if (other >= 0.5 * it->row->chance[it->trouble].share &&
               adjust->with == NULL) {
        if (step_fills(it, "water")) {
            text_line_add(line, "pour stock too, not water alone: nothing buffers it.");
        } else {
            step_visits(line, it, "so that it swings less to either side");
        }
    } else {
        step_ph_side(line, it, high);
    }
}

void risk_step(struct text_line *line, const struct risk_case *it)
{
    switch (it->trouble) {
    case OUTCOME_EC_HIGH:
        step_ec_high(line, it);
        break;
    case OUTCOME_SODIUM_HIGH:
    case OUTCOME_ION_HIGH:
        step_ion_high(line, it);
        break;
    case OUTCOME_EC_LOW:
        step_feed(line, it);
        break;
    case OUTCOME_NUTRIENT_LOW:
        step_nutrient(line, it);
        break;
    case OUTCOME_PH_HIGH:
    case OUTCOME_PH_LOW:
        step_ph(line, it);
        break;
    default:
        step_roots(line, it);
        break;
    }
}
