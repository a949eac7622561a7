/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/folder.h"

#include "pailcast/base/file.h"
#include "pailcast/report/csv.h"
#include "pailcast/report/json.h"
#include "pailcast/report/page.h"
#include "pailcast/report/plot.h"
#include "pailcast/report/visits.h"

static enum status
folder_csv(const char *folder, const char *name,
           void (*write)(FILE *out, const struct compare *compare, size_t row),
           const struct compare *compare, size_t row, struct error *error)
{
    struct file file;
    enum status status = file_open(&file, folder, name, error);
    if (status != STATUS_OK) {
        return status;
    }
    write(file.stream, compare, row);
    return file_close(&file, error);
}

/* The samples of a strategy's life, and its visits. */
static enum status folder_strategy(const char *folder, const struct compare *compare,
                                   size_t row, struct error *error)
{
    char slug[SLUG_SIZE];
    char name[VISITS_NAME_SIZE];
    slug_of_row(slug, compare, row);
    (void)snprintf(name, sizeof name, "%s.csv", slug);
    const enum status status = folder_csv(folder, name, csv_write, compare, row, error);
    visits_csv_name(name, compare, row);
    return status != STATUS_OK
               ? status
               : folder_csv(folder, name, visits_csv_write, compare, row, error);
}

static enum status folder_summary(const char *folder, const struct compare *compare,
                                  struct error *error)
{
    struct file file;
    enum status status = file_open(&file, folder, "summary.json", error);
    if (status != STATUS_OK) {
        return status;
    }
    return file_end(&file, json_write_summary(file.stream, compare, error), error);
}

static enum status folder_fill(const char *folder, const struct compare *compare,
                               struct error *error)
{
    enum status status = STATUS_OK;
    for (size_t i = 0; i < compare->row_count && status == STATUS_OK; i++) {
        status = folder_strategy(folder, compare, i, error);
    }
    if (status == STATUS_OK) {
        status = folder_summary(folder, compare, error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    const enum status plots = plot_draw(folder, compare, error);
    const enum status page = page_write(folder, compare, error);
    return page != STATUS_OK ? page : plots;
}

enum status folder_write(const char *folder, const struct compare *compare,
                         struct error *error)
{
    struct file_claim claim = {0};
    enum status status = file_claim(&claim, folder, error);
    if (status == STATUS_OK) {
        status = folder_fill(folder, compare, error);
    }
    file_release(&claim);
    return status;
}
