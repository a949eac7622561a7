/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "choose.h"
#include "commands.h"
#include "options.h"
#include "pailcast/base/file.h"
#include "pailcast/base/text.h"
#include "pailcast/report/why.h"
#include "stop.h"
#include "when.h"

const char cmd_why_summary[] = "splits each change of EC into its causes";

struct why_wish {
    struct choose choose;
    struct when from, to; /* none: all of the scenario */
};

static bool why_take(void *context, size_t index, const char *argument)
{
    struct why_wish *wish = context;
    switch (index) {
    case 0:
        return choose_take(&wish->choose, argument, "why");
    case 1:
        return when_take(&wish->from, "why", "--from", argument);
    default:
        return when_take(&wish->to, "why", "--to", argument);
    }
}

static enum status why_check_days(struct why_wish *wish, const struct scenario *scenario,
                                  const char *path, struct error *error)
{
    const double hour_d = 1.0 / 24;
    const double duration_d = scenario->duration_d;
    enum status status = when_count(&wish->from, "why", "--from", scenario, error);
    if (status == STATUS_OK) {
        status = when_count(&wish->to, "why", "--to", scenario, error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    const double from_d = when_given(&wish->from) ? wish->from.day_d : 0;
    const double to_d = when_given(&wish->to) ? wish->to.day_d : duration_d;
    if (from_d != 0 && (from_d < hour_d || from_d >= duration_d)) {
        return status_error(error, STATUS_INPUT,
                            "%s: --from must be 0, or from an hour (0.0417) to less than "
                            "%g %s",
                            path, duration_d, text_plural(duration_d, "day", "days"));
    }
    if (to_d > duration_d || to_d < from_d + hour_d) {
        return status_error(error, STATUS_INPUT,
                            "%s: --to must be at least an hour (0.0417) after --from and "
                            "at most %g %s",
                            path, duration_d, text_plural(duration_d, "day", "days"));
    }
    wish->from.day_d = from_d;
    wish->to.day_d = to_d;
    return STATUS_OK;
}

static enum status why_tell(const struct why *why, const char *folder,
                            const struct options *options, struct error *error)
{
    enum status status = STATUS_OK;
    if (options->json) {
        status = why_json_write(stdout, why, error);
    } else if (!options->quiet) {
        why_table_write(stdout, why);
    }
    const enum status drawn = why_plot_draw(folder, why, error);
    if (drawn == STATUS_OK && !options->json && !options->quiet) {
        char name[WHY_FILE_NAME_SIZE];
        why_plot_file_name(name, why);
        printf("\nDrawn in %s/%s.\n", options_shown(folder).text, name);
    }
    return status != STATUS_OK ? status : drawn;
}

static enum status why_scenario(const struct scenario *scenario,
                                const struct why_wish *wish,
                                const struct options *options, struct error *error)
{
    char folder[FILE_PATH_SIZE];
    struct why why = {0};
    options_folder(folder, options, scenario->stem);
    const enum status lived = why_run(&why, scenario, &scenario->strategies[0],
                                      wish->from.day_d, wish->to.day_d, error);
    enum status told = STATUS_OK;
    if (why.interval_count > 0) {
        told = why_tell(&why, folder, options, error);
    }
    why_free(&why);
    return lived != STATUS_OK ? lived : told;
}

int cmd_why(int argc, char **argv)
{
    static const struct option own[] = {{"strategy", required_argument, NULL, 0},
                                        {"from", required_argument, NULL, 0},
                                        {"to", required_argument, NULL, 0},
                                        {0}};
    static const char help[] =
        "  --strategy NAME  this strategy of the scenario instead of the first\n"
        "  --from DAY       start after whatever is done at that moment (\"3.75\")\n"
        "  --to DAY         end after whatever is done at that moment\n"
        "Where the scenario has a start, DAY may be a date, which begins at 00:00 "
        "(2026-05-29,\n\"2026-05-29 18:00\").\n\n"
        "Tells for the whole stretch, and from each visit to the next, how much of the "
        "change of\nEC came from drinking, eating, evaporation, water, stock, renewal "
        "and the rest (acidity);\nand for each ion how much is eaten of what is drunk, "
        "and where that leads. Draws the\nwhole stretch as a waterfall into "
        "out/SCENARIO, or the folder of --out.\n\n";
    struct why_wish wish = {
        .choose = {.one = true}, .from = when_none(), .to = when_none()};
    const struct options_command command = {.name = "why",
                                            .usage = "SCENARIO",
                                            .summary = cmd_why_summary,
                                            .help = help,
                                            .least = 1,
                                            .most = 1,
                                            .own = own,
                                            .take = why_take,
                                            .context = &wish};
    struct options options;
    const enum options_outcome outcome = options_read(&options, argc, argv, &command);
    if (outcome != OPTIONS_GO) {
        return options_exit(outcome);
    }
    struct error error = {0};
    static struct scenario scenario;
    const char *path = options.operands[0];
    enum status status = choose_scenario(&scenario, &wish.choose, path, &error);
    if (status == STATUS_OK) {
        status = why_check_days(&wish, &scenario, path, &error);
    }
    if (status == STATUS_OK) {
        stop_listen();
        status = why_scenario(&scenario, &wish, &options, &error);
    }
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
