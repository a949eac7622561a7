/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/catalog.h"

#include <dirent.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <threads.h>
#include <unistd.h>

#include "nearest.h"
#include "pailcast/base/file.h"
#include "pailcast/base/grow.h"
#include "pailcast/base/text.h"

#ifndef PAILCAST_DATA_DIR
#define PAILCAST_DATA_DIR ""
#endif

const char *const catalog_shelf_folder[CATALOG_SHELF_COUNT] = {
    [CATALOG_CROPS] = "crops",
    [CATALOG_WATERS] = "waters",
    [CATALOG_RECIPES] = "recipes",
};

static const char catalog_ending[] = ".cfg";

/* How far above the program a source tree may begin: build/MODE/tests/FOLDER/PROGRAM. */
static const int catalog_levels = 5;

static bool catalog_holds(const char *folder)
{
    char shelf[FILE_PATH_SIZE];
    struct stat found;
    int length = snprintf(shelf, sizeof shelf, "%s/scenarios/%s", folder,
                          catalog_shelf_folder[CATALOG_CROPS]);
    return length > 0 && (size_t)length < sizeof shelf && stat(shelf, &found) == 0 &&
           S_ISDIR(found.st_mode);
}

static bool catalog_take(char *path, size_t size, const char *folder, const char *below)
{
    int length = snprintf(path, size, "%s%s", folder, below);
    if (length > 0 && (size_t)length < size && catalog_holds(path)) {
        return true;
    }
    path[0] = '\0';
    return false;
}

/* Looks in every folder above the program: a source tree, or a prefix it was installed
 * under. */
static bool catalog_above(char *path, size_t size, const char *program)
{
    char folder[FILE_PATH_SIZE];
    int length = snprintf(folder, sizeof folder, "%s", program);
    if (length < 0 || (size_t)length >= sizeof folder) {
        return false;
    }
    for (int level = 0; level < catalog_levels; level++) {
        char *slash = strrchr(folder, '/');
        if (slash == NULL) {
            return false;
        }
        *slash = '\0';
        if (catalog_take(path, size, folder, "") ||
            catalog_take(path, size, folder, "/share/pailcast")) {
            return true;
        }
    }
    return false;
}

void catalog_find(char *path, size_t size, const char *environment, const char *program,
                  const char *built_in)
{
    path[0] = '\0';
    if (environment != NULL && environment[0] != '\0') {
        (void)catalog_take(path, size, environment, "");
        return;
    }
    if (!catalog_above(path, size, program)) {
        (void)catalog_take(path, size, built_in, "");
    }
}

static once_flag catalog_looking = ONCE_FLAG_INIT;
static char catalog_found[FILE_PATH_SIZE]; /* written once, by catalog_look */

static void catalog_look(void)
{
    char program[FILE_PATH_SIZE] = "";
    ssize_t length = readlink("/proc/self/exe", program, sizeof program - 1);
    program[length > 0 ? length : 0] = '\0';
    catalog_find(catalog_found, sizeof catalog_found, getenv("PAILCAST_DATA"), program,
                 PAILCAST_DATA_DIR);
}

const char *catalog_folder(void)
{
    call_once(&catalog_looking, catalog_look);
    return catalog_found;
}

static int catalog_compare(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* A copy of a file name without its ending; NULL if it is no .cfg or memory is out. */
static char *catalog_stem(const char *file, bool *out_of_memory)
{
    size_t length = strlen(file);
    size_t ending = strlen(catalog_ending);
    if (length <= ending || strcmp(file + length - ending, catalog_ending) != 0) {
        return NULL;
    }
    char *stem = strndup(file, length - ending);
    *out_of_memory = *out_of_memory || stem == NULL;
    return stem;
}

static bool catalog_collect(char ***names, size_t *count, DIR *folder)
{
    size_t room = 0;
    bool out_of_memory = false;
    const struct dirent *entry;
    while (!out_of_memory && (entry = readdir(folder)) != NULL) {
        char *stem = catalog_stem(entry->d_name, &out_of_memory);
        if (stem == NULL) {
            continue;
        }
        char **more = grow_array(*names, *count, &room, sizeof *more);
        if (more == NULL) {
            free(stem);
            return false;
        }
        *names = more;
        (*names)[(*count)++] = stem;
    }
    return !out_of_memory;
}

enum status catalog_names(char ***names, size_t *count, enum catalog_shelf shelf,
                          struct error *error)
{
    *names = NULL;
    *count = 0;
    char path[FILE_PATH_SIZE + 32];
    (void)snprintf(path, sizeof path, "%s/scenarios/%s", catalog_folder(),
                   catalog_shelf_folder[shelf]);
    DIR *folder = catalog_folder()[0] != '\0' ? opendir(path) : NULL;
    if (folder == NULL) {
        return status_error(error, STATUS_FILE,
                            "the shipped %s are not found; set PAILCAST_DATA to the "
                            "folder that holds scenarios/ and plots/",
                            catalog_shelf_folder[shelf]);
    }
    bool collected = catalog_collect(names, count, folder);
    (void)closedir(folder);
    if (!collected) {
        catalog_free_names(*names, *count);
        *names = NULL;
        *count = 0;
        return status_error(error, STATUS_MEMORY, "out of memory");
    }
    if (*count > 0) {
        qsort(*names, *count, sizeof **names, catalog_compare);
    }
    return STATUS_OK;
}

void catalog_free_names(char **names, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        free(names[i]);
    }
    free(names);
}

/* "; there are leafy_full, leafy_weak" */
static void catalog_list(char *text, size_t size, char *const names[], size_t count)
{
    struct text_line line = text_line_in(text, size);
    for (size_t i = 0; i < count; i++) {
        text_line_add(&line, "%s%s", i == 0 ? "; there are " : ", ", names[i]);
    }
}

enum status catalog_path(char *path, size_t size, enum catalog_shelf shelf,
                         const char *name, struct error *error)
{
    char **names;
    size_t count;
    enum status status = catalog_names(&names, &count, shelf, error);
    if (status != STATUS_OK) {
        return status;
    }
    status = STATUS_INPUT;
    struct nearest nearest = nearest_to(name);
    for (size_t i = 0; i < count; i++) {
        nearest_consider(&nearest, names[i]);
        if (strcmp(names[i], name) == 0) {
            status = STATUS_OK;
        }
    }
    int length = snprintf(path, size, "%s/scenarios/%s/%s%s", catalog_folder(),
                          catalog_shelf_folder[shelf], name, catalog_ending);
    if (status == STATUS_OK && (length < 0 || (size_t)length >= size)) {
        status =
            status_error(error, STATUS_INPUT, "the file name of %s is too long", name);
    } else if (status != STATUS_OK) {
        char hint[NEAREST_HINT_SIZE];
        char all[256];
        nearest_hint(hint, &nearest);
        catalog_list(all, sizeof all, names, count);
        status = status_error(error, STATUS_INPUT,
                              "there is no \"%.60s\" among the shipped %s%s", name,
                              catalog_shelf_folder[shelf], hint[0] != '\0' ? hint : all);
    }
    catalog_free_names(names, count);
    return status;
}

void catalog_summary(char *text, size_t size, enum catalog_shelf shelf, const char *name)
{
    char path[FILE_PATH_SIZE];
    char line[256];
    text[0] = '\0';
    if (catalog_path(path, sizeof path, shelf, name, NULL) != STATUS_OK) {
        return;
    }
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        return;
    }
    while (text[0] == '\0' && fgets(line, sizeof line, file) != NULL) {
        const char *from = line + strspn(line, "#/* \t");
        line[strcspn(line, "\r\n")] = '\0';
        if (from == line) {
            break;
        }
        if (strncmp(from, "SPDX", 4) != 0) {
            text_copy(text, size, from);
        }
    }
    (void)fclose(file);
}
