/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How full a bucket was, and how long its air lasts, in words. */
#include <math.h>

#include "amount.h"
#include "beyond_words.h"
#include "pailcast/report/pour.h"

void pour_text_past(FILE *out, const struct pour_past *past)
{
    const struct pour_guess *guess = &past->guess;
    const struct scenario_display *display = &past->display;
    fprintf(out, "%s before and %s after filling up with water of %s:\n",
            display_ec_text(display, past->before_ms_cm).text,
            display_ec_text(display, past->after_ms_cm).text,
            display_ec_text(display, past->water_ms_cm).text);
    fprintf(out, "the bucket was %.2f full", guess->filled);
    if (!isnan(past->full_l)) {
        fprintf(out, ", %s,", amount_volume(display, guess->filled * past->full_l).text);
    }
    fprintf(out, " and held %.2f of the salt of a full bucket at %s.\n", guess->salt_left,
            display_ec_text(display, past->aim_ms_cm).text);
    if (past->pen_error_ms_cm > 0) {
        fprintf(out, "A pen right to %s: %.2f to %.2f full, %.2f to %.2f of the salt.\n",
                display_ec_text(display, past->pen_error_ms_cm).text, guess->filled_low,
                guess->filled_high, guess->salt_left_low, guess->salt_left_high);
    }
    fprintf(out,
            "That takes EC as proportional to salt. It rises a little slower: by the "
            "ions of the feed it was %.2f full with %.2f of the salt.\n",
            guess->filled_by_curve, guess->salt_left_by_curve);
    char beyond[BEYOND_WORDS_SIZE];
    if (beyond_words_ec(beyond, past->before_ms_cm, display)) {
        fprintf(out, "%s\n", beyond);
    }
}

/* "3.9 h", "25 min", "more than 3 days". */
static const char *past_hours(char to[32], double hours)
{
    const double many_h = 72;
    if (hours > many_h) {
        (void)snprintf(to, 32, "more than 3 days");
    } else if (hours < 1) {
        (void)snprintf(to, 32, "%.0f min", hours * 60);
    } else {
        (void)snprintf(to, 32, "%.1f h", hours);
    }
    return to;
}

void pour_text_outage(FILE *out, const struct pour_outage *outage)
{
    const struct scenario_display *display = &outage->display;
    char hours[32];
    char empty[32];
    if (outage->count == 0) {
        fputs("The plant has no known roots; give their dry mass with --roots.\n", out);
        return;
    }
    fprintf(out,
            "At %.0f %s water holds %.1f mg/L of oxygen. When the air pump stops, it "
            "lasts until %g mg/L, where roots begin to suffer:\n",
            display_temperature(display, outage->temperature_c),
            display_temperature_unit(display), outage->lines[0].outage.saturation_mg_l,
            outage_floor_mg_l);
    for (size_t i = 0; i < outage->count; i++) {
        const struct pour_outage_line *line = &outage->lines[i];
        fprintf(out, "  %s in %s, %.3g g of dry roots: %s (%s until none is left)\n",
                line->what, amount_volume(display, line->volume_l).text,
                line->root_mass_g, past_hours(hours, line->outage.reserve_h),
                past_hours(empty, line->outage.empty_h));
    }
    fputs("What comes in through the surface is left out, so this is the safe side. "
          "Until the pump runs again: lift and pour back a jugful every few minutes, "
          "or lower the level so that upper roots hang in air.\n",
          out);
}
