/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/why.h"

#include <math.h>

#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"

/* A change that a pen's last digit would not show is not worth a sentence, mS/cm. */
static const double sentence_least_ms_cm = 0.005;

/* "only 87 %" up to here (chosen). */
static const double sentence_only_below = 0.9;

/* Above this it does not read "100 %". */
static const double sentence_more_above = 1.005;

struct sentence {
    struct text_line line; /* the longest has 700 bytes */
    const struct scenario *scenario;
};

static void sentence_drink(struct sentence *sentence, const struct why_interval *interval)
{
    const struct why_tally *tally = &interval->tally;
    const double change = tally->part[WHY_DRINKING] + tally->part[WHY_EATING];
    const double share = interval->eaten_share;
    text_line_add(&sentence->line, "From day %.6g%s to day %.6g%s ", interval->from_d,
                  display_date_text(sentence->scenario, interval->from_d).text,
                  interval->to_d,
                  display_date_text(sentence->scenario, interval->to_d).text);
    if (!(tally->drunk_l > 0)) {
        text_line_add(&sentence->line, "nothing was drunk.");
        return;
    }
    text_line_add(&sentence->line, "the plant drank %s",
                  display_volume_text(&sentence->scenario->display, tally->drunk_l).text);
    if (share > sentence_more_above) {
        text_line_add(&sentence->line, " and ate more salt than was in them (%.0f %%)",
                      100 * share);
    } else if (isfinite(share)) {
        text_line_add(&sentence->line, " and ate %s%.0f %% of the salt in them",
                      share < sentence_only_below ? "only " : "", 100 * share);
    }
    if (fabs(change) < sentence_least_ms_cm) {
        text_line_add(&sentence->line, ", so EC stayed where it was.");
        return;
    }
    /* Salt by mass and salt by conductivity may differ a little. */
    const struct display_text by =
        display_ec_text(&sentence->scenario->display, fabs(change));
    if (fabs(change) > fmax(interval->ec_from_ms_cm, interval->ec_to_ms_cm)) {
        text_line_add(&sentence->line, "; that alone would have %s EC by %s.",
                      change > 0 ? "raised" : "lowered", by.text);
        return;
    }
    text_line_add(&sentence->line, "%s EC %s by %s.",
                  (change > 0) == (share < 1) ? ", so" : "; yet",
                  change > 0 ? "rose" : "fell", by.text);
}

/* "<what> took off 0.80 mS/cm." */
static void sentence_part(struct sentence *sentence, const char *what, double change)
{
    if (fabs(change) >= sentence_least_ms_cm) {
        text_line_add(&sentence->line, " %s %s %s.", what,
                      change > 0 ? "added" : "took off",
                      display_ec_text(&sentence->scenario->display, fabs(change)).text);
    }
}

static void sentence_litres(struct sentence *sentence, const char *what, double litres,
                            double change)
{
    char words[64];
    (void)snprintf(words, sizeof words, what,
                   display_volume_text(&sentence->scenario->display, litres).text);
    sentence_part(sentence, words, change);
}

void why_sentence(char to[WHY_SENTENCE_SIZE], const struct why_interval *interval,
                  const struct scenario *scenario)
{
    struct sentence sentence = {text_line_in(to, WHY_SENTENCE_SIZE), scenario};
    const struct why_tally *tally = &interval->tally;
    const struct scenario_display *display = &scenario->display;
    char renewals[48];
    sentence_drink(&sentence, interval);
    sentence_litres(&sentence, "Evaporation of %s", tally->evaporated_l,
                    tally->part[WHY_EVAPORATION]);
    sentence_litres(&sentence, "Pouring %s of water", tally->water_l,
                    tally->part[WHY_WATER]);
    sentence_litres(&sentence, "Pouring %s of stock", tally->stock_l,
                    tally->part[WHY_STOCK]);
    (void)snprintf(renewals, sizeof renewals, "%d renewal%s", tally->renewals,
                   tally->renewals == 1 ? "" : "s");
    sentence_part(&sentence, renewals, tally->part[WHY_RENEWAL]);
    sentence_part(&sentence, "Changed acidity", tally->part[WHY_OTHER]);
    text_line_add(&sentence.line, " In all, EC went from %.*f to %s.",
                  display_ec_digits(display),
                  display_ec(display, interval->ec_from_ms_cm),
                  display_ec_text(display, interval->ec_to_ms_cm).text);
}
