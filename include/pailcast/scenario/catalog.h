/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the shipped crops, waters, recipes and plot scripts are, and what there is. */
#ifndef PAILCAST_SCENARIO_CATALOG_H
#define PAILCAST_SCENARIO_CATALOG_H

#include <stddef.h>

#include "pailcast/base/status.h"

enum catalog_shelf {
    CATALOG_CROPS,
    CATALOG_WATERS,
    CATALOG_RECIPES,
    CATALOG_SHELF_COUNT
};

/* Folder holding scenarios/ and plots/: beside the program's source tree, or installed.
 * "" when none is found. Borrowed, static after the first call from main. */
const char *catalog_folder(void);

/* The same from its three sources, in order: an environment variable's value (NULL or ""
 * when unset), the program's own file, the folder fixed when it was built. path[size];
 * "" when none holds scenarios. Pure but for looking at the disk. */
void catalog_find(char *path, size_t size, const char *environment, const char *program,
                  const char *built_in);

/* Writes the path of a shipped file ("crops", "tomato") or returns STATUS_INPUT naming
 * the nearest there is. path[size]. */
enum status catalog_path(char *path, size_t size, enum catalog_shelf shelf,
                         const char *name, struct error *error) STATUS_MUST_CHECK;

/* Names on a shelf, sorted; *names is an array of *count strings, freed by
 * catalog_free_names. */
enum status catalog_names(char ***names, size_t *count, enum catalog_shelf shelf,
                          struct error *error) STATUS_MUST_CHECK;
void catalog_free_names(char **names, size_t count);

/* The first line of a shipped file's opening comment, without its marks; "" if none. */
void catalog_summary(char *text, size_t size, enum catalog_shelf shelf, const char *name);

/* "crops", "waters", "recipes". */
extern const char *const catalog_shelf_folder[CATALOG_SHELF_COUNT];

#endif
