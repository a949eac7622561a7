/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdarg.h>

#include "pailcast/report/tune.h"
#include "pailcast/scenario/display.h"

/* Text that is added to. */
struct tune_words {
    char *to;
    size_t used;
};

static void tune_say(struct tune_words *words, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void tune_say(struct tune_words *words, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const int length = vsnprintf(words->to + words->used,
                                 TUNE_SENTENCE_SIZE - words->used, format, arguments);
    va_end(arguments);
    words->used += length > 0 ? (size_t)length : 0;
    words->used = words->used < TUNE_SENTENCE_SIZE ? words->used : TUNE_SENTENCE_SIZE - 1;
}

/* "visit every 3 days, aim at 1.45 mS/cm, never renew". */
static void tune_say_settings(struct tune_words *words, const struct tune *tune,
                              const struct tune_candidate *candidate)
{
    const struct scenario_display *display = &tune->scenario->display;
    const double *value = candidate->value;
    const bool calendar = isfinite(value[TUNE_RENEW_EVERY]);
    const bool above = isfinite(value[TUNE_RENEW_ABOVE]);
    tune_say(words, "visit every %.3g d", value[TUNE_VISIT_EVERY]);
    if (isfinite(value[TUNE_AIM_EC])) {
        tune_say(words, ", aim at %s", display_ec_text(display, value[TUNE_AIM_EC]).text);
    }
    if (isfinite(value[TUNE_STOCK_SHARE])) {
        tune_say(words, ", pour %.0f %% stock", 100 * value[TUNE_STOCK_SHARE]);
    }
    if (calendar || above) {
        tune_say(words, ", renew %.0f %%", 100 * value[TUNE_RENEW_SHARE]);
    }
    if (calendar) {
        tune_say(words, " every %.0f d", value[TUNE_RENEW_EVERY]);
    }
    if (above) {
        tune_say(words, "%s when EC is above %s", calendar ? " and" : "",
                 display_ec_text(display, value[TUNE_RENEW_ABOVE]).text);
    }
    if (!calendar && !above) {
        tune_say(words, ", never renew");
    }
}

static void tune_say_result(struct tune_words *words, const struct tune *tune,
                            const struct tune_candidate *candidate)
{
    const struct scenario_display *display = &tune->scenario->display;
    tune_say(words, "%s poured, ",
             display_volume_text(display, candidate->aim[TUNE_WATER]).text);
    tune_say(words,
             "%.0f g of salt, %s dumped, %.0f visits; a limit passed in %.0f %% "
             "of lives, growth %.0f %%",
             candidate->aim[TUNE_SALT],
             display_volume_text(display, candidate->aim[TUNE_DUMPED]).text,
             candidate->aim[TUNE_VISITS], 100 * candidate->trouble,
             100 * candidate->growth);
}

/* No setting keeps the limits: by how much the nearest misses each. */
static void tune_say_impossible(struct tune_words *words, const struct tune *tune)
{
    const struct tune_candidate *nearest = &tune->candidates[tune->best];
    const double trouble = nearest->trouble - tune->plan->most_trouble;
    const double growth = tune->plan->least_growth - nearest->growth;
    tune_say(words, "No setting tried keeps the limits. The nearest is: ");
    tune_say_settings(words, tune, nearest);
    tune_say(words, ".");
    if (trouble > 0) {
        tune_say(words,
                 " A limit is then passed in %.0f %% of lives, %.1f points more than the "
                 "%.3g %% allowed.",
                 100 * nearest->trouble, 100 * trouble, 100 * tune->plan->most_trouble);
    }
    if (growth > 0) {
        tune_say(words,
                 " Growth is then %.1f %%, %.1f points less than the %.3g %% asked.",
                 100 * nearest->growth, 100 * growth, 100 * tune->plan->least_growth);
    }
}

void tune_sentence(char to[TUNE_SENTENCE_SIZE], const struct tune *tune)
{
    struct tune_words words = {to, 0};
    to[0] = '\0';
    if (!tune->possible) {
        tune_say_impossible(&words, tune);
        return;
    }
    if (tune->best == 0) {
        tune_say(&words, "Stay as you are: ");
    } else {
        tune_say(&words, "Recommended: ");
    }
    tune_say_settings(&words, tune, &tune->candidates[tune->best]);
    tune_say(&words, ". That is ");
    tune_say_result(&words, tune, &tune->candidates[tune->best]);
    tune_say(&words, " (in fresh worlds %.0f %% and %.0f %%).",
             100 * tune->best_again.trouble, 100 * tune->best_again.growth);
    if (tune->best != 0) {
        tune_say(&words, " Now it is ");
        tune_say_result(&words, tune, &tune->candidates[0]);
        tune_say(&words, ".");
    }
}
