/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ctrl-C stops lives cleanly and a full disk ends no program: what was lived is kept. */
#ifndef SIM_CLI_STOP_H
#define SIM_CLI_STOP_H

/* From here on SIGINT and SIGTERM make every running life stop at its next step, and
 * a file that may not grow is an error of its write. */
void stop_listen(void);

#endif
