/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Threads that share out pieces of work, numbered from 0. */
#ifndef SIM_STUDY_CREW_H
#define SIM_STUDY_CREW_H

#include <stddef.h>

#include "pailcast/base/status.h"

struct crew {
    int threads; /* 0: as many as there are cores */
    size_t count;
    /* By any thread: writes to places of the piece's own. */
    enum status (*work)(void *context, size_t number, struct error *error);
    /* After each piece that went well, by one thread at a time: for what is shared. */
    enum status (*done)(void *context, size_t number, struct error *error);
    void *context;
};

/* Does all pieces. Once one fails no others are begun; that failure is told. */
enum status crew_work(const struct crew *crew, struct error *error) STATUS_MUST_CHECK;

#endif
