/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "journal_parts.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "pailcast/base/file.h"
#include "pailcast/base/hash.h"

enum {
    JOURNAL_START = 8, /* bytes of a record before its numbers: world, how many */
    JOURNAL_SEAL = 8,  /* bytes after them: fingerprint of all before */
    JOURNAL_FLOATS_MAX = 1 << 20,
    JOURNAL_BYTES_MAX = JOURNAL_START + 4 * JOURNAL_FLOATS_MAX + JOURNAL_SEAL
};

static void journal_put(unsigned char *to, uint64_t value, int bytes)
{
    for (int i = 0; i < bytes; i++) {
        to[i] = (unsigned char)(value >> (8 * i));
    }
}

static uint64_t journal_get(const unsigned char *from, int bytes)
{
    uint64_t value = 0;
    for (int i = 0; i < bytes; i++) {
        value |= (uint64_t)from[i] << (8 * i);
    }
    return value;
}

static enum status journal_no(struct error *error, const char *path, const char *what)
{
    return status_error(error, STATUS_FILE, "%s: %s: %s", path, what, strerror(errno));
}

/* Reads one record into bytes. False at the end or a torn record. */
static bool journal_record(unsigned char bytes[JOURNAL_BYTES_MAX], size_t *world,
                           size_t *count, FILE *stream)
{
    if (fread(bytes, 1, JOURNAL_START, stream) != JOURNAL_START) {
        return false;
    }
    *world = (size_t)journal_get(bytes, 4);
    *count = (size_t)journal_get(bytes + 4, 4);
    const size_t rest = 4 * *count + JOURNAL_SEAL;
    const size_t sealed = JOURNAL_START + 4 * *count;
    return *count <= JOURNAL_FLOATS_MAX &&
           fread(bytes + JOURNAL_START, 1, rest, stream) == rest &&
           journal_get(bytes + sealed, JOURNAL_SEAL) ==
               hash_text(hash_text_start, bytes, sealed);
}

static void journal_floats(float value[], const unsigned char *bytes, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const uint32_t word = (uint32_t)journal_get(bytes + JOURNAL_START + 4 * i, 4);
        memcpy(&value[i], &word, sizeof word);
    }
}

static enum status journal_give(const struct journal_reader *reader, size_t world,
                                const float value[], size_t count, const char *path,
                                struct error *error)
{
    const enum status status = reader->take(reader->context, world, value, count);
    return status == STATUS_INPUT
               ? status_error(error, status,
                              "%s: holds world %zu, which is not of this study or stands "
                              "twice",
                              path, world)
           : status != STATUS_OK ? status_error(error, status, "no memory for %s", path)
                                 : STATUS_OK;
}

/* Hands every whole record to the reader; *whole receives where the last of them ends. */
static enum status journal_records(long *whole, FILE *stream,
                                   const struct journal_reader *reader, const char *path,
                                   struct error *error)
{
    unsigned char *bytes = malloc(JOURNAL_BYTES_MAX);
    float *value = malloc(JOURNAL_FLOATS_MAX * sizeof *value);
    size_t world;
    size_t count;
    enum status status = STATUS_OK;
    if (bytes == NULL || value == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for %s", path);
    }
    *whole = ftell(stream);
    while (status == STATUS_OK && journal_record(bytes, &world, &count, stream)) {
        journal_floats(value, bytes, count);
        status = journal_give(reader, world, value, count, path, error);
        *whole = ftell(stream);
    }
    if (status == STATUS_OK && ferror(stream) != 0) {
        status = journal_no(error, path, "cannot be read");
    }
    free(bytes);
    free(value);
    return status;
}

/* Head and records of the study that is wanted. */
static enum status journal_take(long *whole, FILE *stream,
                                const struct journal_head *wanted,
                                const struct journal_reader *reader, const char *path,
                                struct error *error)
{
    struct journal_head found;
    enum status status = journal_head_scan(&found, stream, path, wanted->command, error);
    if (status == STATUS_OK) {
        status = journal_head_compare(&found, wanted, path, error);
    }
    return status == STATUS_OK ? journal_records(whole, stream, reader, path, error)
                               : status;
}

/* Opens one that somebody named; NULL, and told, where it cannot be. */
static FILE *journal_open(const char *path, struct error *error)
{
    FILE *stream = fopen(path, "rb");
    if (stream == NULL) {
        (void)journal_no(error, path, "cannot be opened");
    }
    return stream;
}

enum status journal_read_head(struct journal_head *head, const char *path,
                              const char *command, struct error *error)
{
    FILE *stream = journal_open(path, error);
    if (stream == NULL) {
        return STATUS_INPUT;
    }
    const enum status status = journal_head_scan(head, stream, path, command, error);
    (void)fclose(stream);
    return status;
}

enum status journal_read(const char *path, const struct journal_head *wanted,
                         const struct journal_reader *reader, struct error *error)
{
    long whole;
    FILE *stream = journal_open(path, error);
    if (stream == NULL) {
        return STATUS_INPUT;
    }
    const enum status status = journal_take(&whole, stream, wanted, reader, path, error);
    (void)fclose(stream);
    return status;
}

/* True when path still leads to the open file: who held it before may have removed it. */
static bool journal_is_at(int descriptor, const char *path)
{
    struct stat open_file;
    struct stat found;
    return fstat(descriptor, &open_file) == 0 && stat(path, &found) == 0 &&
           open_file.st_dev == found.st_dev && open_file.st_ino == found.st_ino;
}

/* Opens a journal for this process alone; a study that already writes there goes on. */
static enum status journal_hold(struct journal *journal, const char *path, int flags,
                                struct error *error)
{
    (void)snprintf(journal->path, sizeof journal->path, "%s", path);
    int descriptor = open(path, O_RDWR | O_CLOEXEC | flags, 0666);
    if (descriptor < 0) {
        return journal_no(error, path, "cannot be opened");
    }
    if (file_lock(descriptor) == FILE_LOCK_TAKEN || !journal_is_at(descriptor, path)) {
        (void)close(descriptor);
        return status_error(error, STATUS_INPUT,
                            "%s: another study is writing it; wait for that one, or give "
                            "another folder with --out",
                            path);
    }
    journal->stream = fdopen(descriptor, "r+b");
    if (journal->stream == NULL) {
        (void)close(descriptor);
        return journal_no(error, path, "cannot be opened");
    }
    return STATUS_OK;
}

/* Cuts the journal to `whole` bytes, to go on from there. */
static enum status journal_cut(struct journal *journal, long whole, struct error *error)
{
    const bool cut = ftruncate(fileno(journal->stream), whole) == 0 &&
                     fseek(journal->stream, whole, SEEK_SET) == 0;
    return cut ? STATUS_OK : journal_no(error, journal->path, "cannot be written");
}

enum status journal_start(struct journal *journal, const char *path, bool resume,
                          const struct journal_head *head,
                          const struct journal_reader *reader, struct error *error)
{
    long whole = 0;
    enum status status = journal_hold(journal, path, O_CREAT, error);
    if (status != STATUS_OK) {
        return status;
    }
    const bool begins = !resume || journal_head_is_unborn(journal->stream);
    if (!begins) {
        status = journal_take(&whole, journal->stream, head, reader, path, error);
    }
    if (status == STATUS_OK) {
        status = journal_cut(journal, whole, error);
    }
    if (status == STATUS_OK && begins) {
        journal_head_print(journal->stream, head);
        status = fflush(journal->stream) == 0
                     ? STATUS_OK
                     : journal_no(error, path, "cannot be written");
    }
    return status;
}

enum status journal_add(struct journal *journal, size_t world, const float value[],
                        size_t count, struct error *error)
{
    const size_t sealed = JOURNAL_START + 4 * count;
    unsigned char *bytes = malloc(sealed + JOURNAL_SEAL);
    if (bytes == NULL) {
        return status_error(error, STATUS_MEMORY, "no memory for the journal");
    }
    journal_put(bytes, journal->first + world, 4);
    journal_put(bytes + 4, count, 4);
    for (size_t i = 0; i < count; i++) {
        uint32_t word;
        memcpy(&word, &value[i], sizeof word);
        journal_put(bytes + JOURNAL_START + 4 * i, word, 4);
    }
    journal_put(bytes + sealed, hash_text(hash_text_start, bytes, sealed), JOURNAL_SEAL);
    const size_t wrote = fwrite(bytes, 1, sealed + JOURNAL_SEAL, journal->stream);
    free(bytes);
    if (wrote != sealed + JOURNAL_SEAL || fflush(journal->stream) != 0) {
        return journal_no(error, journal->path,
                          "cannot be written; what was finished before is in it, go on "
                          "with --resume");
    }
    return STATUS_OK;
}

enum status journal_close(struct journal *journal, struct error *error)
{
    FILE *stream = journal->stream;
    journal->stream = NULL;
    return stream == NULL || fclose(stream) == 0
               ? STATUS_OK
               : journal_no(error, journal->path, "cannot be written");
}

void journal_remove(const char *path)
{
    struct journal journal = {0};
    if (journal_hold(&journal, path, 0, NULL) == STATUS_OK) {
        (void)unlink(path);
        (void)fclose(journal.stream);
    }
}
