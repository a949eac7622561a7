/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A JSON answer being built. cJSON says of each failed allocation by NULL and passes NULL
 * parents over; that anything was lost is kept here and told once, when it is printed. */
#ifndef SIM_REPORT_TREE_H
#define SIM_REPORT_TREE_H

#include <stdbool.h>
#include <stdio.h>

#include <cjson/cJSON.h>

#include "pailcast/base/status.h"

struct tree {
    cJSON *root;
    bool lost;
};

struct tree tree_new(void);

/* A finite number, or null. */
void tree_number(struct tree *tree, cJSON *object, const char *key, double value);
void tree_text(struct tree *tree, cJSON *object, const char *key, const char *text);
void tree_flag(struct tree *tree, cJSON *object, const char *key, bool value);
void tree_null(struct tree *tree, cJSON *object, const char *key);
cJSON *tree_object(struct tree *tree, cJSON *object, const char *key);
cJSON *tree_array(struct tree *tree, cJSON *object, const char *key);

/* A new object at the end of an array; a new text at its end. */
cJSON *tree_item(struct tree *tree, cJSON *array);
void tree_line(struct tree *tree, cJSON *array, const char *text);

/* Prints the whole and a newline, and lets it go; STATUS_MEMORY, and nothing printed,
 * when anything was lost. */
enum status tree_print(FILE *out, struct tree *tree,
                       struct error *error) STATUS_MUST_CHECK;

#endif
