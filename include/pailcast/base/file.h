/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that are whole or absent: written beside their final name, renamed into place. */
#ifndef PAILCAST_BASE_FILE_H
#define PAILCAST_BASE_FILE_H

#include <stdio.h>

#include "pailcast/base/status.h"

enum {
    FILE_PATH_SIZE = 4096
};

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

/* Opens folder/name for writing, under a name of its own beside it. */
enum status file_open(struct file *file, const char *folder, const char *name,
                      struct error *error) STATUS_MUST_CHECK;

/* Flushes and renames into place. When any write failed (a full disk, say) the side file
 * is removed, the old file stays, and STATUS_FILE is returned. */
enum status file_close(struct file *file, struct error *error) STATUS_MUST_CHECK;

/* Gives the file up: removes the side file and leaves what stood under the final name.
 * Accepts a file that was never opened or is already closed. */
void file_abandon(struct file *file);

/* Takes over a finished side file that another program wrote to file->beside: as
 * file_close, without a stream. */
enum status file_adopt(struct file *file, struct error *error) STATUS_MUST_CHECK;

#endif
