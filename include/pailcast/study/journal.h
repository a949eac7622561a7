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

/* What makes a study the same study. */
struct journal_head {
    char version[24];
    uint64_t fingerprint; /* of the scenario's text */
    double days;
    size_t lives, base, strategies, inputs, grid;
    uint64_t seed;
    size_t part, parts;
    char scenario[1024]; /* its path, for people and for joining parts */
};

struct journal {
    FILE *stream;
    char path[FILE_PATH_SIZE];
};

/* Takes one record, world and its numbers; returns false where it cannot be one of this
 * study. Context borrowed. */
struct journal_reader {
    bool (*take)(void *context, size_t world, const float value[], size_t count);
    void *context;
};

/* Whether there is no journal yet: no file, or one whose head was being written when its
 * writer was killed. */
bool journal_is_unborn(const char *path);

/* Reads the head alone. STATUS_FILE, or STATUS_INPUT where it is no journal. */
enum status journal_read_head(struct journal_head *head, const char *path,
                              struct error *error) STATUS_MUST_CHECK;

/* STATUS_INPUT with one line that says in what `found` (of path) is another study than
 * `wanted`; the part is not looked at. */
enum status journal_compare(const struct journal_head *found,
                            const struct journal_head *wanted, const char *path,
                            struct error *error) STATUS_MUST_CHECK;

/* Hands every whole record to the reader; *whole receives the length in bytes of what is
 * good.
 */
enum status journal_read(long *whole, const char *path,
                         const struct journal_reader *reader,
                         struct error *error) STATUS_MUST_CHECK;

/* Begins a new file with head, or goes on with one after its first `whole` bytes.
 * STATUS_INPUT when another process is writing it. */
enum status journal_begin(struct journal *journal, const char *path,
                          const struct journal_head *head,
                          struct error *error) STATUS_MUST_CHECK;
enum status journal_go_on(struct journal *journal, const char *path, long whole,
                          struct error *error) STATUS_MUST_CHECK;

/* Appends a record and hands it to the system. */
enum status journal_add(struct journal *journal, size_t world, const float value[],
                        size_t count, struct error *error) STATUS_MUST_CHECK;

enum status journal_close(struct journal *journal, struct error *error) STATUS_MUST_CHECK;

/* Removes a journal that is no longer needed, unless another process is writing it. */
void journal_remove(const char *path);

#endif
