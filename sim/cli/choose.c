/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "choose.h"

#include <stdio.h>
#include <string.h>

#include "pailcast/scenario/named.h"
#include "pailcast/scenario/reader.h"

bool choose_take(struct choose *choose, const char *name, const char *command)
{
    if (choose->count == (choose->one ? 1 : SCENARIO_STRATEGIES_MAX)) {
        (void)fprintf(stderr, "pailcast %s: %s\n", command,
                      choose->one ? "takes one --strategy"
                                  : "--strategy given too often");
        return false;
    }
    choose->names[choose->count++] = name;
    return true;
}

static void choose_keep(struct scenario *scenario, const bool wanted[])
{
    size_t kept = 0;
    for (size_t k = 0; k < scenario->strategy_count; k++) {
        if (wanted[k]) {
            scenario->strategies[kept++] = scenario->strategies[k];
        }
    }
    scenario->strategy_count = kept > 0 ? kept : scenario->strategy_count;
}

/* The wanted one goes before the rest. */
static void choose_front(struct scenario *scenario, const bool wanted[])
{
    for (size_t k = 1; k < scenario->strategy_count; k++) {
        if (wanted[k]) {
            const struct strategy first = scenario->strategies[k];
            memmove(&scenario->strategies[1], &scenario->strategies[0], k * sizeof first);
            scenario->strategies[0] = first;
        }
    }
}

static enum status choose_strategies(struct scenario *scenario,
                                     const struct choose *choose, const char *path,
                                     struct error *error)
{
    enum status status = STATUS_OK;
    bool wanted[SCENARIO_STRATEGIES_MAX] = {false};
    for (size_t i = 0; i < choose->count; i++) {
        size_t which;
        const enum status found =
            named_strategy(&which, scenario, choose->names[i], path, error);
        if (found == STATUS_OK) {
            wanted[which] = true;
        }
        status = found != STATUS_OK ? found : status;
    }
    if (choose->one) {
        choose_front(scenario, wanted);
    } else if (choose->count > 0) {
        choose_keep(scenario, wanted);
    }
    return status;
}

enum status choose_scenario(struct scenario *scenario, const struct choose *choose,
                            const char *path, struct error *error)
{
    enum status status = reader_scenario(scenario, path, error);
    if (status == STATUS_OK) {
        status = choose_strategies(scenario, choose, path, error);
    }
    for (size_t i = 0; i < scenario->warning_count && status == STATUS_OK; i++) {
        (void)fprintf(stderr, "%s\n", scenario->warnings[i]);
    }
    return status;
}
