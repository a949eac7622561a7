/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/text.h"
#include "pailcast/report/risk.h"

void risk_csv_write(FILE *out, const struct risk_sum *sum)
{
    fputs("strategy,day,quiet", out);
    for (int c = 0; c < OUTCOME_CURVES; c++) {
        const char *key = outcome_curve_keys[c];
        fprintf(out, ",%s_p10,%s_p50,%s_p90", key, key, key);
    }
    fputc('\n', out);
    for (size_t k = 0; k < sum->row_count; k++) {
        const struct risk_row *row = &sum->rows[k];
        for (size_t i = 0; i < sum->risk->grid_count; i++) {
            text_csv(out, row->strategy->name);
            fprintf(out, ",%.9g,%.6g", (double)i * sum->risk->grid_step_d, row->quiet[i]);
            for (int c = 0; c < OUTCOME_CURVES; c++) {
                const struct risk_spread *band = &row->band[c][i];
                fprintf(out, ",%.6g,%.6g,%.6g", band->p10, band->p50, band->p90);
            }
            fputc('\n', out);
        }
    }
}
