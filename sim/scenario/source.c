/* SPDX-License-Identifier: GPL-3.0-or-later */
/* realpath is in the X/Open part of POSIX */
#define _XOPEN_SOURCE 700

/* Includes are put in place here rather than by libconfig: its 1.5 looks into one folder
 * only, cannot be told where it may look, and loses the file names when a nested parse
 * fails. */
#include "source.h"

#include <errno.h>
#include <limits.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "include.h"
#include "nearest.h"
#include "pailcast/base/file.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/catalog.h"

/* What one reading keeps in mind. */
struct source_job {
    struct source *source;
    struct error *error;
    char *top;     /* real folder of the scenario; owned */
    char *shipped; /* real folder of the shipped scenarios, or NULL; owned */
    const char *open[SOURCE_DEPTH_MAX + 1]; /* real paths being read; borrowed */
    size_t depth;
};

/* A place in a file that a message can name. */
struct source_spot {
    const char *name;
    int line;
};

static enum status source_file(struct source_job *job, const char *path,
                               const struct source_spot *from);

static bool source_grow(void **block, size_t *room, size_t wanted, size_t size)
{
    if (wanted <= *room) {
        return true;
    }
    size_t more = wanted > 2 * *room ? wanted + 1024 : 2 * *room;
    void *grown = realloc(*block, more * size);
    if (grown == NULL) {
        return false;
    }
    *block = grown;
    *room = more;
    return true;
}

static enum status source_add_line(struct source_job *job, const char *line,
                                   size_t length, int file, int number)
{
    struct source *source = job->source;
    if (source->used + length + 2 > SOURCE_ALL_BYTES) {
        return status_error(job->error, STATUS_INPUT,
                            "%s:%d: the scenario with all it includes is too long",
                            source->names[file], number);
    }
    if (!source_grow((void **)&source->text, &source->room, source->used + length + 2,
                     1) ||
        !source_grow((void **)&source->lines, &source->line_room, source->line_count + 1,
                     sizeof *source->lines)) {
        return status_error(job->error, STATUS_MEMORY, "out of memory");
    }
    memcpy(source->text + source->used, line, length);
    source->used += length;
    source->text[source->used++] = '\n';
    source->text[source->used] = '\0';
    source->lines[source->line_count++] = (struct source_line){file, number};
    return STATUS_OK;
}

/* Length of the first line of text, without CR and LF. */
static size_t source_line_length(const char *text, const char *end, const char **next)
{
    const char *newline = memchr(text, '\n', (size_t)(end - text));
    *next = newline != NULL ? newline + 1 : end;
    const char *stop = newline != NULL ? newline : end;
    while (stop > text && stop[-1] == '\r') {
        stop--;
    }
    return (size_t)(stop - text);
}

static bool source_inside(const char *path, const char *folder)
{
    size_t length = folder != NULL ? strlen(folder) : 0;
    return length > 0 && strncmp(path, folder, length) == 0 &&
           (path[length] == '/' || path[length] == '\0' || folder[length - 1] == '/');
}

/* The folder of a path, with its slash; "" for a bare name. folder[FILE_PATH_SIZE]. */
static void source_folder(char *folder, const char *path)
{
    const char *slash = strrchr(path, '/');
    size_t length = slash != NULL ? (size_t)(slash - path) + 1 : 0;
    length = length < FILE_PATH_SIZE ? length : 0;
    memcpy(folder, path, length);
    folder[length] = '\0';
}

static void source_hint(char hint[NEAREST_HINT_SIZE], const char *name)
{
    char stem[64];
    const char *slash = strrchr(name, '/');
    text_copy(stem, sizeof stem, slash != NULL ? slash + 1 : name);
    stem[strcspn(stem, ".")] = '\0';
    hint[0] = '\0';
    size_t least = (size_t)-1;
    for (int shelf = 0; shelf < CATALOG_SHELF_COUNT; shelf++) {
        char **names;
        size_t count;
        if (catalog_names(&names, &count, (enum catalog_shelf)shelf, NULL) != STATUS_OK) {
            continue;
        }
        for (size_t i = 0; i < count; i++) {
            char full[256];
            (void)snprintf(full, sizeof full, "%s/%s.cfg", catalog_shelf_folder[shelf],
                           names[i]);
            struct nearest nearest = nearest_to(stem);
            nearest_consider(&nearest, names[i]);
            if (nearest.found != NULL && nearest.distance < least) {
                least = nearest.distance;
                nearest.found = full;
                nearest_hint(hint, &nearest);
            }
        }
        catalog_free_names(names, count);
    }
}

/* Reads name as seen from a file: beside it, then among the shipped files. */
static enum status source_follow(struct source_job *job, const char *name,
                                 const struct source_spot *spot)
{
    char beside[2 * FILE_PATH_SIZE];
    char folder[FILE_PATH_SIZE];
    const char *const show = name[0] != '\0' ? name : "(nothing)";
    struct stat found;
    if (name[0] == '/' || name[0] == '\0') {
        return status_error(
            job->error, STATUS_INPUT,
            "%s:%d: %.200s cannot be included; a name like "
            "\"crops/tomato.cfg\" is, from this folder or the shipped ones",
            spot->name, spot->line, show);
    }
    source_folder(folder, spot->name);
    (void)snprintf(beside, sizeof beside, "%s%s", folder, name);
    if (stat(beside, &found) != 0 && job->shipped != NULL) {
        char shipped[2 * FILE_PATH_SIZE];
        (void)snprintf(shipped, sizeof shipped, "%s/scenarios/%s", catalog_folder(),
                       name);
        if (stat(shipped, &found) == 0) {
            return source_file(job, shipped, spot);
        }
    }
    if (stat(beside, &found) != 0) {
        char hint[NEAREST_HINT_SIZE];
        source_hint(hint, name);
        return status_error(job->error, STATUS_INPUT,
                            "%s:%d: there is no \"%.200s\" beside this file or among the "
                            "shipped files%s",
                            spot->name, spot->line, name, hint);
    }
    return source_file(job, beside, spot);
}

static const char *source_fault_words(enum include_fault fault)
{
    switch (fault) {
    case INCLUDE_STRAY:
        return "an include stands on a line of its own, as in @include "
               "\"crops/tomato.cfg\"";
    case INCLUDE_QUOTE:
        return "a curly or single quote stands here; write the plain double quote, as in "
               "\"19 L\"";
    default:
        return "a whole number of more than nine digits stands here, which no setting "
               "takes";
    }
}

/* One line: copied, or the file it includes put in its place. */
static enum status source_take_line(struct source_job *job, const char *line,
                                    size_t length, int file, int number,
                                    enum include_state *state)
{
    char name[FILE_PATH_SIZE];
    const struct source_spot spot = {job->source->names[file], number};
    enum include_kind include =
        *state == INCLUDE_PLAIN ? include_name(name, line, length) : INCLUDE_NONE;
    enum include_fault fault = include == INCLUDE_BAD ? INCLUDE_STRAY : INCLUDE_FINE;
    if (include == INCLUDE_FILE) {
        return source_follow(job, name, &spot);
    }
    *state = include_scan(line, length, *state, &fault);
    if (fault == INCLUDE_QUOTE) {
        *state = INCLUDE_PLAIN; /* it was meant to begin or end a text of this line */
    }
    if (fault != INCLUDE_FINE) {
        return status_error(job->error, STATUS_INPUT, "%s:%d: %s", spot.name, spot.line,
                            source_fault_words(fault));
    }
    return source_add_line(job, line, length, file, number);
}

/* All lines of one file's text. Mistakes do not end it: further ones are found too. */
static enum status source_lines(struct source_job *job, const char *text, size_t length,
                                int file)
{
    enum status worst = STATUS_OK;
    enum include_state state = INCLUDE_PLAIN;
    const char *end = text + length;
    int number = 0;
    int opened = 1;
    for (const char *at = text; at < end && worst != STATUS_MEMORY;) {
        const char *next;
        size_t width = source_line_length(at, end, &next);
        number++;
        enum include_state before = state;
        enum status status = source_take_line(job, at, width, file, number, &state);
        worst = status != STATUS_OK ? status : worst;
        opened = state != before ? number : opened;
        at = next;
    }
    if (state != INCLUDE_PLAIN) {
        return status_error(job->error, STATUS_INPUT,
                            "%s:%d: a %s begins here and does not end; close it with %s",
                            job->source->names[file], opened,
                            state == INCLUDE_TEXT ? "text" : "comment",
                            state == INCLUDE_TEXT ? "\"" : "*/");
    }
    return worst;
}

/* The line of the first byte that no text file holds; 0 when there is none. */
static int source_noise(const char *text, size_t length)
{
    int line = 1;
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)text[i];
        if (c == '\n') {
            line++;
        } else if ((c < 0x20 && strchr("\t\r\f", c) == NULL) || c == '\0' || c == 0x7f) {
            return line;
        }
    }
    return 0;
}

/* The whole of a plain file; NULL with a message. The caller frees it. */
static char *source_load(const char *path, size_t *length, const struct source_spot *from,
                         struct error *error)
{
    const char *why = NULL;
    FILE *file = file_open_plain(path, &why);
    char *text = file != NULL ? malloc(SOURCE_FILE_BYTES + 1) : NULL;
    *length = text != NULL ? fread(text, 1, SOURCE_FILE_BYTES + 1, file) : 0;
    if (file != NULL && text == NULL) {
        why = "cannot be read for want of memory";
    } else if (file != NULL && ferror(file) != 0) {
        why = "cannot be read";
    } else if (*length > SOURCE_FILE_BYTES) {
        why = "is longer than 1 MiB, which no scenario is";
    }
    if (file != NULL) {
        (void)fclose(file);
    }
    if (why != NULL) {
        (void)status_error(error, STATUS_INPUT, "%s:%d: %s: %s", from->name, from->line,
                           path, why);
        free(text);
        return NULL;
    }
    return text;
}

/* Enters a file's name for messages; -1 with a message when there are too many. */
static int source_enter(struct source_job *job, const char *path,
                        const struct source_spot *from)
{
    struct source *source = job->source;
    if (source->file_count == SOURCE_FILES_MAX) {
        (void)status_error(job->error, STATUS_INPUT,
                           "%s:%d: more than %d files are included", from->name,
                           from->line, SOURCE_FILES_MAX);
        return -1;
    }
    char *name = strdup(path);
    if (name == NULL) {
        (void)status_error(job->error, STATUS_MEMORY, "out of memory");
        return -1;
    }
    source->names[source->file_count] = name;
    return (int)source->file_count++;
}

static enum status source_text(struct source_job *job, const char *path,
                               const struct source_spot *from)
{
    size_t length;
    char *text = source_load(path, &length, from, job->error);
    int file = text != NULL ? source_enter(job, path, from) : -1;
    if (file < 0) {
        free(text);
        return STATUS_INPUT;
    }
    static const char mark[] = "\xef\xbb\xbf"; /* UTF-8 byte order mark */
    size_t skip = length >= 3 && memcmp(text, mark, 3) == 0 ? 3 : 0;
    int noise = source_noise(text, length);
    enum status status =
        noise > 0 ? status_error(job->error, STATUS_INPUT,
                                 "%s:%d: this is not a text file; a scenario is plain "
                                 "text, one key = value; a line",
                                 path, noise)
                  : source_lines(job, text + skip, length - skip, file);
    free(text);
    return status;
}

/* Why a file may not be included from where it is; NULL when it may. */
static const char *source_objection(const struct source_job *job, const char *real)
{
    for (size_t i = 0; i < job->depth; i++) {
        if (strcmp(job->open[i], real) == 0) {
            return i + 1 == job->depth ? "includes itself"
                                       : "is included again by a file it includes";
        }
    }
    if (job->depth > 0 && !source_inside(real, job->top) &&
        !source_inside(real, job->shipped)) {
        return "lies outside the scenario's folder; copy it there to include it";
    }
    if (job->depth > SOURCE_DEPTH_MAX) {
        return "is nested too deep; at most 10 files may lie inside one another";
    }
    return NULL;
}

static enum status source_file(struct source_job *job, const char *path,
                               const struct source_spot *from)
{
    char *real = realpath(path, NULL);
    if (real == NULL) {
        return status_error(job->error, STATUS_INPUT, "%s:%d: %s cannot be opened: %s",
                            from->name, from->line, path, strerror(errno));
    }
    enum status status;
    const char *objection = source_objection(job, real);
    if (objection != NULL) {
        status = status_error(job->error, STATUS_INPUT, "%s:%d: %s %s", from->name,
                              from->line, path, objection);
    } else {
        job->open[job->depth++] = real;
        status = source_text(job, path, from);
        job->depth--;
    }
    free(real);
    return status;
}

enum status source_read(struct source *source, const char *path, struct error *error)
{
    struct source_job job = {.source = source, .error = error};
    struct stat found;
    if (stat(path, &found) != 0) {
        return status_error(error, STATUS_INPUT, "%s: %s; give the path of a file", path,
                            strerror(errno));
    }
    char folder[FILE_PATH_SIZE];
    source_folder(folder, path);
    job.top = realpath(folder[0] != '\0' ? folder : ".", NULL);
    char shipped[FILE_PATH_SIZE + 16];
    (void)snprintf(shipped, sizeof shipped, "%s/scenarios", catalog_folder());
    job.shipped = catalog_folder()[0] != '\0' ? realpath(shipped, NULL) : NULL;
    const struct source_spot start = {path, 1};
    enum status status = source_file(&job, path, &start);
    free(job.top);
    free(job.shipped);
    return status;
}

void source_free(struct source *source)
{
    free(source->text);
    free(source->lines);
    for (size_t i = 0; i < source->file_count; i++) {
        free(source->names[i]);
    }
    *source = (struct source){0};
}

const char *source_place(const struct source *source, int line, int *file_line)
{
    if (line < 1 || (size_t)line > source->line_count) {
        *file_line = 1;
        return source->names[0];
    }
    *file_line = source->lines[line - 1].line;
    return source->names[source->lines[line - 1].file];
}
