/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include "choose.h"
#include "commands.h"
#include "measured.h"
#include "options.h"
#include "pailcast/base/file.h"
#include "pailcast/base/text.h"
#include "pailcast/report/tune.h"
#include "pailcast/study/risk_sum.h"
#include "progress.h"
#include "stop.h"
#include "whole.h"

const char cmd_tune_summary[] =
    "searches the settings of a strategy for the least effort";

/* Lives spent, and worlds a candidate is tried in (chosen). */
static const uint64_t tune_lives = 4800;
static const uint64_t tune_worlds = 40;

struct tune_wish {
    struct choose choose;
    uint64_t lives, worlds, seed, jobs, days;
    double trouble, growth;
    bool resume;
};

static bool tune_take(void *context, size_t index, const char *argument)
{
    struct tune_wish *wish = context;
    switch (index) {
    case 0:
        return choose_take(&wish->choose, argument, "tune");
    case 1:
        return whole_take(&wish->days, "tune", "--days", argument, 1, 3653);
    case 2:
        return whole_take(&wish->lives, "tune", "--lives", argument, 24, 10000000);
    case 3:
        return whole_take(&wish->worlds, "tune", "--worlds", argument, 2, 10000);
    case 4:
        return whole_take(&wish->seed, "tune", "--seed", argument, 0, UINT32_MAX - 1);
    case 5:
        return whole_take(&wish->jobs, "tune", "--jobs", argument, 1, 256);
    case 6:
        return measured_take(&wish->trouble, "tune", "--trouble", argument,
                             QUANTITY_SHARE, NULL, 0, 1);
    case 7:
        return measured_take(&wish->growth, "tune", "--growth", argument, QUANTITY_SHARE,
                             NULL, 0, 1);
    default:
        wish->resume = true;
        return true;
    }
}

static enum status tune_tell(const struct tune *tune, const char *folder,
                             const struct options *options, struct error *error)
{
    enum status status = tune_folder_write(folder, tune, error);
    if (status == STATUS_OK || status == STATUS_PLOT) {
        if (options->json) {
            const enum status told = tune_json_write(stdout, tune, error);
            status = told != STATUS_OK ? told : status;
        } else if (!options->quiet) {
            tune_table_write(stdout, tune);
            printf("\nWritten to %s: tune.json and tune-front.svg.\n",
                   options_shown(folder).text);
        }
    }
    return status;
}

static enum status tune_scenario(const struct scenario *scenario,
                                 const struct tune_wish *wish,
                                 const struct options *options, struct error *error)
{
    char folder[FILE_PATH_SIZE];
    char journal[FILE_PATH_SIZE + 64];
    options_folder(folder, options, scenario->stem);
    (void)snprintf(journal, sizeof journal, "%s/tune.journal", folder);
    struct progress progress = progress_begin("candidates", options->quiet);
    const struct tune_plan plan = {.lives = wish->lives,
                                   .worlds = wish->worlds,
                                   .seed = wish->seed,
                                   .jobs = (int)wish->jobs,
                                   .most_trouble = wish->trouble,
                                   .least_growth = wish->growth,
                                   .journal = journal,
                                   .scenario_path = options->operands[0],
                                   .resume = wish->resume,
                                   .progress = progress_tell,
                                   .context = &progress};
    struct tune tune = {0};
    enum status status = file_make_folder(folder, error);
    if (status == STATUS_OK) {
        status = tune_run(&tune, scenario, &plan, error);
        progress_end(&progress);
        if (status != STATUS_OK && status != STATUS_INPUT) {
            status = status_error(
                error, status,
                "%zu %s finished and kept in %s; the same command with "
                "--resume goes on from there",
                tune.count,
                text_plural((double)tune.count, "candidate is", "candidates are"),
                journal);
        }
    }
    if (status == STATUS_OK) {
        status = tune_tell(&tune, folder, options, error);
    }
    if (status == STATUS_OK) {
        journal_remove(journal); /* all it held is told */
    }
    tune_free(&tune);
    return status;
}

static const char tune_help[] =
    "  --strategy NAME  the strategy to tune instead of the first\n"
    "  --trouble SHARE  most lives in which a limit may be passed (\"10 %\")\n"
    "  --growth SHARE   least median growth, of the unstressed plant (\"90 %\")\n"
    "  --lives N        budget: lives spent on candidates, at least 24 (4800)\n"
    "  --worlds M       worlds each candidate lives in, the same for all (40)\n"
    "  --seed S         which draws; the same seed gives the same answer (1)\n"
    "  --jobs J         threads; the answer is the same for any number (all cores)\n"
    "  --days N         live N days instead of the scenario's duration\n"
    "  --resume         go on with the search that was interrupted in the same folder\n\n"
    "Tries visits, aim or share of stock, and renewals for the least water, salt, "
    "dumping and\nvisits; shows which trade-offs there are and recommends one. Writes "
    "tune.json and\ntune-front.svg to out/SCENARIO, or the folder of --out. Finished "
    "lives are "
    "kept in a journal\nthere until the search is done.\n\n";

int cmd_tune(int argc, char **argv)
{
    static const struct option own[] = {
        {"strategy", required_argument, NULL, 0}, {"days", required_argument, NULL, 0},
        {"lives", required_argument, NULL, 0},    {"worlds", required_argument, NULL, 0},
        {"seed", required_argument, NULL, 0},     {"jobs", required_argument, NULL, 0},
        {"trouble", required_argument, NULL, 0},  {"growth", required_argument, NULL, 0},
        {"resume", no_argument, NULL, 0},         {0}};
    static struct scenario scenario;
    struct tune_wish wish = {.choose = {.one = true},
                             .lives = tune_lives,
                             .worlds = tune_worlds,
                             .seed = 1,
                             .jobs = whole_cores(),
                             .trouble = risk_verdict_trouble,
                             .growth = risk_verdict_growth};
    const struct options_command command = {.name = "tune",
                                            .usage = "SCENARIO",
                                            .summary = cmd_tune_summary,
                                            .help = tune_help,
                                            .least = 1,
                                            .most = 1,
                                            .own = own,
                                            .take = tune_take,
                                            .context = &wish};
    struct options options;
    const enum options_outcome outcome = options_read(&options, argc, argv, &command);
    if (outcome != OPTIONS_GO) {
        return options_exit(outcome);
    }
    struct error error = {0};
    enum status status =
        choose_scenario(&scenario, &wish.choose, options.operands[0], &error);
    if (status == STATUS_OK && wish.lives < wish.worlds) {
        status =
            status_error(&error, STATUS_INPUT,
                         "pailcast tune: --lives: %zu do not reach for one candidate in "
                         "%zu worlds; give more, or fewer --worlds",
                         (size_t)wish.lives, (size_t)wish.worlds);
    }
    if (status == STATUS_OK) {
        scenario.duration_d = wish.days > 0 ? (double)wish.days : scenario.duration_d;
        stop_listen();
        status = tune_scenario(&scenario, &wish, &options, &error);
    }
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
