/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes read as a logbook; what is accepted is in order and in range, and comes back
 * the same when written and read again. */
#include "target.h"

#include <math.h>

#include "pailcast/scenario/logbook.h"
#include "support/scratch.h"

static void check_reading(double value, double most)
{
    target_need(isnan(value) || (value >= 0 && value <= most), "a reading in range");
}

static void check_rows(const struct logbook *logbook)
{
    double before_d = -1;
    target_need(logbook->count > 0 && logbook->count <= LOGBOOK_ROWS_MAX, "rows");
    for (size_t i = 0; i < logbook->count; i++) {
        const struct logbook_row *row = &logbook->rows[i];
        target_need(row->day_d > before_d && row->day_d <= 3653, "days in order");
        before_d = row->day_d;
        check_reading(row->ec_ms_cm, 20);
        check_reading(row->volume_l, 2000);
        check_reading(row->level_cm, 400);
        check_reading(row->ph, 14);
        target_need(row->water_l >= 0 && row->stock_l >= 0 && row->drained_l >= 0 &&
                        row->water_l + row->stock_l + row->drained_l <= 6000,
                    "what was done is an amount");
    }
}

static void check_return(const struct logbook *logbook)
{
    char path[TARGET_PATH_SIZE];
    struct logbook again = {0};
    struct error error = {0};
    struct scratch_text text = {0};
    scratch_open(&text);
    logbook_write(text.out, logbook);
    char *csv = scratch_close(&text);
    target_file(path, (const uint8_t *)csv, text.size, ".csv");
    free(csv);
    /* Nine digits are kept: days or litres that differ by less become one. */
    if (logbook_read(&again, path, "", &error) == STATUS_OK) {
        target_need(again.count == logbook->count, "as many rows come back");
        check_rows(&again);
    }
    logbook_free(&again);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char path[TARGET_PATH_SIZE];
    struct logbook logbook = {0};
    struct error error = {0};
    target_file(path, data, size, ".csv");
    const enum status status = logbook_read(&logbook, path, "2026-09-01", &error);
    if (status == STATUS_OK) {
        target_need(error.count == 0, "what is accepted is not complained of");
        check_rows(&logbook);
        check_return(&logbook);
    } else {
        target_need(status == STATUS_INPUT, "what is no logbook is bad input");
        target_need(error.count > 0 && logbook.rows == NULL, "refused with a sentence");
    }
    logbook_free(&logbook);
    (void)remove(path);
    return 0;
}
