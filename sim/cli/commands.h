/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands: each takes its own arguments (argv[0] is its name) and returns the exit
 * status. */
#ifndef SIM_CLI_COMMANDS_H
#define SIM_CLI_COMMANDS_H

extern const char cmd_run_summary[];
int cmd_run(int argc, char **argv);

extern const char cmd_check_summary[];
int cmd_check(int argc, char **argv);

extern const char cmd_why_summary[];
int cmd_why(int argc, char **argv);

extern const char cmd_pour_summary[];
int cmd_pour(int argc, char **argv);

extern const char cmd_mix_summary[];
int cmd_mix(int argc, char **argv);

extern const char cmd_risk_summary[];
int cmd_risk(int argc, char **argv);

extern const char cmd_tune_summary[];
int cmd_tune(int argc, char **argv);

extern const char cmd_fit_summary[];
int cmd_fit(int argc, char **argv);

extern const char cmd_list_summary[];
int cmd_list(int argc, char **argv);

#endif
