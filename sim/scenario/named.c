/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/named.h"

#include <string.h>

#include "nearest.h"
#include "pailcast/base/text.h"

enum {
    NAMED_LIST_SIZE = 640 /* of a message: as many names as fit */
};

/* A name that was typed, and those there are, as they are compared. */
struct named {
    const struct scenario *scenario;
    char asked[TEXT_NAME_SIZE];
    char names[SCENARIO_STRATEGIES_MAX][TEXT_NAME_SIZE];
};

static struct named named_fold(const struct scenario *scenario, const char *asked)
{
    struct named named = {.scenario = scenario};
    text_fold(named.asked, sizeof named.asked, asked);
    for (size_t k = 0; k < scenario->strategy_count; k++) {
        text_fold(named.names[k], sizeof named.names[k], scenario->strategies[k].name);
    }
    return named;
}

/* Marks the names that are the one typed, or begin with it; returns how many. */
static size_t named_fit(bool fits[SCENARIO_STRATEGIES_MAX], size_t *last,
                        const struct named *named, bool whole)
{
    const size_t length = strlen(named->asked);
    size_t count = 0;
    for (size_t k = 0; k < named->scenario->strategy_count; k++) {
        const char *name = named->names[k];
        fits[k] = length > 0 && strncmp(name, named->asked, length) == 0 &&
                  (!whole || name[length] == '\0');
        if (fits[k]) {
            *last = k;
            count++;
        }
    }
    return count;
}

/* "A", "B" and 3 more: the names that fit; all of them where fits is NULL. */
static void named_list(char to[NAMED_LIST_SIZE], const struct scenario *scenario,
                       const bool *fits)
{
    struct text_line line = text_line_in(to, NAMED_LIST_SIZE);
    size_t left_out = 0;
    for (size_t k = 0; k < scenario->strategy_count; k++) {
        const char *name = scenario->strategies[k].name;
        if (fits != NULL && !fits[k]) {
            continue;
        }
        if (left_out > 0 || line.used + strlen(name) + 32 > NAMED_LIST_SIZE) {
            left_out++;
            continue;
        }
        text_line_add(&line, "%s\"%s\"", line.used > 0 ? ", " : "", name);
    }
    if (left_out > 0) {
        text_line_add(&line, " and %zu more", left_out);
    }
}

static enum status named_none(const struct named *named, const char *asked,
                              const char *path, struct error *error)
{
    char list[NAMED_LIST_SIZE];
    char hint[NEAREST_HINT_SIZE];
    struct nearest nearest = nearest_to(named->asked);
    for (size_t k = 0; k < named->scenario->strategy_count; k++) {
        nearest_consider(&nearest, named->names[k]);
    }
    for (size_t k = 0; k < named->scenario->strategy_count; k++) {
        const char *const shown = named->scenario->strategies[k].name;
        nearest.found = nearest.found == named->names[k] ? shown : nearest.found;
        nearest.second = nearest.second == named->names[k] ? shown : nearest.second;
    }
    nearest_hint(hint, &nearest);
    named_list(list, named->scenario, NULL);
    return status_error(error, STATUS_INPUT, "%s: has no strategy named \"%.95s\"%s%s%s",
                        path, asked, hint, hint[0] != '\0' ? " It has " : "; it has ",
                        list);
}

enum status named_strategy(size_t *which, const struct scenario *scenario,
                           const char *asked, const char *path, struct error *error)
{
    char kept[TEXT_NAME_SIZE]; /* as the reader keeps names */
    text_copy(kept, sizeof kept, asked);
    for (size_t k = 0; k < scenario->strategy_count; k++) {
        if (strcmp(scenario->strategies[k].name, kept) == 0) {
            *which = k;
            return STATUS_OK;
        }
    }
    const struct named named = named_fold(scenario, kept);
    bool fits[SCENARIO_STRATEGIES_MAX];
    size_t count = named_fit(fits, which, &named, true);
    count = count > 0 ? count : named_fit(fits, which, &named, false);
    if (count == 1) {
        return STATUS_OK;
    }
    if (count == 0) {
        return named_none(&named, kept, path, error);
    }
    char list[NAMED_LIST_SIZE];
    named_list(list, scenario, fits);
    return status_error(error, STATUS_INPUT,
                        "%s: \"%s\" may be any of %s; type more of the name", path, kept,
                        list);
}
