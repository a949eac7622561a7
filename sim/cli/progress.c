/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "progress.h"

#include <stdio.h>
#include <time.h>
#include <unistd.h>

static const double progress_pause_s = 0.2;

static double progress_now_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

struct progress progress_begin(const char *what, bool quiet)
{
    const double now_s = progress_now_s();
    return (struct progress){.shown = !quiet && isatty(STDERR_FILENO) == 1,
                             .what = what,
                             .began_s = now_s,
                             .told_s = now_s};
}

void progress_tell(void *context, size_t done, size_t total)
{
    struct progress *progress = context;
    const double now_s = progress_now_s();
    if (progress->first == 0 && done > 0) {
        progress->first = done; /* the speed is that of what follows */
    }
    if (!progress->shown || now_s - progress->told_s < progress_pause_s) {
        return;
    }
    progress->told_s = now_s;
    const double made = (double)(done - progress->first);
    (void)fprintf(stderr, "\r%s: %zu of %zu", progress->what, done, total);
    if (made > 0) {
        const double each_s = (now_s - progress->began_s) / made;
        const long left_s = (long)(each_s * (double)(total - done));
        (void)fprintf(stderr, ", %ld:%02ld left   ", left_s / 60, left_s % 60);
    }
    (void)fflush(stderr);
}

void progress_end(struct progress *progress)
{
    if (progress->shown) {
        (void)fprintf(stderr, "\r%*s\r", 60, "");
        (void)fflush(stderr);
    }
}
