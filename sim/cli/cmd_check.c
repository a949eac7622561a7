/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include "commands.h"
#include "options.h"
#include "pailcast/scenario/explain.h"
#include "pailcast/scenario/reader.h"

const char cmd_check_summary[] = "reads a scenario and tells it back, runs nothing";

int cmd_check(int argc, char **argv)
{
    static const char help[] =
        "Every mistake of the file is listed with its line. Exit status 0: the scenario "
        "can be run;\n2: it cannot.\n\n";
    const struct options_command command = {.name = "check",
                                            .usage = "SCENARIO",
                                            .summary = cmd_check_summary,
                                            .help = help,
                                            .least = 1,
                                            .most = 1};
    struct options options;
    enum options_outcome outcome = options_read(&options, argc, argv, &command);
    if (outcome != OPTIONS_GO) {
        return options_exit(outcome);
    }
    struct error error = {0};
    static struct scenario scenario;
    enum status status = reader_scenario(&scenario, options.operands[0], &error);
    if (status == STATUS_OK && options.json) {
        status = explain_json(stdout, &scenario, &error);
    } else if (status == STATUS_OK && !options.quiet) {
        explain_scenario(stdout, &scenario);
    }
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
