/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The built program run as a user runs it, and its CSV read back. */
#ifndef TESTS_SUPPORT_PROGRAM_H
#define TESTS_SUPPORT_PROGRAM_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

#include <cjson/cJSON.h>

/* A folder of its own for one test, removed by program_clean. path[256]. */
void program_folder(char path[256]);
void program_clean(const char *path);

/* The same as fixtures of a test: *state is the path. */
int program_enter(void **state);
int program_leave(void **state);

/* Writes text to folder/name. */
void program_write(const char *folder, const char *name, const char *text);

/* Runs the program beside this test in `folder` with shell words `arguments`; stdout and
 * stderr go to folder/stdout and folder/stderr. Returns the exit code, -1 if it did not
 * exit. */
int program_run(const char *folder, const char *arguments);

/* The same with shell words before the program's name: "PATH=. ", "ulimit -f 4;". */
int program_run_in(const char *folder, const char *before, const char *arguments);

/* Runs it and sends an interrupt: as early as it is met listening, since before that the
 * signal just kills it. Returns the exit code. */
int program_interrupt(const char *folder, const char *arguments);

/* Lets a study through into folder/whole, then kills the same into folder/killed again
 * and again, a little later each time, and goes on with --resume until it is through.
 * Fails the test when it was killed less than twice. */
void program_kill_and_resume(const char *folder, const char *arguments);

/* Starts the program as program_run_in and returns at once, with the number of its
 * process; the caller waits for it. */
pid_t program_start(const char *folder, const char *before, const char *arguments);

/* Whole text of folder/name, NUL-terminated; freed by the caller. NULL if there is none.
 */
char *program_read(const char *folder, const char *name);

bool program_has(const char *folder, const char *name);

/* Fails the test unless folder/name holds the words. */
void program_says(const char *folder, const char *name, const char *words);

/* Fails the test if folder/name holds the words, or is not there. */
void program_lacks(const char *folder, const char *name, const char *words);

/* Fails the test unless folder/name is empty. */
void program_silent(const char *folder, const char *name);

/* Runs, expects exit code 2 at once, the words on stderr, nothing on stdout and no folder
 * `out`. */
void program_refuses(const char *folder, const char *arguments, const char *words);

/* Fails the test unless two files of folder are there and the same to the byte. */
void program_same(const char *folder, const char *one, const char *other);

/* Runs, expects exit code 0 and JSON alone on stdout; the caller deletes it. */
cJSON *program_json(const char *folder, const char *arguments);

/* The number of a key; fails the test when there is none. */
double program_number(const cJSON *object, const char *key);

/* A CSV of numbers: named columns, rows in order. Text cells are NAN; the last text
 * column, `event`, is kept as well. Free with program_csv_free. */
struct program_csv {
    size_t rows, columns;
    char **names;
    double *cells;
    char **events;
};

struct program_csv program_csv_read(const char *folder, const char *name);
/* Cell by row and column name; fails the test when there is no such column. */
double program_csv_at(const struct program_csv *csv, size_t row, const char *column);
/* The last row whose day is day_d (to 1e-9) and, unless NULL, whose event is `event`;
 * fails the test when there is none. */
size_t program_csv_row(const struct program_csv *csv, double day_d, const char *event);
void program_csv_free(struct program_csv *csv);

/* Characters of UTF-8 in the longest line of text. */
size_t program_widest(const char *text);

#endif
