/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes read as laboratory analyses; each row that can be used is then weighed and
 * told, as `mix --analyses` does. */
#include "target.h"

#include <math.h>

#include "pailcast/report/mix.h"
#include "pailcast/scenario/analyses.h"
#include "support/scratch.h"

enum {
    ANALYSES_WEIGHED_MAX = 50 /* a row like the others teaches nothing new */
};

static void check_row(const struct analysis *row)
{
    const double most = 1e4;
    for (int i = 0; i < ION_COUNT; i++) {
        target_need(row->liquid.mmol_l[i] >= 0 && row->liquid.mmol_l[i] <= most,
                    "an amount in range");
    }
    target_need(fabs(row->liquid.alkalinity_meq_l) <= most, "an alkalinity in range");
    target_need(isnan(row->ph) || fabs(row->ph) <= most, "a pH");
    target_need(row->label[0] != '\0', "a row has a label");
}

static void check_mix(const struct mix *mix)
{
    target_need(isfinite(mix->reading.ec_ms_cm) && mix->reading.ec_ms_cm >= 0, "an EC");
    target_need(isfinite(mix->reading.ph), "a pH is read");
    target_need(isfinite(mix->salt_g_l) && mix->salt_g_l >= 0, "a mass of salt");
    target_need(isfinite(mix->charge_error_percent), "a charge error");
    for (int i = 0; i < SOLID_COUNT; i++) {
        target_need(!isnan(mix->saturation[i]) && mix->saturation[i] < INFINITY,
                    "a saturation");
    }
}

static void check_told(struct analyses *analyses)
{
    static const struct liquid feed = {.mmol_l = {[ION_NO3] = 12, [ION_K] = 6}};
    const struct pen pen = pen_at(25, 420);
    static struct mix mixes[ANALYSES_WEIGHED_MAX];
    struct scratch_text text = {0};
    if (analyses->count > ANALYSES_WEIGHED_MAX) {
        analyses->count = ANALYSES_WEIGHED_MAX;
    }
    for (size_t i = 0; i < analyses->count; i++) {
        if (analyses->rows[i].usable) {
            check_row(&analyses->rows[i]);
            mixes[i] = mix_of(&analyses->rows[i].liquid, &pen, &feed);
            check_mix(&mixes[i]);
        }
    }
    scratch_open(&text);
    mix_text_rows(text.out, analyses, mixes);
    target_need(mix_json_rows(text.out, analyses, mixes, NULL) == STATUS_OK, "JSON");
    free(scratch_close(&text));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char path[TARGET_PATH_SIZE];
    struct analyses analyses = {0};
    struct error error = {0};
    target_file(path, data, size, ".csv");
    const enum status status = analyses_read(&analyses, path, &error);
    target_need(status == STATUS_OK || status == STATUS_INPUT, "read or bad input");
    target_need(status == STATUS_OK || error.count > 0, "refused with a sentence");
    if (status == STATUS_OK) {
        target_need(analyses.usable_count > 0, "a row that can be used");
        check_told(&analyses);
    }
    analyses_free(&analyses);
    (void)remove(path);
    return 0;
}
