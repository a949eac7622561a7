/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static enum status file_complaint(const char *what, const char *path, struct error *error)
{
    return status_error(error, STATUS_FILE, "%s %s: %s", what, path, strerror(errno));
}

FILE *file_open_plain(const char *path, const char **why)
{
    struct stat found;
    *why = "is not a file";
    const int descriptor = open(path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    if (descriptor < 0 || fstat(descriptor, &found) != 0) {
        *why = errno == ENXIO ? *why : strerror(errno);
    } else if (S_ISREG(found.st_mode)) {
        FILE *stream = fdopen(descriptor, "rb");
        if (stream != NULL) {
            *why = NULL;
            return stream;
        }
        *why = strerror(errno);
    }
    if (descriptor >= 0) {
        (void)close(descriptor);
    }
    return NULL;
}

enum status file_make_folder(const char *path, struct error *error)
{
    char part[FILE_PATH_SIZE];
    size_t length = strlen(path);
    if (length == 0 || length >= sizeof part) {
        return status_error(error, STATUS_FILE, "a folder name is empty or too long");
    }
    for (size_t i = 1; i <= length; i++) {
        if (path[i] != '/' && path[i] != '\0') {
            continue;
        }
        memcpy(part, path, i);
        part[i] = '\0';
        if (mkdir(part, 0777) != 0 && errno != EEXIST && errno != EISDIR) {
            return file_complaint("cannot make the folder", part, error);
        }
    }
    struct stat found;
    if (stat(path, &found) != 0) {
        return file_complaint("cannot use the folder", path, error);
    }
    if (!S_ISDIR(found.st_mode)) {
        return status_error(error, STATUS_FILE, "%s is a file, not a folder", path);
    }
    return STATUS_OK;
}

/* A pipe, a device, a socket. */
static bool file_is_special(const char *path)
{
    struct stat found;
    return stat(path, &found) == 0 && !S_ISREG(found.st_mode) && !S_ISDIR(found.st_mode);
}

enum status file_open(struct file *file, const char *folder, const char *name,
                      struct error *error)
{
    *file = (struct file){0};
    int length = snprintf(file->path, sizeof file->path, "%s/%s", folder, name);
    int beside = snprintf(file->beside, sizeof file->beside, "%s/.%s.%ld.part", folder,
                          name, (long)getpid());
    if (length < 0 || beside < 0 || (size_t)length >= sizeof file->path ||
        (size_t)beside >= sizeof file->beside) {
        *file = (struct file){0};
        return status_error(error, STATUS_FILE, "the file name %s is too long", name);
    }
    if (file_is_special(file->path)) {
        file->beside[0] = '\0';
    }
    file->stream = fopen(file->beside[0] != '\0' ? file->beside : file->path, "w");
    if (file->stream == NULL) {
        enum status status = file_complaint("cannot write", file->path, error);
        file->beside[0] = '\0';
        return status;
    }
    return STATUS_OK;
}

enum status file_close(struct file *file, struct error *error)
{
    int wrote_all = !ferror(file->stream) && fflush(file->stream) == 0;
    int closed = fclose(file->stream) == 0;
    file->stream = NULL;
    const bool placed =
        wrote_all && closed &&
        (file->beside[0] == '\0' || rename(file->beside, file->path) == 0);
    if (!placed) {
        enum status status = file_complaint("cannot write", file->path, error);
        file_abandon(file);
        return status;
    }
    file->beside[0] = '\0';
    return STATUS_OK;
}

void file_abandon(struct file *file)
{
    if (file->stream != NULL) {
        (void)fclose(file->stream);
        file->stream = NULL;
    }
    if (file->beside[0] != '\0') {
        (void)unlink(file->beside);
        file->beside[0] = '\0';
    }
}

enum status file_end(struct file *file, enum status written, struct error *error)
{
    if (written == STATUS_OK) {
        return file_close(file, error);
    }
    file_abandon(file);
    return written;
}
