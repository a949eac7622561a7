/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include "commands.h"
#include "options.h"
#include "pailcast/base/tree.h"
#include "pailcast/chem/salt.h"
#include "pailcast/scenario/catalog.h"

const char cmd_list_summary[] = "lists the crops, waters, recipes and salts that ship";

enum {
    LIST_SUMMARY_SIZE = 160
};

static void cmd_list_print_shelf(enum catalog_shelf shelf, char **names, size_t count,
                                 bool quiet)
{
    printf("%s (@include \"%s/NAME.cfg\")\n", catalog_shelf_folder[shelf],
           catalog_shelf_folder[shelf]);
    for (size_t i = 0; i < count; i++) {
        char summary[LIST_SUMMARY_SIZE] = "";
        if (!quiet) {
            catalog_summary(summary, sizeof summary, shelf, names[i]);
        }
        printf("  %-22s %s\n", names[i], summary);
    }
    putchar('\n');
}

static void cmd_list_add_shelf(struct tree *tree, enum catalog_shelf shelf, char **names,
                               size_t count)
{
    struct cJSON *list = tree_array(tree, tree->root, catalog_shelf_folder[shelf]);
    for (size_t i = 0; i < count; i++) {
        tree_line(tree, list, names[i]);
    }
}

/* tree: NULL prints for people. */
static enum status cmd_list_shelves(struct tree *tree, bool quiet, struct error *error)
{
    for (int shelf = 0; shelf < CATALOG_SHELF_COUNT; shelf++) {
        char **names;
        size_t count;
        enum status status =
            catalog_names(&names, &count, (enum catalog_shelf)shelf, error);
        if (status != STATUS_OK) {
            return status;
        }
        if (tree == NULL) {
            cmd_list_print_shelf((enum catalog_shelf)shelf, names, count, quiet);
        } else {
            cmd_list_add_shelf(tree, (enum catalog_shelf)shelf, names, count);
        }
        catalog_free_names(names, count);
    }
    return STATUS_OK;
}

static enum status cmd_list_for_people(bool quiet, struct error *error)
{
    enum status status = cmd_list_shelves(NULL, quiet, error);
    if (status == STATUS_OK) {
        puts("salts (in a recipe)");
        for (size_t i = 0; i < salt_count; i++) {
            printf("  %-25s %8.3f g/mol  %s\n", salt_table[i].formula,
                   salt_table[i].molar_mass, salt_table[i].name);
        }
    }
    return status;
}

static enum status cmd_list_for_machines(struct error *error)
{
    struct tree tree = tree_new();
    const enum status status = cmd_list_shelves(&tree, true, error);
    struct cJSON *salts = tree_array(&tree, tree.root, "salts");
    for (size_t i = 0; i < salt_count; i++) {
        tree_line(&tree, salts, salt_table[i].formula);
    }
    if (status != STATUS_OK) {
        tree_free(&tree);
        return status;
    }
    return tree_print(stdout, &tree, error);
}

int cmd_list(int argc, char **argv)
{
    const struct options_command command = {.name = "list",
                                            .usage = "",
                                            .summary = cmd_list_summary,
                                            .help = "",
                                            .least = 0,
                                            .most = 0};
    struct options options;
    enum options_outcome outcome = options_read(&options, argc, argv, &command);
    if (outcome != OPTIONS_GO) {
        return options_exit(outcome);
    }
    struct error error = {0};
    enum status status = options.json ? cmd_list_for_machines(&error)
                                      : cmd_list_for_people(options.quiet, &error);
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
