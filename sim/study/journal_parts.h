/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first line of a journal, read and written. */
#ifndef SIM_STUDY_JOURNAL_PARTS_H
#define SIM_STUDY_JOURNAL_PARTS_H

#include "pailcast/study/journal.h"

/* The stream is then past it. STATUS_INPUT where it is no head, or of another command. */
enum status journal_head_scan(struct journal_head *head, FILE *stream, const char *path,
                              const char *command, struct error *error) STATUS_MUST_CHECK;

void journal_head_print(FILE *stream, const struct journal_head *head);

/* Whether there is no head yet: nothing, or one that was being written when its writer
 * was killed. The stream stays at its beginning. */
bool journal_head_is_unborn(FILE *stream);

/* STATUS_INPUT with one line that says in what `found` (of path) is another study than
 * `wanted`, or another part; parts wanted of 0 are any. */
enum status journal_head_compare(const struct journal_head *found,
                                 const struct journal_head *wanted, const char *path,
                                 struct error *error) STATUS_MUST_CHECK;

#endif
