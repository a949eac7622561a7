/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>

#include "choose.h"
#include "commands.h"
#include "options.h"
#include "pailcast/base/file.h"
#include "pailcast/report/fit.h"
#include "progress.h"
#include "stop.h"

const char cmd_fit_summary[] = "learns this bucket from its logbook and looks ahead";

/* How far the forecast goes, d. */
static const double fit_ahead_d = 14;

static bool fit_take(void *context, size_t index, const char *argument)
{
    (void)index;
    return choose_take(context, argument, "fit");
}

/* Whose water and stock were taken for those poured, where nobody said whose. */
static void fit_tell_whose(const struct scenario *scenario)
{
    printf("By the strategy \"%s\", the first of %zu, as --strategy NAME names none.\n\n",
           scenario->strategies[0].name, scenario->strategy_count);
}

static enum status fit_scenario(const struct scenario *scenario,
                                const struct logbook *logbook,
                                const struct options *options, bool named,
                                struct error *error)
{
    char folder[FILE_PATH_SIZE];
    struct fit fit;
    options_folder(folder, options, scenario->stem);
    struct progress progress = progress_begin("lives", options->quiet);
    const struct fit_plan plan = {fit_ahead_d, progress_tell, &progress};
    enum status status =
        fit_run(&fit, scenario, &scenario->strategies[0], logbook, &plan, error);
    progress_end(&progress);
    enum status written =
        status == STATUS_OK ? fit_folder_write(folder, &fit, error) : status;
    if (status == STATUS_OK && written != STATUS_FILE) {
        if (options->json) {
            status = fit_json_write(stdout, &fit, error);
        } else if (!options->quiet) {
            if (!named && scenario->strategy_count > 1) {
                fit_tell_whose(scenario);
            }
            fit_text_write(stdout, &fit);
            printf("\nWritten to %s: fitted.cfg, to be included by the scenario, and "
                   "fit.json; open %s/fit.html in a browser.\n",
                   options_shown(folder).text, options_shown(folder).text);
        }
    }
    fit_free(&fit);
    return status != STATUS_OK ? status : written;
}

int cmd_fit(int argc, char **argv)
{
    static const struct option own[] = {{"strategy", required_argument, NULL, 0}, {0}};
    static const char help[] =
        "  --strategy NAME  its water and stock were poured, and it goes on after the "
        "last\n                   entry, instead of the scenario's first\n\n"
        "The logbook is CSV with the columns\n"
        "day,ec_mS_cm,volume_L,level_cm,ph,water_poured_L,stock_poured_L,drained_L,note; "
        "cells\nmay be blank. Readings are those before the day's pours. Other units go "
        "by "
        "the name, as\nin ec_ppm500, volume_gal, level_in; date, such as 2026-09-14 "
        "18:30, "
        "may stand for day.\n\n";
    struct choose choose = {.one = true};
    const struct options_command command = {.name = "fit",
                                            .usage = "SCENARIO LOGBOOK.csv",
                                            .summary = cmd_fit_summary,
                                            .help = help,
                                            .least = 2,
                                            .most = 2,
                                            .own = own,
                                            .take = fit_take,
                                            .context = &choose};
    struct options options;
    const enum options_outcome outcome = options_read(&options, argc, argv, &command);
    if (outcome != OPTIONS_GO) {
        return options_exit(outcome);
    }
    struct error error = {0};
    static struct scenario scenario;
    struct logbook logbook = {0};
    enum status status = choose_scenario(&scenario, &choose, options.operands[0], &error);
    if (status == STATUS_OK) {
        status = logbook_read(&logbook, options.operands[1], scenario.start, &error);
    }
    if (status == STATUS_OK) {
        status = logbook_check(&logbook, &scenario, &error);
    }
    if (status == STATUS_OK) {
        stop_listen();
        status = fit_scenario(&scenario, &logbook, &options, choose.count > 0, &error);
    }
    logbook_free(&logbook);
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
