/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/base/text.h"
#include "pailcast/report/tune.h"
#include "pailcast/scenario/display.h"

enum {
    TUNE_ROWS_MAX = 12
};

/* Whether a share renewed says nothing, since nothing is. */
static bool tune_table_is_idle(const struct tune_candidate *candidate,
                               enum tune_setting setting)
{
    return setting == TUNE_RENEW_SHARE && !candidate->renewed &&
           !isfinite(candidate->value[TUNE_RENEW_EVERY]) &&
           !isfinite(candidate->value[TUNE_RENEW_ABOVE]);
}

static void tune_table_setting(FILE *out, const struct tune *tune,
                               enum tune_setting setting,
                               const struct tune_candidate *candidate)
{
    const struct scenario_display *display = &tune->scenario->display;
    const double value = candidate->value[setting];
    if (tune_table_is_idle(candidate, setting)) {
        fprintf(out, "%9s", "-");
    } else if (!isfinite(value)) {
        fprintf(out, "%9s", "never");
    } else if (setting == TUNE_AIM_EC || setting == TUNE_RENEW_ABOVE) {
        fprintf(out, "%9.4g", display_ec(display, value));
    } else if (setting == TUNE_STOCK_SHARE || setting == TUNE_RENEW_SHARE) {
        fprintf(out, "%8.0f%%", 100 * value);
    } else {
        fprintf(out, "%9.3g", value);
    }
}

static void tune_table_heading(FILE *out, const struct tune *tune)
{
    const char *volume = display_volume_unit(&tune->scenario->display);
    const char *ec = display_ec_unit(&tune->scenario->display);
    static const char *const top[TUNE_SETTINGS] = {"visit", "aim EC",   "stock",
                                                   "renew", "renew at", "renewed"};
    const char *const under[TUNE_SETTINGS] = {"every d", ec, "share",
                                              "every d", ec, "share"};
    fprintf(out, "%11s", "");
    for (size_t i = 0; i < tune->setting_count; i++) {
        fprintf(out, "%9s", top[tune->settings[i]]);
    }
    fprintf(out, "  |%8s%8s%8s%8s%9s%8s\n%11s", "poured", "salt", "dumped", "visits",
            "trouble", "growth", "");
    for (size_t i = 0; i < tune->setting_count; i++) {
        fprintf(out, "%9s", under[tune->settings[i]]);
    }
    fprintf(out, "  |%8s%8s%8s%8s%9s%8s\n", volume, "g", volume, "", "%", "%");
}

static void tune_table_row(FILE *out, const struct tune *tune, const char *name,
                           const struct tune_candidate *candidate)
{
    const struct scenario_display *display = &tune->scenario->display;
    fprintf(out, "%-11s", name);
    for (size_t i = 0; i < tune->setting_count; i++) {
        tune_table_setting(out, tune, tune->settings[i], candidate);
    }
    fprintf(
        out, "  |%8.1f%8.0f%8.1f%8.0f%9.0f%8.0f\n",
        display_volume(display, candidate->aim[TUNE_WATER]), candidate->aim[TUNE_SALT],
        display_volume(display, candidate->aim[TUNE_DUMPED]), candidate->aim[TUNE_VISITS],
        100 * candidate->trouble, 100 * candidate->growth);
}

/* Those of the front that keep the limits, fewest visits first. */
static void tune_table_front(FILE *out, const struct tune *tune)
{
    size_t count = 0;
    double after = -1;
    size_t shown = 0;
    for (size_t i = 0; i < tune->count; i++) {
        count += tune->candidates[i].on_front && tune->candidates[i].keeps ? 1 : 0;
    }
    while (shown < count && shown < TUNE_ROWS_MAX) {
        double next = INFINITY;
        for (size_t i = 0; i < tune->count; i++) {
            const struct tune_candidate *candidate = &tune->candidates[i];
            if (candidate->on_front && candidate->keeps &&
                candidate->aim[TUNE_VISITS] > after) {
                next = fmin(next, candidate->aim[TUNE_VISITS]);
            }
        }
        for (size_t i = 0; i < tune->count && shown < TUNE_ROWS_MAX; i++) {
            const struct tune_candidate *candidate = &tune->candidates[i];
            if (candidate->on_front && candidate->keeps &&
                candidate->aim[TUNE_VISITS] == next) {
                tune_table_row(out, tune, "front", candidate);
                shown++;
            }
        }
        after = next;
    }
    if (count > shown) {
        fprintf(out, "and %zu more on the front, in tune.json\n", count - shown);
    }
}

void tune_table_write(FILE *out, const struct tune *tune)
{
    char sentence[TUNE_SENTENCE_SIZE];
    const size_t worlds = tune->plan->worlds;
    const double days = tune->scenario->duration_d;
    fprintf(out, "%s, \"%s\": %zu %s of doing it, each in the same %zu %s of %g %s\n",
            tune->scenario->title, tune->scenario->strategies[0].name, tune->count,
            text_plural((double)tune->count, "way", "ways"), worlds,
            text_plural((double)worlds, "world", "worlds"), days,
            text_plural(days, "day", "days"));
    fprintf(out,
            "Wanted: a limit passed in at most %.3g %% of lives, growth at least %.3g %% "
            "of the unstressed plant.\n\n",
            100 * tune->plan->most_trouble, 100 * tune->plan->least_growth);
    tune_table_heading(out, tune);
    tune_table_row(out, tune, "now", &tune->candidates[0]);
    tune_table_row(out, tune, tune->possible ? "recommended" : "nearest",
                   &tune->candidates[tune->best]);
    tune_table_front(out, tune);
    tune_sentence(sentence, tune);
    fprintf(out, "\n%s\n", sentence);
}
