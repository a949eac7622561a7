/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "amount.h"
#include "beyond_words.h"
#include "pailcast/base/text.h"
#include "pailcast/report/mix.h"

enum {
    MIX_LABEL_WIDTH = 24
};

/* Misses below this share of what was wanted are none. */
static const double mix_met_share = 0.01, mix_met_meq_l = 0.01;

/* No "-0.00". */
static double mix_plain(double value, double least)
{
    return fabs(value) < least ? 0 : value;
}

static void mix_amount_line(FILE *out, const char *what, double holds, double wanted)
{
    fprintf(out, "  %-22s %9.3f", what, mix_plain(holds, 5e-4));
    if (!isnan(wanted)) {
        fprintf(out, " %8.3f", wanted);
    }
    fputc('\n', out);
}

static void mix_ions(FILE *out, const struct mix_told *told)
{
    const struct mix *mix = told->mix;
    const bool wants = told->solution != NULL;
    fprintf(out, "  %-22s %9s%s\n", "mmol/L", "holds", wants ? "   wanted" : "");
    for (int i = 0; i < ION_COUNT; i++) {
        char what[40];
        (void)snprintf(what, sizeof what, "%-7s%s", ion_table[i].symbol,
                       ion_table[i].name);
        mix_amount_line(out, what, mix->liquid.mmol_l[i],
                        wants ? told->wanted->mmol_l[i] : NAN);
    }
    mix_amount_line(out, "alkalinity, meq/L", mix->liquid.alkalinity_meq_l,
                    wants ? told->wanted->alkalinity_meq_l : NAN);
}

static void mix_scale(FILE *out, const struct mix_told *told)
{
    const bool fill = !isnan(told->litres);
    for (size_t i = 0; i < told->weighed->count; i++) {
        const struct recipe_part *part = &told->weighed->parts[i];
        fprintf(out, "  %8.4f g/L", part->g_l);
        if (fill) {
            fprintf(out, " %10s", amount_mass(part->g_l * told->litres).text);
        }
        const struct salt *salt = salt_by_formula(part->name);
        fprintf(out, "  %s%s\n", part->name,
                salt != NULL && salt->alkalinity < 0 ? ", the pure acid" : "");
    }
    if (!isnan(told->cost)) {
        fprintf(out, "  %s of it costs %.*f",
                amount_volume(&told->display, fill ? told->litres : 1).text,
                told->cost < 1 ? 4 : 2, told->cost);
        for (size_t i = 0; i < told->unpriced->count; i++) {
            fprintf(out, "%s%s", i == 0 ? ", without the price of " : ", ",
                    told->unpriced->parts[i].name);
        }
        fputs(".\n", out);
    }
}

static bool mix_is_met(double missed, double wanted, double least)
{
    return isnan(wanted) || fabs(missed) <= mix_met_share * fabs(wanted) + least;
}

static void mix_misses(FILE *out, const struct mix_told *told)
{
    const struct mix_solution *solution = told->solution;
    bool met = true;
    for (int i = 0; i < ION_COUNT; i++) {
        const double missed = solution->missed_mmol_l[i];
        if (mix_is_met(missed, told->wanted->mmol_l[i], 1e-9)) {
            continue;
        }
        fprintf(out,
                "  %s is %s by %.3g mmol/L: these salts and this water cannot meet it.\n",
                ion_table[i].name, missed > 0 ? "over" : "short", fabs(missed));
        met = false;
    }
    if (!mix_is_met(solution->missed_meq_l, told->wanted->alkalinity_meq_l,
                    mix_met_meq_l)) {
        fprintf(out,
                "  Alkalinity is %s by %.3g meq/L: these salts and this water cannot "
                "meet it.\n",
                solution->missed_meq_l > 0 ? "over" : "short",
                fabs(solution->missed_meq_l));
        met = false;
    }
    if (met) {
        fputs("  All that is wanted is met.\n", out);
    }
}

static void mix_beyond(FILE *out, double ec_ms_cm, const struct scenario_display *display)
{
    char beyond[BEYOND_WORDS_SIZE];
    if (beyond_words_ec(beyond, ec_ms_cm, display)) {
        fprintf(out, "  %s\n", beyond);
    }
}

static void mix_remarks(FILE *out, const struct mix *mix)
{
    if (fabs(mix->charge_error_percent) > mix_fair_percent) {
        fprintf(
            out,
            "  The charges do not balance by %.1f %%: something is left out, and the pH "
            "is not to be trusted.\n",
            mix->charge_error_percent);
    }
    for (int k = 0; k < SOLID_COUNT; k++) {
        if (mix->saturation[k] > 0) {
            fprintf(out, "  %s may fall out (saturation index %.2f).\n",
                    saturation_solid_name[k], mix->saturation[k]);
        }
    }
    for (int i = 0; i < ION_COUNT; i++) {
        if (mix->scarce[i]) {
            fprintf(
                out,
                "  Too little %s for what else it holds: a plant will run short of it.\n",
                ion_table[i].name);
        }
    }
}

void mix_text(FILE *out, const struct mix_told *told)
{
    const struct mix *mix = told->mix;
    fprintf(out,
            "EC %.3f mS/cm at 25 degC, pH %.2f, %.3f g/L of dissolved salt, charge error "
            "%.2f %%\n",
            mix->reading.ec_ms_cm, mix->reading.ph, mix->salt_g_l,
            mix_plain(mix->charge_error_percent, 5e-3));
    mix_ions(out, told);
    if (told->weighed != NULL && told->weighed->count > 0) {
        mix_scale(out, told);
    }
    if (told->solution != NULL) {
        mix_misses(out, told);
    }
    mix_beyond(out, mix->reading.ec_ms_cm, &told->display);
    mix_remarks(out, mix);
}

void mix_text_rows(FILE *out, const struct analyses *analyses, const struct mix mixes[])
{
    fprintf(out, "%*s %9s %9s %6s %9s\n", MIX_LABEL_WIDTH, "", "EC mS/cm", "measured",
            "pH", "charge %");
    static const struct scenario_display display = {0};
    double strongest = 0;
    for (size_t i = 0; i < analyses->count; i++) {
        const struct analysis *row = &analyses->rows[i];
        text_column(out, row->label, MIX_LABEL_WIDTH);
        if (!row->usable) {
            fprintf(out, " %9s\n", "left out");
            continue;
        }
        strongest = fmax(strongest, mixes[i].reading.ec_ms_cm);
        fprintf(out, " %9.3f ", mixes[i].reading.ec_ms_cm);
        if (isnan(row->measured_ec_ms_cm)) {
            fprintf(out, "%9s", "-");
        } else {
            fprintf(out, "%9.3f", row->measured_ec_ms_cm);
        }
        fprintf(
            out, " %6.2f %9.1f%s\n", mixes[i].reading.ph, mixes[i].charge_error_percent,
            fabs(mixes[i].charge_error_percent) > mix_fair_percent ? "  does not balance"
                                                                   : "");
    }
    mix_beyond(out, strongest, &display);
}
