/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fit_plot.h"
#include "pailcast/base/file.h"
#include "pailcast/report/fit.h"

static enum status fit_folder_settings(const char *folder, const struct fit *fit,
                                       struct error *error)
{
    struct file file = {0};
    enum status status = file_open(&file, folder, "fitted.cfg", error);
    if (status == STATUS_OK) {
        fit_settings_write(file.stream, fit);
        status = file_close(&file, error);
    }
    return status;
}

static enum status fit_folder_json(const char *folder, const struct fit *fit,
                                   struct error *error)
{
    struct file file = {0};
    enum status status = file_open(&file, folder, "fit.json", error);
    if (status == STATUS_OK) {
        status = file_end(&file, fit_json_write(file.stream, fit, error), error);
    }
    return status;
}

static enum status fit_folder_fill(const char *folder, const struct fit *fit,
                                   struct error *error)
{
    enum status status = fit_folder_settings(folder, fit, error);
    if (status == STATUS_OK) {
        status = fit_folder_json(folder, fit, error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    const enum status plots = fit_plot_draw(folder, fit, error);
    const enum status page = fit_page_write(folder, fit, plots == STATUS_OK, error);
    return page != STATUS_OK ? page : plots;
}

enum status fit_folder_write(const char *folder, const struct fit *fit,
                             struct error *error)
{
    struct file_claim claim = {0};
    enum status status = file_claim(&claim, folder, error);
    if (status == STATUS_OK) {
        status = fit_folder_fill(folder, fit, error);
    }
    file_release(&claim);
    return status;
}
