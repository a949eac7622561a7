/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include <cjson/cJSON.h>

#include "commands.h"
#include "options.h"
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

static void cmd_list_add_shelf(cJSON *root, enum catalog_shelf shelf, char **names,
                               size_t count)
{
    cJSON *list = cJSON_AddArrayToObject(root, catalog_shelf_folder[shelf]);
    for (size_t i = 0; i < count; i++) {
        (void)cJSON_AddItemToArray(list, cJSON_CreateString(names[i]));
    }
}

/* root: NULL prints for people. */
static enum status cmd_list_shelves(cJSON *root, bool quiet, struct error *error)
{
    for (int shelf = 0; shelf < CATALOG_SHELF_COUNT; shelf++) {
        char **names;
        size_t count;
        enum status status =
            catalog_names(&names, &count, (enum catalog_shelf)shelf, error);
        if (status != STATUS_OK) {
            return status;
        }
        if (root == NULL) {
            cmd_list_print_shelf((enum catalog_shelf)shelf, names, count, quiet);
        } else {
            cmd_list_add_shelf(root, (enum catalog_shelf)shelf, names, count);
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
    cJSON *root = cJSON_CreateObject();
    enum status status = cmd_list_shelves(root, true, error);
    cJSON *salts = cJSON_AddArrayToObject(root, "salts");
    for (size_t i = 0; i < salt_count; i++) {
        (void)cJSON_AddItemToArray(salts, cJSON_CreateString(salt_table[i].formula));
    }
    char *text = status == STATUS_OK ? cJSON_Print(root) : NULL;
    cJSON_Delete(root);
    if (status == STATUS_OK && text == NULL) {
        return status_error(error, STATUS_MEMORY, "out of memory");
    }
    if (text != NULL) {
        puts(text);
        cJSON_free(text);
    }
    return status;
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
