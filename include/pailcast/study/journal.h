/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The journal of a study: one line of text that says which study it is, then a record for
 * each finished world, appended as soon as it is lived. A kill at any moment leaves whole
 * records and at most a torn last one, which is cut off when it is read again. Numbers
 * are little-endian, so that parts may come from other machines. */
#ifndef PAILCAST_STUDY_JOURNAL_H
#define PAILCAST_STUDY_JOURNAL_H

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "pailcast/base/file.h"
#include "pailcast/scenario/scenario.h"

/* What makes a study the same study. What a command does not ask is 0. */
struct journal_head {
    char command[8]; /* risk or tune */
    char version[24];
    uint64_t fingerprint; /* of the scenario's text and the strategies' names */
    double days;
    size_t lives, base, strategies, inputs, grid, worlds;
    double trouble, growth;
    uint64_t seed;
    size_t part, parts;
    char scenario[1024]; /* its path, for people and for joining parts */
};

struct journal {
    FILE *stream; /* NULL: nothing is kept */
    char path[FILE_PATH_SIZE];
    size_t first; /* added to the number of every world that is entered */
};

/* Takes one record, world and its numbers. STATUS_INPUT where it cannot be one of this
 * study, STATUS_MEMORY. Context borrowed. */
struct journal_reader {
    enum status (*take)(void *context, size_t world, const float value[], size_t count);
    void *context;
};

/* The head of a command's study of the scenario's first `strategies` ones, the scenario
 * being read from path; what else the command asks is still to be filled in. */
struct journal_head journal_head_of(const char *command, const struct scenario *scenario,
                                    size_t strategies, const char *path);

/* Reads the head alone. STATUS_INPUT where there is no such file, or none of this
 * command. */
enum status journal_read_head(struct journal_head *head, const char *path,
                              const char *command, struct error *error) STATUS_MUST_CHECK;

/* Hands every whole record of a finished or interrupted journal to the reader.
 * STATUS_INPUT where there is no such file, it is of another study than wanted, whose
 * parts of 0 are any, or the reader refuses a record; STATUS_FILE where it cannot be
 * read to its end. */
enum status journal_read(const char *path, const struct journal_head *wanted,
                         const struct journal_reader *reader,
                         struct error *error) STATUS_MUST_CHECK;

/* Begins a new file with head or, to resume, goes on with the one that is there after
 * handing its records to the reader. STATUS_INPUT, and the file is left alone, where it
 * is of another study, another process is writing it, or the reader refuses a record.
 * journal_close must follow. */
enum status journal_start(struct journal *journal, const char *path, bool resume,
                          const struct journal_head *head,
                          const struct journal_reader *reader,
                          struct error *error) STATUS_MUST_CHECK;

/* Appends a record and hands it to the system. */
enum status journal_add(struct journal *journal, size_t world, const float value[],
                        size_t count, struct error *error) STATUS_MUST_CHECK;

enum status journal_close(struct journal *journal, struct error *error) STATUS_MUST_CHECK;

/* Removes a journal that is no longer needed, unless another process is writing it. */
void journal_remove(const char *path);

#endif
