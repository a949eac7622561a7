/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "choose.h"
#include "commands.h"
#include "measured.h"
#include "options.h"
#include "pailcast/base/file.h"
#include "pailcast/report/folder.h"
#include "pailcast/report/json.h"
#include "pailcast/report/plot.h"
#include "pailcast/report/table.h"
#include "pailcast/study/keep.h"
#include "stop.h"
#include "whole.h"

const char cmd_run_summary[] = "lives a bucket under every strategy and compares them";

struct run_wish {
    struct choose choose;
    double days; /* 0: as the scenario says */
    double sample_d;
    bool show;
    const char *logbook; /* NULL: none */
    bool noisy;
    uint64_t seed;
};

static bool run_take(void *context, size_t index, const char *argument)
{
    struct run_wish *wish = context;
    const double least_days = 1.0 / 24, most_days = 3653;
    const double least_sample_d = 1.0 / 1440, most_sample_d = 30;
    switch (index) {
    case 0:
        return choose_take(&wish->choose, argument, "run");
    case 1:
        return measured_take(&wish->days, "run", "--days", argument, QUANTITY_NUMBER,
                             NULL, least_days, most_days);
    case 2:
        return measured_take(&wish->sample_d, "run", "--sample", argument, QUANTITY_TIME,
                             NULL, least_sample_d, most_sample_d);
    case 3:
        wish->show = true;
        return true;
    case 4:
        wish->logbook = argument;
        return true;
    default:
        wish->noisy = true;
        return whole_take(&wish->seed, "run", "--noise", argument, 0, UINT32_MAX);
    }
}

static void run_tell(const struct compare *compare, const char *folder,
                     const struct options *options)
{
    if (options->quiet || options->json) {
        return;
    }
    table_write(stdout, compare);
    const struct options_shown shown = options_shown(folder);
    printf("\nWritten to %s; open %s/report.html in a browser.\n", shown.text,
           shown.text);
}

/* The logbook of the first strategy. */
static enum status run_keep(const struct compare *compare, const struct run_wish *wish,
                            struct error *error)
{
    char folder[FILE_PATH_SIZE];
    const char *slash = strrchr(wish->logbook, '/');
    const char *name = slash != NULL ? slash + 1 : wish->logbook;
    const char *above = slash == NULL            ? "."
                        : slash == wish->logbook ? "/"
                                                 : wish->logbook;
    (void)snprintf(folder, sizeof folder, "%.*s",
                   above == wish->logbook ? (int)(slash - above) : 1, above);
    struct logbook logbook;
    struct file file = {0};
    enum status status =
        keep_logbook(&logbook, &compare->rows[0].life, compare->scenario,
                     wish->noisy ? &keep_noise_usual : NULL, wish->seed, error);
    if (status == STATUS_OK) {
        status = file_open(&file, folder, name, error);
    }
    if (status == STATUS_OK) {
        logbook_write(file.stream, &logbook);
        status = file_close(&file, error);
    }
    logbook_free(&logbook);
    return status;
}

/* Lives, writes and tells. Whatever was lived is written, even when a life broke off. */
static enum status run_scenario(const struct scenario *scenario, const char *folder,
                                const struct run_wish *wish,
                                const struct options *options, struct error *error)
{
    struct compare *compare = calloc(1, sizeof *compare);
    if (compare == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the comparison");
    }
    enum status lived = compare_run(compare, scenario, error);
    enum status written = STATUS_OK;
    if (compare->row_count > 0) {
        written = folder_write(folder, compare, error);
        if (written != STATUS_FILE) {
            run_tell(compare, folder, options);
        }
        if (options->json && written != STATUS_FILE) {
            enum status told = json_write_summary(stdout, compare, error);
            written = written == STATUS_OK ? told : written;
        }
        if (wish->show && !options->json && written == STATUS_OK) {
            written = plot_show(compare, error);
        }
        if (wish->logbook != NULL) {
            const enum status kept = run_keep(compare, wish, error);
            written = written == STATUS_OK ? kept : written;
        }
    }
    compare_free(compare);
    free(compare);
    return lived != STATUS_OK ? lived : written;
}

int cmd_run(int argc, char **argv)
{
    static const struct option own[] = {{"strategy", required_argument, NULL, 0},
                                        {"days", required_argument, NULL, 0},
                                        {"sample", required_argument, NULL, 0},
                                        {"show", no_argument, NULL, 0},
                                        {"logbook", required_argument, NULL, 0},
                                        {"noise", required_argument, NULL, 0},
                                        {0}};
    static const char help[] =
        "  --strategy NAME  only this strategy of the scenario; may be given again\n"
        "  --days N         live N days instead of the scenario's duration\n"
        "  --sample SPAN    a row every SPAN (\"6 h\") instead of the scenario's\n"
        "  --show           also draw EC over time in the terminal\n"
        "  --logbook FILE   also write the logbook a careful grower would have kept of "
        "the\n                   first strategy, as CSV\n"
        "  --noise SEED     with readings as pen and ruler show them: 0.05 mS/cm, 2 mm, "
        "0.1 pH\n\n"
        "Writes CSV, summary.json, SVG plots and report.html to out/SCENARIO, or to the "
        "folder\nof --out. Exit status 0: done; 1: could not finish, what was computed "
        "is "
        "kept; 2: the\nscenario cannot be used, nothing was written.\n\n";
    struct run_wish wish = {0};
    const struct options_command command = {.name = "run",
                                            .usage = "SCENARIO",
                                            .summary = cmd_run_summary,
                                            .help = help,
                                            .least = 1,
                                            .most = 1,
                                            .own = own,
                                            .take = run_take,
                                            .context = &wish};
    struct options options;
    const enum options_outcome outcome = options_read(&options, argc, argv, &command);
    if (outcome != OPTIONS_GO) {
        return options_exit(outcome);
    }
    if (wish.noisy && wish.logbook == NULL) {
        (void)fputs("pailcast run: --noise goes with --logbook\n", stderr);
        return options_exit(OPTIONS_BAD);
    }
    struct error error = {0};
    static struct scenario scenario;
    enum status status =
        choose_scenario(&scenario, &wish.choose, options.operands[0], &error);
    if (status != STATUS_OK) {
        return options_fail(status, &error);
    }
    scenario.duration_d = wish.days > 0 ? wish.days : scenario.duration_d;
    scenario.sample_every_d = wish.sample_d > 0 ? wish.sample_d : scenario.sample_every_d;
    char folder[FILE_PATH_SIZE];
    options_folder(folder, &options, scenario.stem);
    stop_listen();
    status = run_scenario(&scenario, folder, &wish, &options, &error);
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
