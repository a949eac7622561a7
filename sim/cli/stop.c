/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stop.h"

#include <signal.h>
#include <stddef.h>

#include "pailcast/run/life.h"

static void stop_request(int signal_number)
{
    (void)signal_number;
    life_request_stop();
}

void stop_listen(void)
{
    struct sigaction action = {.sa_handler = stop_request};
    (void)sigemptyset(&action.sa_mask);
    (void)sigaction(SIGINT, &action, NULL);
    (void)sigaction(SIGTERM, &action, NULL);
    /* A file-size limit is then an error of the write, told like a full disk. */
    action.sa_handler = SIG_IGN;
    (void)sigaction(SIGXFSZ, &action, NULL);
}
