/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a call that can fail says so: a code for the program, sentences for the reader. */
#ifndef PAILCAST_BASE_STATUS_H
#define PAILCAST_BASE_STATUS_H

#include <stddef.h>

/* code, exit status, sentence */
#define STATUS_LIST(X)                                                                   \
    X(STATUS_OK, 0, "done")                                                              \
    X(STATUS_INPUT, 2, "the input cannot be used")                                       \
    X(STATUS_MEMORY, 1, "out of memory")                                                 \
    X(STATUS_FILE, 1, "a file or folder could not be read or written")                   \
    X(STATUS_SOLVER, 1, "the integration could not go on")                               \
    X(STATUS_PLOT, 1, "the plots could not be drawn")                                    \
    X(STATUS_STOPPED, 1, "stopped on request")

enum status {
#define STATUS_ENUM(code, exit_code, sentence) code,
    STATUS_LIST(STATUS_ENUM)
#undef STATUS_ENUM
    STATUS_COUNT
};

#define STATUS_MUST_CHECK __attribute__((warn_unused_result))

enum {
    ERROR_TEXT_SIZE = 8192
};

/* The sentences of what went wrong, one a line without a trailing newline; owned by the
 * caller, zero-initialised before use. Text beyond the size is dropped at a line's end.
 */
struct error {
    size_t count; /* lines held */
    char text[ERROR_TEXT_SIZE];
};

/* The sentence of a code; never NULL. Borrowed, static. */
const char *status_sentence(enum status code);

/* What main returns for a code: 0 done, 1 could not finish, 2 bad usage or input. */
int status_exit_code(enum status code);

/* Adds one formatted line to error (which may be NULL) and returns code, so that a
 * failing function can end with `return status_error(error, STATUS_INPUT, "...", ...)`.
 * Control characters in the line, and bytes that are not UTF-8, are replaced by '?'. */
enum status status_error(struct error *error, enum status code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

#endif
