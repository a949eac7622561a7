/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/journal.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "pailcast/base/file.h"
#include "pailcast/base/hash.h"
#include "pailcast/base/text.h"

enum {
    JOURNAL_LINE_SIZE = 2048,
    JOURNAL_START = 8, /* bytes of a record before its numbers: world, how many */
    JOURNAL_SEAL = 8,  /* bytes after them: fingerprint of all before */
    JOURNAL_FLOATS_MAX = 1 << 20
};

static const char journal_word[] = "pailcast-study-2";

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

static FILE *journal_open(const char *path, const char *mode, struct error *error)
{
    FILE *stream = fopen(path, mode);
    if (stream == NULL) {
        (void)journal_no(error, path, "cannot be opened");
    }
    return stream;
}

/* The whole number behind a key of the head; false where there is none. */
static bool journal_whole(uint64_t *value, const char *line, const char *key, int base)
{
    const char *at = strstr(line, key);
    char *end = NULL;
    if (at == NULL) {
        return false;
    }
    at += strlen(key);
    errno = 0;
    *value = strtoull(at, &end, base);
    return end != at && errno == 0 && strchr(" /\n", *end) != NULL;
}

static bool journal_size(size_t *value, const char *line, const char *key)
{
    uint64_t found;
    const bool fine = journal_whole(&found, line, key, 10) && found <= SIZE_MAX;
    *value = fine ? (size_t)found : 0;
    return fine;
}

struct journal_head journal_head_of(const char *command, const struct scenario *scenario,
                                    size_t strategies, const char *path)
{
    struct journal_head head = {.fingerprint = scenario->fingerprint,
                                .days = scenario->duration_d,
                                .strategies = strategies,
                                .part = 1,
                                .parts = 1};
    for (size_t i = 0; i < strategies; i++) {
        const char *name = scenario->strategies[i].name;
        head.fingerprint = hash_text(head.fingerprint, name, strlen(name) + 1);
    }
    text_copy(head.command, sizeof head.command, command);
    text_copy(head.version, sizeof head.version, PAILCAST_VERSION);
    text_copy(head.scenario, sizeof head.scenario, path);
    return head;
}

/* The word behind a key; false where there is none. */
static bool journal_text(char *to, size_t size, const char *line, const char *key)
{
    const char *at = strstr(line, key);
    if (at == NULL) {
        return false;
    }
    at += strlen(key);
    (void)snprintf(to, size, "%.*s", (int)strcspn(at, " \n"), at);
    return true;
}

static bool journal_number(double *value, const char *line, const char *key)
{
    const char *at = strstr(line, key);
    *value = at != NULL ? strtod(at + strlen(key), NULL) : 0;
    return at != NULL;
}

/* Takes the head apart; its keys come before the path, in which anything may stand. */
static bool journal_parse(struct journal_head *head, char *line)
{
    const char *part = strstr(line, " part=");
    const char *file = strstr(line, " file=");
    if (strncmp(line, journal_word, strlen(journal_word)) != 0 || part == NULL ||
        file == NULL) {
        return false;
    }
    const bool fine =
        journal_text(head->command, sizeof head->command, line, " command=") &&
        journal_text(head->version, sizeof head->version, line, " version=") &&
        journal_number(&head->days, line, " days=") &&
        journal_number(&head->trouble, line, " trouble=") &&
        journal_number(&head->growth, line, " growth=") &&
        journal_size(&head->worlds, line, " worlds=") &&
        journal_whole(&head->fingerprint, line, " scenario=", 16) &&
        journal_size(&head->lives, line, " lives=") &&
        journal_whole(&head->seed, line, " seed=", 10) &&
        journal_size(&head->base, line, " base=") &&
        journal_size(&head->strategies, line, " strategies=") &&
        journal_size(&head->inputs, line, " inputs=") &&
        journal_size(&head->grid, line, " grid=") &&
        journal_size(&head->part, line, " part=") &&
        journal_size(&head->parts, part, "/");
    line[strcspn(line, "\n")] = '\0';
    (void)snprintf(head->scenario, sizeof head->scenario, "%s", file + strlen(" file="));
    return fine;
}

/* The head's line, which the stream is then past. */
static enum status journal_head(struct journal_head *head, FILE *stream, const char *path,
                                struct error *error)
{
    char line[JOURNAL_LINE_SIZE];
    *head = (struct journal_head){0};
    return fgets(line, sizeof line, stream) != NULL && strchr(line, '\n') != NULL &&
                   journal_parse(head, line)
               ? STATUS_OK
               : status_error(error, STATUS_INPUT, "%s: is no journal of a study", path);
}

/* Whether there is no journal yet: no file, or one whose head was being written when its
 * writer was killed. */
static bool journal_is_unborn(const char *path)
{
    char line[JOURNAL_LINE_SIZE] = "";
    FILE *stream = fopen(path, "rb");
    if (stream == NULL) {
        return errno == ENOENT;
    }
    const size_t size = fread(line, 1, sizeof line - 1, stream);
    const size_t word = strlen(journal_word);
    (void)fclose(stream);
    return memchr(line, '\n', size) == NULL && size < sizeof line - 1 &&
           strncmp(line, journal_word, size < word ? size : word) == 0;
}

enum status journal_read_head(struct journal_head *head, const char *path,
                              const char *command, struct error *error)
{
    FILE *stream = journal_open(path, "rb", error);
    if (stream == NULL) {
        return STATUS_INPUT;
    }
    enum status status = journal_head(head, stream, path, error);
    (void)fclose(stream);
    if (status == STATUS_OK && strcmp(head->command, command) != 0) {
        status = status_error(error, STATUS_INPUT, "%s: is of pailcast %s, not of %s",
                              path, head->command, command);
    }
    return status;
}

enum status journal_compare(const struct journal_head *found,
                            const struct journal_head *wanted, const char *path,
                            struct error *error)
{
    const char *other = NULL;
    if (strcmp(found->version, wanted->version) != 0) {
        return status_error(error, STATUS_INPUT,
                            "%s: was begun by version %s, this is %s; begin anew or go "
                            "on with that version",
                            path, found->version, wanted->version);
    }
    if (found->fingerprint != wanted->fingerprint || found->inputs != wanted->inputs) {
        return status_error(error, STATUS_INPUT,
                            "%s: is of another scenario (%s, or that file has changed "
                            "since); begin anew without --resume",
                            path, found->scenario);
    }
    if (found->days != wanted->days) {
        other = "--days";
    } else if (found->lives != wanted->lives) {
        other = "--lives";
    } else if (found->seed != wanted->seed) {
        other = "--seed";
    } else if (found->base != wanted->base || found->grid != wanted->grid) {
        other = "--matters";
    } else if (found->worlds != wanted->worlds) {
        other = "--worlds";
    } else if (found->trouble != wanted->trouble) {
        other = "--trouble";
    } else if (found->growth != wanted->growth) {
        other = "--growth";
    } else if (found->strategies != wanted->strategies) {
        other = "--strategy";
    } else {
        return STATUS_OK;
    }
    return status_error(error, STATUS_INPUT,
                        "%s: was begun with another %s; it had "
                        "%g days, %zu lives, seed %" PRIu64 ", %zu rows",
                        path, other, found->days, found->lives, found->seed, found->base);
}

/* Reads one record into *value (grown as needed). False at the end or a torn record. */
static bool journal_record(FILE *stream, unsigned char **bytes, size_t *room,
                           size_t *world, size_t *count)
{
    unsigned char start[JOURNAL_START];
    if (fread(start, 1, sizeof start, stream) != sizeof start) {
        return false;
    }
    *world = (size_t)journal_get(start, 4);
    *count = (size_t)journal_get(start + 4, 4);
    if (*count > JOURNAL_FLOATS_MAX) {
        return false;
    }
    const size_t size = JOURNAL_START + 4 * *count + JOURNAL_SEAL;
    if (*bytes == NULL || size > *room) {
        unsigned char *more = realloc(*bytes, size);
        if (more == NULL) {
            return false;
        }
        *bytes = more;
        *room = size;
    }
    memcpy(*bytes, start, sizeof start);
    if (fread(*bytes + JOURNAL_START, 1, size - JOURNAL_START, stream) !=
        size - JOURNAL_START) {
        return false;
    }
    const size_t sealed = size - JOURNAL_SEAL;
    return journal_get(*bytes + sealed, JOURNAL_SEAL) ==
           hash_text(hash_text_start, *bytes, sealed);
}

/* The numbers of a record. */
static const float *journal_floats(float *value, const unsigned char *bytes, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const uint32_t word = (uint32_t)journal_get(bytes + JOURNAL_START + 4 * i, 4);
        memcpy(&value[i], &word, sizeof word);
    }
    return value;
}

static enum status journal_records(long *whole, FILE *stream,
                                   const struct journal_reader *reader, const char *path,
                                   struct error *error)
{
    unsigned char *bytes = NULL;
    size_t room = 0;
    size_t world;
    size_t count;
    enum status status = STATUS_OK;
    *whole = ftell(stream);
    while (status == STATUS_OK && journal_record(stream, &bytes, &room, &world, &count)) {
        float *value = malloc((count + 1) * sizeof *value);
        if (value == NULL) {
            status = status_error(error, STATUS_MEMORY, "no memory for %s", path);
        } else if (!reader->take(reader->context, world,
                                 journal_floats(value, bytes, count), count)) {
            status = status_error(error, STATUS_INPUT,
                                  "%s: holds world %zu, which is not of this study or "
                                  "stands twice",
                                  path, world);
        }
        free(value);
        *whole = ftell(stream);
    }
    free(bytes);
    return status;
}

enum status journal_read(long *whole, const char *path,
                         const struct journal_reader *reader, struct error *error)
{
    struct journal_head head;
    FILE *stream = journal_open(path, "rb", error);
    if (stream == NULL) {
        return STATUS_FILE;
    }
    enum status status = journal_head(&head, stream, path, error);
    if (status == STATUS_OK) {
        status = journal_records(whole, stream, reader, path, error);
    }
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

static enum status journal_begin(struct journal *journal, const char *path,
                                 const struct journal_head *head, struct error *error)
{
    enum status status = journal_hold(journal, path, O_CREAT, error);
    if (status == STATUS_OK) {
        status = journal_cut(journal, 0, error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    (void)fprintf(journal->stream,
                  "%s command=%s version=%s scenario=%" PRIx64
                  " days=%.17g lives=%zu seed=%" PRIu64
                  " base=%zu strategies=%zu inputs=%zu grid=%zu worlds=%zu "
                  "trouble=%.17g growth=%.17g part=%zu/%zu file=%s\n",
                  journal_word, head->command, head->version, head->fingerprint,
                  head->days, head->lives, head->seed, head->base, head->strategies,
                  head->inputs, head->grid, head->worlds, head->trouble, head->growth,
                  head->part, head->parts, head->scenario);
    return fflush(journal->stream) == 0 ? STATUS_OK
                                        : journal_no(error, path, "cannot be written");
}

static enum status journal_go_on(struct journal *journal, const char *path, long whole,
                                 struct error *error)
{
    const enum status status = journal_hold(journal, path, 0, error);
    return status == STATUS_OK ? journal_cut(journal, whole, error) : status;
}

enum status journal_start(struct journal *journal, const char *path, bool resume,
                          const struct journal_head *head,
                          const struct journal_reader *reader, struct error *error)
{
    struct journal_head found;
    long whole = 0;
    if (!resume || journal_is_unborn(path)) {
        return journal_begin(journal, path, head, error);
    }
    enum status status = journal_read_head(&found, path, head->command, error);
    if (status == STATUS_OK) {
        status = journal_compare(&found, head, path, error);
    }
    if (status == STATUS_OK && (found.part != head->part || found.parts != head->parts)) {
        status = status_error(error, STATUS_INPUT, "%s: is part %zu of %zu", path,
                              found.part, found.parts);
    }
    if (status == STATUS_OK) {
        status = journal_read(&whole, path, reader, error);
    }
    return status == STATUS_OK ? journal_go_on(journal, path, whole, error) : status;
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
