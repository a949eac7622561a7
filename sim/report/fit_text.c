/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "fit_sentence.h"
#include "pailcast/report/fit.h"
#include "pailcast/scenario/display.h"
#include "wrap.h"

/* Days of the forecast worth a line on the terminal. */
static const size_t text_every_d = 2;

static void text_unknowns(FILE *out, const struct fit *fit)
{
    fprintf(out, "%-20s %9s   %-19s\n", "unknown", "estimate", "95 % interval");
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        const struct fit_value *value = &fit->value[k];
        fprintf(out, "%-20s %9.3f   %.3f to %.3f%s\n", fit_unknown_name[k],
                value->estimate, value->low, value->high,
                value->identifiable ? "" : "   (not from this logbook)");
    }
}

static void text_forecast(FILE *out, const struct fit *fit)
{
    const struct scenario_display *display = &fit->scenario->display;
    fprintf(out, "\nWhat pen and ruler will show (median, 5 %% to 95 %%), strategy %s:\n",
            fit->strategy->name);
    const int digits = display_ec_digits(display);
    const size_t step = text_every_d * FIT_MOMENTS_A_DAY;
    for (size_t i = step - 1; i < fit->moment_count; i += step) {
        const struct fit_moment *day = &fit->moments[i];
        fprintf(out,
                "  day %6.2f  EC %.*f (%.*f to %.*f) %s, water %.1f (%.1f to %.1f) %s, "
                "sodium %.2f mmol/L\n",
                day->day_d, digits, display_ec(display, day->ec_ms_cm.median), digits,
                display_ec(display, day->ec_ms_cm.low), digits,
                display_ec(display, day->ec_ms_cm.high), display_ec_unit(display),
                display_volume(display, day->volume_l.median),
                display_volume(display, day->volume_l.low),
                display_volume(display, day->volume_l.high), display_volume_unit(display),
                day->ion_mmol_l[ION_NA].median);
    }
}

static void text_sentence(FILE *out, const char *sentence)
{
    if (sentence[0] != '\0') {
        wrap_line(out, sentence, 0);
    }
}

static void text_next(FILE *out, const struct fit *fit)
{
    char sentence[FIT_SENTENCE_SIZE];
    fputc('\n', out);
    fit_sentence_next(sentence, fit);
    text_sentence(out, sentence);
    fit_sentence_limits(sentence, fit);
    text_sentence(out, sentence);
    fit_sentence_safe(sentence, fit);
    text_sentence(out, sentence);
}

/* First visit and outcome of each strategy. */
static void text_choices(FILE *out, const struct fit *fit)
{
    const struct scenario_display *display = &fit->scenario->display;
    if (fit->choice_count == 0) {
        return;
    }
    fprintf(out, "\nHow to go on, and where that leads by day %s:\n",
            display_day_text(fit->scenario, fit->moments[fit->moment_count - 1].day_d, 2)
                .text);
    for (size_t i = 0; i < fit->choice_count; i++) {
        const struct fit_choice *choice = &fit->choices[i];
        char words[FIT_SENTENCE_SIZE];
        char line[2 * FIT_SENTENCE_SIZE];
        fprintf(out, "  %s\n", choice->strategy->name);
        if (!isnan(choice->next_visit.day_d)) {
            fit_sentence_visit(words, &choice->next_visit, display);
            (void)snprintf(
                line, sizeof line, "On day %s: %s.",
                display_day_text(fit->scenario, choice->next_visit.day_d, 2).text, words);
            wrap_line(out, line, 4);
        }
        fit_sentence_risk(words, choice);
        (void)snprintf(line, sizeof line,
                       "By then EC %s (%s to %s), sodium %.1f mmol/L; never less than %s "
                       "in the bucket.",
                       display_ec_text(display, choice->ec_ms_cm.median).text,
                       display_ec_text(display, choice->ec_ms_cm.low).text,
                       display_ec_text(display, choice->ec_ms_cm.high).text,
                       choice->sodium_mmol_l.median,
                       display_volume_text(display, choice->least_l).text);
        wrap_line(out, line, 4);
        (void)snprintf(line, sizeof line, "Goes wrong: %s.", words);
        wrap_line(out, line, 4);
    }
}

void fit_text_write(FILE *out, const struct fit *fit)
{
    text_unknowns(out, fit);
    for (size_t i = 0; i < fit->remark_count; i++) {
        wrap_line(out, fit->remarks[i], 0);
    }
    if (fit->moment_count > 0) {
        text_forecast(out, fit);
        text_next(out, fit);
        text_choices(out, fit);
    }
    for (size_t i = 0; i < fit->surprise_count; i++) {
        const struct fit_surprise *surprise = &fit->surprises[i];
        fprintf(out, "\nUnexpected on day %s: %s.\n",
                display_day_text(fit->scenario, surprise->day_d, 2).text, surprise->what);
        for (size_t c = 0; c < surprise->cause_count; c++) {
            fprintf(out, "  - %s\n", surprise->causes[c]);
        }
    }
}

void fit_settings_write(FILE *out, const struct fit *fit)
{
    fputs("# Learned from a logbook; include it in the scenario it belongs to.\n"
          "learned = {\n",
          out);
    for (int k = 0; k < FIT_UNKNOWNS; k++) {
        const struct fit_value *value = &fit->value[k];
        if (k == FIT_PEN) {
            fprintf(out, "    pen_offset = \"%.6f mS/cm\"; # %.3f to %.3f\n",
                    value->estimate, value->low, value->high);
        } else {
            fprintf(out, "    %s = %.6f; # %.3f to %.3f\n", fit_unknown_name[k],
                    value->estimate, value->low, value->high);
        }
    }
    const size_t entries = fit->logbook->count;
    fprintf(out,
            "    logbook = \"%016llx\"; entries = %zu; # so that none counts twice\n};\n",
            (unsigned long long)logbook_fingerprint(fit->logbook, entries), entries);
}
