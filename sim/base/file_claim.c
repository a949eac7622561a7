/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lock is on the folder itself: no file of its own is left behind, and the system
 * takes it back from a process that was killed. */
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/select.h>
#include <unistd.h>

#include "pailcast/base/file.h"

/* A set of files takes a second or two, with a gnuplot that hangs half a minute: who
 * holds a folder longer than this hangs (chosen). */
static const double file_wait_s = 60;

/* Between two looks at a folder that is taken. */
static const struct timespec file_pause = {.tv_nsec = 20000000};

enum file_lock file_lock(int descriptor)
{
    if (flock(descriptor, LOCK_EX | LOCK_NB) == 0) {
        return FILE_LOCK_HELD;
    }
    return errno == EWOULDBLOCK ? FILE_LOCK_TAKEN : FILE_LOCK_NONE;
}

/* The process that wrote .NAME.PID.part; 0 for another name. */
static pid_t file_writer(const char *name)
{
    static const char ending[] = ".part";
    const size_t length = strlen(name);
    const size_t tail = sizeof ending - 1;
    if (name[0] != '.' || length <= tail || strcmp(name + length - tail, ending) != 0) {
        return 0;
    }
    size_t digits = length - tail;
    while (digits > 0 && name[digits - 1] >= '0' && name[digits - 1] <= '9') {
        digits--;
    }
    char *end;
    errno = 0;
    const long writer = strtol(name + digits, &end, 10);
    const bool fine =
        digits > 1 && name[digits - 1] == '.' && end == name + length - tail;
    return fine && errno == 0 && writer > 0 && writer <= INT_MAX ? (pid_t)writer : 0;
}

/* A number that is ours now was another's before: a claim comes before any file. */
static bool file_writer_is_gone(pid_t writer)
{
    return writer == getpid() || (kill(writer, 0) != 0 && errno == ESRCH);
}

/* Removes what killed runs left half-written. Without a lock another machine may be
 * writing, whose processes we cannot see. */
static void file_sweep(DIR *folder)
{
    for (const struct dirent *e = readdir(folder); e != NULL; e = readdir(folder)) {
        const pid_t writer = file_writer(e->d_name);
        if (writer > 0 && file_writer_is_gone(writer)) {
            (void)unlinkat(dirfd(folder), e->d_name, 0);
        }
    }
}

/* Waits for the folder's lock. Signals are let in while it sleeps only, so that none
 * slips in between a look and a sleep. */
static enum status file_wait(enum file_lock *lock, int descriptor, const char *folder,
                             struct error *error)
{
    const double pause_s = 1e-9 * (double)file_pause.tv_nsec;
    sigset_t all;
    sigset_t before;
    bool interrupted = false;
    double waited_s = 0;
    (void)sigfillset(&all);
    (void)pthread_sigmask(SIG_BLOCK, &all, &before);
    while ((*lock = file_lock(descriptor)) == FILE_LOCK_TAKEN && !interrupted &&
           waited_s < file_wait_s) {
        interrupted = pselect(0, NULL, NULL, NULL, &file_pause, &before) < 0;
        waited_s += pause_s;
    }
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
    if (*lock != FILE_LOCK_TAKEN) {
        return STATUS_OK;
    }
    return interrupted ? status_error(error, STATUS_STOPPED,
                                      "stopped while another run wrote to %s", folder)
                       : status_error(error, STATUS_FILE,
                                      "another run has been writing to %s for %g s; end "
                                      "it, or give another folder with --out",
                                      folder, file_wait_s);
}

enum status file_claim(struct file_claim *claim, const char *folder, struct error *error)
{
    enum status status = file_make_folder(folder, error);
    if (status != STATUS_OK) {
        return status;
    }
    claim->folder = opendir(folder);
    if (claim->folder == NULL) {
        return status_error(error, STATUS_FILE, "cannot use the folder %s: %s", folder,
                            strerror(errno));
    }
    enum file_lock lock;
    status = file_wait(&lock, dirfd(claim->folder), folder, error);
    if (status != STATUS_OK) {
        file_release(claim);
    } else if (lock == FILE_LOCK_HELD) {
        file_sweep(claim->folder);
    }
    return status;
}

void file_release(struct file_claim *claim)
{
    if (claim->folder != NULL) {
        (void)closedir(claim->folder);
        claim->folder = NULL;
    }
}
