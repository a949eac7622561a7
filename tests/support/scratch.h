/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A folder of a test's own, and text written to memory. Failures end the test program. */
#ifndef TESTS_SUPPORT_SCRATCH_H
#define TESTS_SUPPORT_SCRATCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum {
    SCRATCH_PATH_SIZE = 512
};

struct scratch {
    char folder[SCRATCH_PATH_SIZE];
};

struct scratch scratch_make(void);

/* Removes the folder and the files in it (not folders). */
void scratch_remove(struct scratch *scratch);

/* Entries in the folder whose name ends in `ending` ("" for all), hidden ones too. */
size_t scratch_count(const struct scratch *scratch, const char *ending);

bool scratch_holds(const struct scratch *scratch, const char *name);

/* Writes a file; executable when asked. */
void scratch_write(const struct scratch *scratch, const char *name, const char *text,
                   bool executable);

/* The whole file, to be freed; NULL when it is missing. */
char *scratch_read(const struct scratch *scratch, const char *name);

/* Text written to memory between open and close; the text is to be freed. */
struct scratch_text {
    FILE *out;
    char *text;
    size_t size;
};

/* text must stay where it is until it is closed. */
void scratch_open(struct scratch_text *text);
char *scratch_close(struct scratch_text *text);

/* Times `word` occurs in text. */
size_t scratch_occurs(const char *text, const char *word);

#endif
