/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A folder of small files that lives as long as one test program. Include after
 * support/close.h. */
#ifndef TESTS_SCENARIO_FOLDER_H
#define TESTS_SCENARIO_FOLDER_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct folder {
    char path[64];
    char names[64][128];
    size_t count;
};

static inline void folder_make(struct folder *folder)
{
    *folder = (struct folder){0};
    (void)snprintf(folder->path, sizeof folder->path, "/tmp/pailcast-XXXXXX");
    assert_non_null(mkdtemp(folder->path));
}

/* The path of a name in the folder, remembered for removal. Borrowed from it. */
static inline const char *folder_path(struct folder *folder, const char *name)
{
    for (size_t i = 0; i < folder->count; i++) {
        if (strcmp(folder->names[i] + strlen(folder->path) + 1, name) == 0) {
            return folder->names[i];
        }
    }
    assert_true(folder->count < 64);
    char path[sizeof folder->names[0]];
    (void)snprintf(path, sizeof path, "%s/%s", folder->path, name);
    memcpy(folder->names[folder->count], path, sizeof path);
    return folder->names[folder->count++];
}

static inline const char *folder_write_bytes(struct folder *folder, const char *name,
                                             const char *bytes, size_t length)
{
    const char *path = folder_path(folder, name);
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(bytes, 1, length, file), length);
    assert_int_equal(fclose(file), 0);
    return path;
}

static inline const char *folder_write(struct folder *folder, const char *name,
                                       const char *text)
{
    return folder_write_bytes(folder, name, text, strlen(text));
}

/* A folder inside; removed after the files, in the order opposite to making. */
static inline void folder_make_inside(struct folder *folder, const char *name)
{
    assert_int_equal(mkdir(folder_path(folder, name), 0777), 0);
}

static inline void folder_remove(struct folder *folder)
{
    while (folder->count > 0) {
        (void)remove(folder->names[--folder->count]);
    }
    assert_int_equal(rmdir(folder->path), 0);
}

#endif
