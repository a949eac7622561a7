/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that are whole or absent: written beside their final name, renamed into place;
 * and folders in which one run writes at a time. */
#ifndef PAILCAST_BASE_FILE_H
#define PAILCAST_BASE_FILE_H

#include <dirent.h>
#include <stdio.h>

#include "pailcast/base/status.h"

enum {
    FILE_PATH_SIZE = 4096
};

/* Opens a plain file for reading; NULL, with *why in words ("is not a file"),
 * where there is none or it may not be read. Never waits, as a pipe would have it, and
 * what has no end, like a device, is not opened. *why is borrowed until the next call. */
FILE *file_open_plain(const char *path, const char **why);

/* One file being written. Zero-initialise; between open and close `stream` is written to.
 */
struct file {
    FILE *stream;
    char path[FILE_PATH_SIZE];
    char beside[FILE_PATH_SIZE];
};

/* Makes a folder and its parents. STATUS_FILE when that is impossible or something else
 * stands there. */
enum status file_make_folder(const char *path, struct error *error) STATUS_MUST_CHECK;

/* A folder held against other runs. Zero-initialise. */
struct file_claim {
    DIR *folder;
};

/* Makes a folder as file_make_folder and holds it until file_release: of runs that write
 * to it at once each writes its files in one go. Waits for another that holds it, for a
 * minute at most (STATUS_FILE), or until a signal is caught (STATUS_STOPPED). Removes
 * what killed runs left half-written. Where the file system has no locks it holds
 * nothing. */
enum status file_claim(struct file_claim *claim, const char *folder,
                       struct error *error) STATUS_MUST_CHECK;

/* Lets the folder go. Accepts one that was never held. */
void file_release(struct file_claim *claim);

enum file_lock {
    FILE_LOCK_HELD,  /* until the descriptor is closed, by its process' death too */
    FILE_LOCK_TAKEN, /* by another process */
    FILE_LOCK_NONE   /* the file system has no locks */
};

/* Tries to take the lock of an open file or folder. */
enum file_lock file_lock(int descriptor) STATUS_MUST_CHECK;

/* Opens folder/name for writing, under a name of its own beside it. What is no ordinary
 * file (a pipe, a device) is written straight, since a rename would put a file in its
 * place. */
enum status file_open(struct file *file, const char *folder, const char *name,
                      struct error *error) STATUS_MUST_CHECK;

/* Flushes and renames into place. When any write failed (a full disk, say) the side file
 * is removed, the old file stays, and STATUS_FILE is returned. */
enum status file_close(struct file *file, struct error *error) STATUS_MUST_CHECK;

/* Gives the file up: removes the side file and leaves what stood under the final name.
 * Accepts a file that was never opened or is already closed. */
void file_abandon(struct file *file);

/* file_close where what is in it is whole (written is STATUS_OK), file_abandon where not.
 * Returns what went wrong first. */
enum status file_end(struct file *file, enum status written,
                     struct error *error) STATUS_MUST_CHECK;

#endif
