/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole files in memory. */
#ifndef SIM_REPORT_SLURP_H
#define SIM_REPORT_SLURP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* Reads stream from its start to its end into *text, which the caller frees: *length
 * bytes and a zero. False (and *text NULL) when that fails. */
bool slurp_stream(char **text, size_t *length, FILE *stream);

/* The same of the file at path. */
bool slurp_path(char **text, size_t *length, const char *path);

#endif
