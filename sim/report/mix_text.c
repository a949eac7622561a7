/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/report/mix.h"

/* A balance worse than this deserves a word, percent (laboratories accept 3-5: common
 * practice). */
static const double mix_fair_percent = 5;

/* Misses below this share of what was wanted are none. */
static const double mix_met_share = 0.01;

static void mix_ions(FILE *out, const struct mix_told *told)
{
    const struct mix *mix = told->mix;
    fprintf(out, "  %-22s %9s%s\n", "mmol/L", "holds", told->solution ? "   wanted" : "");
    for (int i = 0; i < ION_COUNT; i++) {
        fprintf(out, "  %-7s%-15s %9.3f", ion_table[i].symbol, ion_table[i].name,
                mix->liquid.mmol_l[i]);
        if (told->solution != NULL && !isnan(told->wanted_mmol_l[i])) {
            fprintf(out, " %8.3f", told->wanted_mmol_l[i]);
        }
        fputc('\n', out);
    }
    fprintf(out, "  %-22s %9.3f\n", "alkalinity, meq/L", mix->liquid.alkalinity_meq_l);
}

static void mix_scale(FILE *out, const struct mix_told *told)
{
    for (size_t i = 0; i < told->weighed->count; i++) {
        fprintf(out, "  %8.4f g/L  %s\n", told->weighed->parts[i].g_l,
                told->weighed->parts[i].name);
    }
    if (!isnan(told->cost)) {
        fprintf(out, "  %.4g L of it cost %.2f.\n", told->litres, told->cost);
    }
}

static void mix_misses(FILE *out, const struct mix_told *told)
{
    bool met = true;
    for (int i = 0; i < ION_COUNT; i++) {
        const double missed = told->solution->missed_mmol_l[i];
        if (isnan(told->wanted_mmol_l[i]) ||
            fabs(missed) <= mix_met_share * told->wanted_mmol_l[i] + 1e-9) {
            continue;
        }
        fprintf(out,
                "  %s is %s by %.3g mmol/L: these salts and this water cannot meet it.\n",
                ion_table[i].name, missed > 0 ? "over" : "short", fabs(missed));
        met = false;
    }
    if (met) {
        fputs("  Every ion wanted is met.\n", out);
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
            fprintf(out, "  A plant would call it short of %s beside its nitrogen.\n",
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
            mix->charge_error_percent);
    mix_ions(out, told);
    if (told->weighed != NULL && told->weighed->count > 0) {
        mix_scale(out, told);
    }
    if (told->solution != NULL) {
        mix_misses(out, told);
    }
    mix_remarks(out, mix);
}

void mix_text_rows(FILE *out, const struct analyses *analyses, const struct mix mixes[])
{
    fprintf(out, "%-24s %9s %9s %6s %9s\n", "", "EC mS/cm", "measured", "pH", "charge %");
    for (size_t i = 0; i < analyses->count; i++) {
        const struct analysis *row = &analyses->rows[i];
        fprintf(out, "%-24.24s %9.3f ", row->label, mixes[i].reading.ec_ms_cm);
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
}
