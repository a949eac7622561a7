/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the fuzz targets share. A target is one function, called with bytes as they come;
 * it ends the program where something is not as it must be. Driven by the compiler's
 * fuzzer (make fuzz), or by replay.c over the files kept in corpus/. */
#ifndef TESTS_FUZZ_TARGET_H
#define TESTS_FUZZ_TARGET_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Whether an input is more than something to refuse. A target that defines it is mostly
 * given such. */
bool target_accepts(const uint8_t *data, size_t size) __attribute__((weak));

static inline void target_need(bool good, const char *what)
{
    if (!good) {
        (void)fprintf(stderr, "not as it must be: %s\n", what);
        abort();
    }
}

/* The bytes as a text that ends; to be freed. */
static inline char *target_text(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    target_need(text != NULL, "memory");
    if (size > 0) {
        memcpy(text, data, size);
    }
    text[size] = '\0';
    return text;
}

enum {
    TARGET_PATH_SIZE = 512
};

/* Writes the bytes to a file of this process in the folder TMPDIR, best one in memory. */
static inline void target_file(char path[TARGET_PATH_SIZE], const uint8_t *data,
                               size_t size, const char *ending)
{
    const char *folder = getenv("TMPDIR");
    (void)snprintf(path, TARGET_PATH_SIZE, "%s/pailcast-fuzz-%ld%s",
                   folder != NULL ? folder : "/tmp", (long)getpid(), ending);
    FILE *file = fopen(path, "wb");
    target_need(file != NULL, path);
    target_need(fwrite(data, 1, size, file) == size && fclose(file) == 0, path);
}

#endif
