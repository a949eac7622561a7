/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every scenario that was read keeps, whatever stood in its file. */
#ifndef TESTS_SUPPORT_PROMISES_H
#define TESTS_SUPPORT_PROMISES_H

#include <stdbool.h>

#include "pailcast/scenario/scenario.h"

/* Whether numbers, counts and texts are in their ranges; tells on stderr of the first
 * that is not. */
bool promises_kept(const struct scenario *scenario);

/* Whether an error holds lines of the form `FILE:LINE: what is wrong`. */
bool promises_line_named(const struct error *error);

#endif
