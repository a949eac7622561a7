/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "choose.h"
#include "commands.h"
#include "options.h"
#include "pailcast/base/text.h"
#include "pailcast/report/risk.h"
#include "progress.h"
#include "stop.h"
#include "whole.h"

const char cmd_risk_summary[] = "lives many buckets with uncertain plant, room and hand";

static const size_t risk_lives = 500;

struct risk_wish {
    struct choose choose;
    uint64_t lives, seed, jobs, rows, days;
    bool rows_said;
    bool study_said; /* what a part knows itself */
    uint64_t part, parts;
    bool resume, merge;
    const char *scenario; /* for --merge, where the file lies elsewhere now */
};

/* I/N. */
static bool risk_take_part(struct risk_wish *wish, const char *text)
{
    char whole[32];
    (void)snprintf(whole, sizeof whole, "%s", text);
    char *slash = strchr(whole, '/');
    if (slash != NULL) {
        *slash = '\0';
    }
    if (slash == NULL || !whole_parse(&wish->part, whole, 1, RISK_PARTS_MAX) ||
        !whole_parse(&wish->parts, slash + 1, 1, RISK_PARTS_MAX) ||
        wish->part > wish->parts) {
        (void)fprintf(stderr,
                      "pailcast risk: --part: must be I/N with I from 1 to N, such as "
                      "2/4, N at most %d\n",
                      RISK_PARTS_MAX);
        return false;
    }
    return true;
}

static bool risk_take_option(void *context, size_t index, const char *argument)
{
    struct risk_wish *wish = context;
    wish->study_said = wish->study_said || (index >= 1 && index <= 3) || index == 5;
    switch (index) {
    case 0:
        return choose_take(&wish->choose, argument, "risk");
    case 1:
        return whole_take(&wish->days, "risk", "--days", argument, 1, 3653);
    case 2:
        return whole_take(&wish->lives, "risk", "--lives", argument, 1, RISK_LIVES_MAX);
    case 3:
        return whole_take(&wish->seed, "risk", "--seed", argument, 0, UINT32_MAX);
    case 4:
        return whole_take(&wish->jobs, "risk", "--jobs", argument, 1, 256);
    case 5:
        wish->rows_said = true;
        return whole_take(&wish->rows, "risk", "--matters", argument, 0, RISK_LIVES_MAX);
    case 6:
        return risk_take_part(wish, argument);
    case 7:
        wish->resume = true;
        return true;
    case 8:
        wish->merge = true;
        return true;
    default:
        wish->scenario = argument;
        return true;
    }
}

/* One study: what is asked, read and planned. */
struct risk_task {
    const struct risk_wish *wish;
    const struct options *options;
    struct scenario *scenario;
    struct risk_plan plan;
    struct progress progress;
    char folder[FILE_PATH_SIZE];
    char journal[FILE_PATH_SIZE + 64];
    char path[2 * FILE_PATH_SIZE]; /* of the scenario, from the root */
};

/* With --merge the first part says which study it is. */
static enum status risk_plan_merged(struct risk_task *task, char *path, size_t size,
                                    struct error *error)
{
    struct journal_head head;
    const char *first = task->options->operands[0];
    const enum status status = journal_read_head(&head, first, "risk", error);
    if (status != STATUS_OK) {
        return status;
    }
    struct risk_plan *plan = &task->plan;
    plan->lives = head.lives;
    plan->seed = head.seed;
    plan->base = head.base;
    task->scenario->duration_d = head.days;
    (void)snprintf(path, size, "%s",
                   task->wish->scenario != NULL ? task->wish->scenario : head.scenario);
    const bool sane = head.lives >= 1 && head.lives <= RISK_LIVES_MAX &&
                      head.base <= head.lives && head.days > 0 && isfinite(head.days);
    return sane
               ? STATUS_OK
               : status_error(error, STATUS_INPUT, "%s: is no journal of a study", first);
}

/* A path that means the same from another folder: --merge may be called from there. */
static void risk_whole_path(char *to, size_t size, const char *path)
{
    char here[FILE_PATH_SIZE];
    if (path[0] != '/' && getcwd(here, sizeof here) != NULL) {
        (void)snprintf(to, size, "%s/%s", here, path);
    } else {
        (void)snprintf(to, size, "%s", path);
    }
}

/* Reads the scenario and fits the plan to it. */
static enum status risk_prepare(struct risk_task *task, struct error *error)
{
    char path[FILE_PATH_SIZE];
    const struct risk_wish *wish = task->wish;
    struct risk_plan *plan = &task->plan;
    double days = (double)wish->days;
    (void)snprintf(path, sizeof path, "%s", task->options->operands[0]);
    enum status status = STATUS_OK;
    if (wish->merge) {
        status = risk_plan_merged(task, path, sizeof path, error);
        days = task->scenario->duration_d;
    }
    if (status == STATUS_OK) {
        status = choose_scenario(task->scenario, &wish->choose, path, error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    struct scenario *scenario = task->scenario;
    scenario->duration_d = days > 0 ? days : scenario->duration_d;
    options_folder(task->folder, task->options, scenario->stem);
    if (plan->parts > 1) {
        (void)snprintf(task->journal, sizeof task->journal, "%s/risk-%zu-of-%zu.part",
                       task->folder, plan->part, plan->parts);
    } else {
        (void)snprintf(task->journal, sizeof task->journal, "%s/risk.journal",
                       task->folder);
    }
    risk_whole_path(task->path, sizeof task->path, path);
    return STATUS_OK;
}

static enum status risk_tell(const struct risk_task *task, const struct risk *risk,
                             struct error *error)
{
    struct risk_sum *sum = NULL;
    enum status status = risk_sum_up(&sum, risk, error);
    if (status != STATUS_OK) {
        return status;
    }
    status = risk_folder_write(task->folder, sum, error);
    if (status == STATUS_OK || status == STATUS_PLOT) {
        if (task->options->json) {
            const enum status told = risk_json_write(stdout, sum, error);
            status = told != STATUS_OK ? told : status;
        } else if (!task->options->quiet) {
            risk_table_write(stdout, sum);
            printf("\nWritten to %s: risk.json, risk-bands.csv and the plots "
                   "risk-*.svg.\n",
                   options_shown(task->folder).text);
        }
    }
    free(sum);
    return status;
}

/* Lives this run's worlds; what is finished is told as kept when something comes between.
 */
static enum status risk_study(struct risk_task *task, struct risk *risk,
                              struct error *error)
{
    task->progress = progress_begin("worlds", task->options->quiet);
    task->plan.progress = progress_tell;
    task->plan.context = &task->progress;
    enum status status = file_make_folder(task->folder, error);
    if (status != STATUS_OK) {
        return status;
    }
    status = risk_live(risk, error);
    progress_end(&task->progress);
    if (status == STATUS_OK || status == STATUS_INPUT) {
        return status;
    }
    return status_error(error, status,
                        "%zu %s finished and kept in %s; the same command with --resume "
                        "goes on from there",
                        risk->lived_count,
                        text_plural((double)risk->lived_count, "world is", "worlds are"),
                        task->journal);
}

static enum status risk_run(struct risk_task *task, struct error *error)
{
    struct risk risk = {0};
    const struct risk_wish *wish = task->wish;
    enum status status = risk_open(&risk, task->scenario, &task->plan, error);
    if (status == STATUS_OK && wish->merge) {
        status = risk_merge(&risk, (const char *const *)task->options->operands,
                            (size_t)task->options->operand_count, error);
    } else if (status == STATUS_OK) {
        status = risk_study(task, &risk, error);
    }
    if (status == STATUS_OK && task->plan.parts > 1) {
        if (!task->options->quiet && !task->options->json) {
            printf("Part %zu of %zu is in %s; pailcast risk --merge joins all parts.\n",
                   task->plan.part, task->plan.parts, options_shown(task->journal).text);
        }
    } else if (status == STATUS_OK) {
        status = risk_tell(task, &risk, error);
        if (status == STATUS_OK && !wish->merge) {
            journal_remove(task->journal); /* all it held is told */
        }
    }
    risk_free(&risk);
    return status;
}

static const char risk_help[] =
    "  --lives N        lives of each strategy, 1 to 100000 (500)\n"
    "  --seed S         which draws; the same seed gives the same answer (1)\n"
    "  --jobs J         threads; the answer is the same for any number (all cores)\n"
    "  --matters N      rows for what matters most, 0: not asked (an eighth of the "
    "lives, at\n                   most 64); each costs a life for every uncertain "
    "input and strategy\n"
    "  --strategy NAME  only this strategy of the scenario; may be given again\n"
    "  --days N         live N days instead of the scenario's duration\n"
    "  --resume         go on with the study that was interrupted in the same folder\n"
    "  --part I/N       live one share of N only, into risk-I-of-N.part\n"
    "  --merge          the operands are the parts of one study: join them\n"
    "  --scenario FILE  with --merge: where the scenario lies now\n\n"
    "Every strategy lives in the same worlds, drawn as the scenario's group `uncertain` "
    "says or\nits defaults. Writes risk.json, risk-bands.csv and plots to out/SCENARIO, "
    "or the folder of\n--out. Finished worlds are kept in a journal there until the "
    "study is done.\n\n";

static enum options_outcome risk_read(struct options *options, struct risk_wish *wish,
                                      int argc, char **argv)
{
    static const struct option own[] = {{"strategy", required_argument, NULL, 0},
                                        {"days", required_argument, NULL, 0},
                                        {"lives", required_argument, NULL, 0},
                                        {"seed", required_argument, NULL, 0},
                                        {"jobs", required_argument, NULL, 0},
                                        {"matters", required_argument, NULL, 0},
                                        {"part", required_argument, NULL, 0},
                                        {"resume", no_argument, NULL, 0},
                                        {"merge", no_argument, NULL, 0},
                                        {"scenario", required_argument, NULL, 0},
                                        {0}};
    const struct options_command command = {.name = "risk",
                                            .usage = "SCENARIO, or --merge PART…",
                                            .summary = cmd_risk_summary,
                                            .help = risk_help,
                                            .least = 1,
                                            .most = RISK_PARTS_MAX,
                                            .own = own,
                                            .take = risk_take_option,
                                            .context = wish};
    const enum options_outcome outcome = options_read(options, argc, argv, &command);
    if (outcome != OPTIONS_GO) {
        return outcome;
    }
    const char *wrong = NULL;
    if (!wish->merge && options->operand_count > 1) {
        wrong = "takes one scenario, or parts with --merge";
    } else if (wish->merge && (wish->resume || wish->parts > 1)) {
        wrong = "--merge goes with neither --resume nor --part";
    } else if (wish->merge && wish->study_said) {
        wrong = "--merge takes --days, --lives, --seed and --matters from the parts";
    } else if (!wish->merge && wish->scenario != NULL) {
        wrong = "--scenario goes with --merge only";
    } else if (wish->rows_said && wish->rows > wish->lives) {
        wrong = "--matters: must not be more than --lives";
    }
    if (wrong != NULL) {
        (void)fprintf(stderr, "pailcast risk: %s; see pailcast risk --help\n", wrong);
        return OPTIONS_BAD;
    }
    return OPTIONS_GO;
}

int cmd_risk(int argc, char **argv)
{
    static struct scenario scenario;
    struct risk_wish wish = {
        .lives = risk_lives, .seed = 1, .jobs = whole_cores(), .part = 1, .parts = 1};
    struct options options;
    const enum options_outcome outcome = risk_read(&options, &wish, argc, argv);
    if (outcome != OPTIONS_GO) {
        return options_exit(outcome);
    }
    const size_t eighth = wish.lives / RISK_LIVES_PER_ROW;
    struct risk_task task = {.wish = &wish, .options = &options, .scenario = &scenario};
    task.plan = (struct risk_plan){
        .lives = wish.lives,
        .seed = wish.seed,
        .base = wish.rows_said ? wish.rows
                               : (eighth < RISK_ROWS_MOST ? eighth : RISK_ROWS_MOST),
        .part = wish.part,
        .parts = wish.parts,
        .jobs = (int)wish.jobs,
        .journal = task.journal,
        .scenario_path = task.path,
        .resume = wish.resume};
    struct error error = {0};
    enum status status = risk_prepare(&task, &error);
    if (status == STATUS_OK) {
        stop_listen();
        status = risk_run(&task, &error);
    }
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
