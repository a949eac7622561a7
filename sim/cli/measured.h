/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options that are quantities. */
#ifndef SIM_CLI_MEASURED_H
#define SIM_CLI_MEASURED_H

#include <stdbool.h>

#include "pailcast/scenario/quantity.h"

/* Reads a quantity into its internal unit; false, with a message of `command` on stderr,
 * for anything else. aid may be NULL. */
bool measured_parse(double *value, const char *command, const char *option,
                    const char *text, enum quantity quantity,
                    const struct quantity_aid *aid);

/* Whether it lies within bounds, with a message too. */
bool measured_within(double value, const char *command, const char *option,
                     enum quantity quantity, double low, double high);

/* Both; *value is set only where all is well. */
bool measured_take(double *value, const char *command, const char *option,
                   const char *text, enum quantity quantity,
                   const struct quantity_aid *aid, double low, double high);

/* Whether the grower thinks in inches, from a length as it was typed. */
bool measured_in_inches(const char *text);

/* Whether the grower thinks in gallons, from a volume as it was typed. */
bool measured_in_gallons(const char *text);

#endif
