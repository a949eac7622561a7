/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A JSON answer being built, with cJSON, which nobody else sees. It says of each failed
 * allocation by NULL and passes NULL parents over; that anything was lost is kept here
 * and told once, when it is printed. */
#ifndef PAILCAST_BASE_TREE_H
#define PAILCAST_BASE_TREE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "pailcast/base/status.h"

struct cJSON;

struct tree {
    struct cJSON *root;
    bool lost;
};

struct tree tree_new(void);

/* A finite number, or null. */
void tree_number(struct tree *tree, struct cJSON *object, const char *key, double value);
void tree_text(struct tree *tree, struct cJSON *object, const char *key,
               const char *text);
void tree_flag(struct tree *tree, struct cJSON *object, const char *key, bool value);
void tree_null(struct tree *tree, struct cJSON *object, const char *key);
struct cJSON *tree_object(struct tree *tree, struct cJSON *object, const char *key);
struct cJSON *tree_array(struct tree *tree, struct cJSON *object, const char *key);

/* An array of numbers. */
void tree_numbers(struct tree *tree, struct cJSON *object, const char *key,
                  const double values[], size_t count);

/* A new object at the end of an array; a new text at its end. */
struct cJSON *tree_item(struct tree *tree, struct cJSON *array);
void tree_line(struct tree *tree, struct cJSON *array, const char *text);

/* Prints the whole and a newline, and lets it go; STATUS_MEMORY, and nothing printed,
 * when anything was lost. */
enum status tree_print(FILE *out, struct tree *tree,
                       struct error *error) STATUS_MUST_CHECK;

/* Lets it go unprinted. */
void tree_free(struct tree *tree);

#endif
