/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/file.h"
#include "pailcast/report/risk.h"

static enum status risk_folder_fill(const char *folder, const struct risk_sum *sum,
                                    struct error *error)
{
    struct file file = {0};
    enum status status = file_open(&file, folder, "risk.json", error);
    if (status == STATUS_OK) {
        status = file_end(&file, risk_json_write(file.stream, sum, error), error);
    }
    if (status == STATUS_OK) {
        status = file_open(&file, folder, "risk-bands.csv", error);
    }
    if (status == STATUS_OK) {
        risk_csv_write(file.stream, sum);
        status = file_close(&file, error);
    }
    return status == STATUS_OK ? risk_plot_draw(folder, sum, error) : status;
}

enum status risk_folder_write(const char *folder, const struct risk_sum *sum,
                              struct error *error)
{
    struct file_claim claim = {0};
    enum status status = file_claim(&claim, folder, error);
    if (status == STATUS_OK) {
        status = risk_folder_fill(folder, sum, error);
    }
    file_release(&claim);
    return status;
}
