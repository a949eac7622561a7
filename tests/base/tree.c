/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"

#include <math.h>
#include <stdlib.h>

#include <cjson/cJSON.h>

#include "pailcast/base/tree.h"

/* One of each. */
static enum status grow(char **text)
{
    static const double days[] = {2.385, 17.5};
    struct error error = {0};
    struct scratch_text written = {0};
    scratch_open(&written);
    struct tree tree = tree_new();
    tree_number(&tree, tree.root, "ec", 1.43);
    tree_number(&tree, tree.root, "never", INFINITY);
    tree_text(&tree, tree.root, "name", "say \"hold\"");
    tree_flag(&tree, tree.root, "wet", true);
    tree_null(&tree, tree.root, "none");
    tree_numbers(&tree, tree.root, "days", days, 2);
    tree_number(&tree, tree_object(&tree, tree.root, "ions"), "k", 5.3);
    struct cJSON *list = tree_array(&tree, tree.root, "list");
    tree_flag(&tree, tree_item(&tree, list), "dry", false);
    tree_line(&tree, list, "line");
    const enum status status = tree_print(written.out, &tree, &error);
    assert_null(tree.root);
    *text = scratch_close(&written);
    return status;
}

static void what_was_put_in_is_printed_in_its_order(void **state)
{
    (void)state;
    char *text = NULL;
    assert_int_equal(grow(&text), STATUS_OK);
    cJSON *root = cJSON_Parse(text);
    char *plain = cJSON_PrintUnformatted(root);
    assert_string_equal(plain, "{\"ec\":1.43,\"never\":null,\"name\":\"say "
                               "\\\"hold\\\"\",\"wet\":true,\"none\":null,\"days\":["
                               "2.385,17.5],\"ions\":{\"k\":5.3},\"list\":[{\"dry\":"
                               "false},\"line\"]}");
    cJSON_free(plain);
    cJSON_Delete(root);
    free(text);
}

/* The piece of memory that cJSON does not get, counted down. */
static size_t lost;

static void *some_memory(size_t size)
{
    return lost > 0 && --lost == 0 ? NULL : malloc(size);
}

static void whichever_memory_is_lost_that_is_said_and_nothing_printed(void **state)
{
    (void)state;
    cJSON_Hooks some = {some_memory, free};
    enum status status = STATUS_MEMORY;
    size_t piece = 0;
    while (status != STATUS_OK) {
        char *text = NULL;
        lost = ++piece;
        cJSON_InitHooks(&some);
        status = grow(&text);
        cJSON_InitHooks(NULL);
        assert_int_equal(status, lost > 0 ? STATUS_OK : STATUS_MEMORY);
        assert_int_equal(text[0], status == STATUS_OK ? '{' : '\0');
        free(text);
    }
    assert_true(piece > 20); /* 12 values and their names */
}

static void a_tree_is_let_go_unprinted(void **state)
{
    (void)state;
    struct tree tree = tree_new();
    tree_text(&tree, tree.root, "name", "it");
    tree_free(&tree);
    assert_null(tree.root);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_was_put_in_is_printed_in_its_order),
        cmocka_unit_test(whichever_memory_is_lost_that_is_said_and_nothing_printed),
        cmocka_unit_test(a_tree_is_let_go_unprinted),
    };
    return cmocka_run_group_tests_name("tree", tests, NULL, NULL);
}
