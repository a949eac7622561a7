/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/tree.h"

#include <math.h>

#include <cjson/cJSON.h>

struct tree tree_new(void)
{
    cJSON *root = cJSON_CreateObject();
    return (struct tree){root, root == NULL};
}

void tree_number(struct tree *tree, cJSON *object, const char *key, double value)
{
    const cJSON *added = isfinite(value) ? cJSON_AddNumberToObject(object, key, value)
                                         : cJSON_AddNullToObject(object, key);
    tree->lost |= added == NULL;
}

void tree_text(struct tree *tree, cJSON *object, const char *key, const char *text)
{
    tree->lost |= cJSON_AddStringToObject(object, key, text) == NULL;
}

void tree_flag(struct tree *tree, cJSON *object, const char *key, bool value)
{
    tree->lost |= cJSON_AddBoolToObject(object, key, value) == NULL;
}

void tree_null(struct tree *tree, cJSON *object, const char *key)
{
    tree->lost |= cJSON_AddNullToObject(object, key) == NULL;
}

cJSON *tree_object(struct tree *tree, cJSON *object, const char *key)
{
    cJSON *added = cJSON_AddObjectToObject(object, key);
    tree->lost |= added == NULL;
    return added;
}

cJSON *tree_array(struct tree *tree, cJSON *object, const char *key)
{
    cJSON *added = cJSON_AddArrayToObject(object, key);
    tree->lost |= added == NULL;
    return added;
}

void tree_numbers(struct tree *tree, cJSON *object, const char *key,
                  const double values[], size_t count)
{
    cJSON *list = cJSON_CreateDoubleArray(values, (int)count);
    if (list == NULL || !cJSON_AddItemToObject(object, key, list)) {
        cJSON_Delete(list);
        tree->lost = true;
    }
}

/* Hands item over to array; NULL when either is missing. */
static cJSON *tree_append(struct tree *tree, cJSON *array, cJSON *item)
{
    if (item != NULL && cJSON_AddItemToArray(array, item)) {
        return item;
    }
    cJSON_Delete(item);
    tree->lost = true;
    return NULL;
}

cJSON *tree_item(struct tree *tree, cJSON *array)
{
    return tree_append(tree, array, cJSON_CreateObject());
}

void tree_line(struct tree *tree, cJSON *array, const char *text)
{
    (void)tree_append(tree, array, cJSON_CreateString(text));
}

enum status tree_print(FILE *out, struct tree *tree, struct error *error)
{
    char *text = tree->lost ? NULL : cJSON_Print(tree->root);
    tree_free(tree);
    if (text == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the JSON answer");
    }
    (void)fprintf(out, "%s\n", text);
    cJSON_free(text);
    return STATUS_OK;
}

void tree_free(struct tree *tree)
{
    cJSON_Delete(tree->root);
    tree->root = NULL;
}
