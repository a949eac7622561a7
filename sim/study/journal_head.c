/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first line of a journal: which study it is of. */
#include <errno.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "journal_parts.h"
#include "pailcast/base/hash.h"
#include "pailcast/base/text.h"

enum {
    JOURNAL_LINE_SIZE = 2048
};

/* Ends in the number of what records hold: one more whenever that changes. */
static const char journal_word[] = "pailcast-study-3";

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

/* Whether the line begins a journal whose records hold something else. */
static bool journal_is_other(const char *line)
{
    const size_t word = strlen(journal_word);
    return strncmp(line, journal_word, word - 1) == 0 &&
           (line[word - 1] != journal_word[word - 1] || line[word] != ' ');
}

enum status journal_head_scan(struct journal_head *head, FILE *stream, const char *path,
                              const char *command, struct error *error)
{
    char line[JOURNAL_LINE_SIZE];
    *head = (struct journal_head){0};
    const bool whole =
        fgets(line, sizeof line, stream) != NULL && strchr(line, '\n') != NULL;
    if (whole && journal_is_other(line)) {
        return status_error(error, STATUS_INPUT,
                            "%s: is of another build, which keeps other numbers of a "
                            "life; begin anew, or go on with that one",
                            path);
    }
    if (!whole || !journal_parse(head, line)) {
        return status_error(error, STATUS_INPUT, "%s: is no journal of a study", path);
    }
    return strcmp(head->command, command) == 0
               ? STATUS_OK
               : status_error(error, STATUS_INPUT, "%s: is of pailcast %s, not of %s",
                              path, head->command, command);
}

void journal_head_print(FILE *stream, const struct journal_head *head)
{
    (void)fprintf(stream,
                  "%s command=%s version=%s scenario=%" PRIx64
                  " days=%.17g lives=%zu seed=%" PRIu64
                  " base=%zu strategies=%zu inputs=%zu grid=%zu worlds=%zu "
                  "trouble=%.17g growth=%.17g part=%zu/%zu file=%s\n",
                  journal_word, head->command, head->version, head->fingerprint,
                  head->days, head->lives, head->seed, head->base, head->strategies,
                  head->inputs, head->grid, head->worlds, head->trouble, head->growth,
                  head->part, head->parts, head->scenario);
}

bool journal_head_is_unborn(FILE *stream)
{
    char line[JOURNAL_LINE_SIZE];
    const size_t size = fread(line, 1, sizeof line, stream);
    const size_t word = strlen(journal_word);
    rewind(stream);
    return memchr(line, '\n', size) == NULL && size < sizeof line &&
           strncmp(line, journal_word, size < word ? size : word) == 0;
}

enum status journal_head_compare(const struct journal_head *found,
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
    } else if (wanted->parts > 0 &&
               (found->part != wanted->part || found->parts != wanted->parts)) {
        return status_error(error, STATUS_INPUT, "%s: is part %zu of %zu", path,
                            found->part, found->parts);
    } else {
        return STATUS_OK;
    }
    return status_error(error, STATUS_INPUT,
                        "%s: was begun with another %s; it had "
                        "%g %s, %zu %s, seed %" PRIu64 ", %zu %s",
                        path, other, found->days, text_plural(found->days, "day", "days"),
                        found->lives, text_plural((double)found->lives, "life", "lives"),
                        found->seed, found->base,
                        text_plural((double)found->base, "row", "rows"));
}
