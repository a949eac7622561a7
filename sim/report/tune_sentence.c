/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/base/text.h"
#include "pailcast/report/tune.h"
#include "pailcast/scenario/display.h"

/* "visit every 3 days, aim at 1.45 mS/cm, never renew". */
static void tune_say_settings(struct text_line *line, const struct tune *tune,
                              const struct tune_candidate *candidate)
{
    const struct scenario_display *display = &tune->scenario->display;
    const double *value = candidate->value;
    const bool calendar = isfinite(value[TUNE_RENEW_EVERY]);
    const bool above = isfinite(value[TUNE_RENEW_ABOVE]);
    text_line_add(line, "visit every %.3g d", value[TUNE_VISIT_EVERY]);
    if (isfinite(value[TUNE_AIM_EC])) {
        text_line_add(line, ", aim at %s",
                      display_ec_text(display, value[TUNE_AIM_EC]).text);
    }
    if (isfinite(value[TUNE_STOCK_SHARE])) {
        text_line_add(line, ", pour %.0f %% stock", 100 * value[TUNE_STOCK_SHARE]);
    }
    if (calendar || above) {
        text_line_add(line, ", renew %.0f %%", 100 * value[TUNE_RENEW_SHARE]);
    }
    if (calendar) {
        text_line_add(line, " every %.0f d", value[TUNE_RENEW_EVERY]);
    }
    if (above) {
        text_line_add(line, "%s when EC is above %s", calendar ? " and" : "",
                      display_ec_text(display, value[TUNE_RENEW_ABOVE]).text);
    }
    if (!calendar && !above) {
        text_line_add(line, ", never renew");
    }
}

static void tune_say_result(struct text_line *line, const struct tune *tune,
                            const struct tune_candidate *candidate)
{
    const struct scenario_display *display = &tune->scenario->display;
    text_line_add(line, "%s poured, ",
                  display_volume_text(display, candidate->aim[TUNE_WATER]).text);
    text_line_add(line,
                  "%.0f g of salt, %s dumped, %.0f %s; a limit passed in %.0f %% of "
                  "lives, growth %.0f %%",
                  candidate->aim[TUNE_SALT],
                  display_volume_text(display, candidate->aim[TUNE_DUMPED]).text,
                  candidate->aim[TUNE_VISITS],
                  text_plural(rint(candidate->aim[TUNE_VISITS]), "visit", "visits"),
                  100 * candidate->trouble, 100 * candidate->growth);
}

/* Whether acid or base at visits is what to do against a trouble, and of which kind: the
 * sign of the alkalinity it has; 0 for other troubles. */
static double tune_dose_against(enum outcome_code code)
{
    return code == OUTCOME_PH_HIGH ? -1 : code == OUTCOME_PH_LOW ? 1 : 0;
}

/* What is meant for pH: a visit or a renewal may move it, to either side. */
static void tune_say_ph(struct text_line *line, const struct tune *tune, double wanted)
{
    const struct salt *with = tune->scenario->strategies[0].adjust.with;
    text_line_add(line, " tune searches no setting that is meant for pH: ");
    if (with == NULL) {
        text_line_add(line,
                      "%s at visits is (adjust in the scenario), in small doses and with "
                      "eyes and hands covered.",
                      wanted < 0 ? "acid" : "a base");
    } else {
        text_line_add(line, "see to to_ph and %s of adjust in the scenario.",
                      with->alkalinity < 0 ? "above_ph" : "below_ph");
    }
}

/* What stands most in the way: the trouble met in most lives, and those met as often to
 * the per cent told. */
static void tune_say_chief(struct text_line *line, const struct tune *tune,
                           const struct tune_candidate *candidate)
{
    double most = 0;
    double wanted = 0;
    int told = 0;
    for (int i = 0; i < OUTCOME_ACTION; i++) {
        most = fmax(most, rint(100 * candidate->met[i]));
    }
    for (int i = 0; i < OUTCOME_ACTION; i++) {
        if (most > 0 && rint(100 * candidate->met[i]) == most) {
            text_line_add(line, "%s%s", told++ > 0 ? ", " : " Most in the way: ",
                          outcome_table[i].words);
            wanted = wanted != 0 ? wanted : tune_dose_against((enum outcome_code)i);
        }
    }
    if (most > 0) {
        text_line_add(line, "%s in %.0f %% of lives.", told > 1 ? ", each" : ",", most);
    }
    if (wanted != 0) {
        tune_say_ph(line, tune, wanted);
    }
}

/* No setting keeps the limits: by how much the nearest misses each. */
static void tune_say_impossible(struct text_line *line, const struct tune *tune)
{
    const struct tune_candidate *nearest = &tune->candidates[tune->best];
    const double trouble = nearest->trouble - tune->plan->most_trouble;
    const double growth = tune->plan->least_growth - nearest->growth;
    text_line_add(line, "No setting tried keeps the limits. The nearest is: ");
    tune_say_settings(line, tune, nearest);
    text_line_add(line, ".");
    if (trouble > 0) {
        text_line_add(
            line,
            " A limit is then passed in %.0f %% of lives, %.1f points more than the "
            "%.3g %% allowed.",
            100 * nearest->trouble, 100 * trouble, 100 * tune->plan->most_trouble);
        tune_say_chief(line, tune, nearest);
    }
    if (growth > 0) {
        text_line_add(
            line, " Growth is then %.1f %%, %.1f points less than the %.3g %% asked.",
            100 * nearest->growth, 100 * growth, 100 * tune->plan->least_growth);
    }
}

void tune_sentence(char to[TUNE_SENTENCE_SIZE], const struct tune *tune)
{
    struct text_line line = text_line_in(to, TUNE_SENTENCE_SIZE);
    if (!tune->possible) {
        tune_say_impossible(&line, tune);
        return;
    }
    if (tune->best == 0) {
        text_line_add(&line, "Stay as you are: ");
    } else {
        text_line_add(&line, "Recommended: ");
    }
    tune_say_settings(&line, tune, &tune->candidates[tune->best]);
    text_line_add(&line, ". That is ");
    tune_say_result(&line, tune, &tune->candidates[tune->best]);
    text_line_add(&line, " (in fresh worlds %.0f %% and %.0f %%).",
                  100 * tune->best_again.trouble, 100 * tune->best_again.growth);
    if (tune->best != 0) {
        text_line_add(&line, " Now it is ");
        tune_say_result(&line, tune, &tune->candidates[0]);
        text_line_add(&line, ".");
    }
}
