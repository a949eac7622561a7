/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "slip_brackets.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

enum {
    SLIP_BRACKETS_DEEP = 32,   /* no scenario nests so deep */
    SLIP_BRACKETS_OPENING = 32 /* letters shown of what opened a bracket */
};

/* A walk over the signs of a scenario that stand outside of texts and comments. */
struct slip_brackets {
    const char *text;
    const char *at;
    int line;
    char before; /* the last sign that is no blank */
    const char *open[SLIP_BRACKETS_DEEP];
    int depth;
};

const char *slip_brackets_past_quotes(const char *at)
{
    at++;
    while (*at != '\0' && *at != '\n' && *at != '"') {
        at += at[0] == '\\' && at[1] != '\0' ? 2 : 1;
    }
    return *at == '"' ? at + 1 : at;
}

/* Past a comment that begins here, its line end not included; at itself where none does.
 */
static const char *slip_brackets_past_comment(const char *at, int *line)
{
    if (at[0] == '#' || (at[0] == '/' && at[1] == '/')) {
        return at + strcspn(at, "\n");
    }
    if (at[0] != '/' || at[1] != '*') {
        return at;
    }
    for (at += 2; *at != '\0' && !(at[0] == '*' && at[1] == '/'); at++) {
        *line += *at == '\n' ? 1 : 0;
    }
    return *at != '\0' ? at + 2 : at;
}

/* Goes on to the next sign from here, past blanks and comments; false at the end. */
static bool slip_brackets_settle(struct slip_brackets *walk)
{
    for (;;) {
        const char *past = slip_brackets_past_comment(walk->at, &walk->line);
        if (past == walk->at && isspace((unsigned char)*past) == 0) {
            return *past != '\0';
        }
        if (past == walk->at) {
            walk->line += *past == '\n' ? 1 : 0;
            past++;
        }
        walk->at = past;
    }
}

/* Leaves the sign the walk stands at for the next. */
static bool slip_brackets_next(struct slip_brackets *walk)
{
    walk->before = *walk->at;
    walk->at = *walk->at == '"' ? slip_brackets_past_quotes(walk->at) : walk->at + 1;
    return slip_brackets_settle(walk);
}

static char slip_brackets_closer(char opener)
{
    static const char pairs[] = "{}()[]";
    return strchr(pairs, opener)[1];
}

/* A bracket by what stands before it on its line, or else behind: "bucket = {". */
static void slip_brackets_opening(char *to, size_t size, const char *text,
                                  const char *bracket)
{
    const char *first = bracket;
    const char *end = bracket + 1;
    while (first > text && strchr("\n;,{([", first[-1]) == NULL) {
        first--;
    }
    first += strspn(first, " \t");
    if (first == bracket) {
        end += strcspn(end, ";,{}()[]\n");
    }
    (void)snprintf(to, size, "%.*s", (int)(end - first), first);
}

static bool slip_brackets_comma(char to[SLIP_SIZE], const struct slip_brackets *walk)
{
    const char at = *walk->at;
    const bool lacking = at == '{' && walk->before == '}';
    const bool doubled = at == ',' && walk->before == ',';
    const bool trailing = strchr("})]", at) != NULL && walk->before == ',';
    if (lacking) {
        (void)snprintf(to, SLIP_SIZE,
                       "a comma is missing before this {; entries of a list "
                       "read { ... }, { ... }");
    } else if (doubled) {
        (void)snprintf(to, SLIP_SIZE, "two commas stand here; write one");
    } else if (trailing) {
        (void)snprintf(to, SLIP_SIZE,
                       "a comma stands before this %c; leave it out, none follows the "
                       "last %s",
                       at, at == '}' ? "key" : "entry");
    }
    return lacking || doubled || trailing;
}

/* What opened the bracket that this sign closes, and is no longer open; NULL for others.
 */
static const char *slip_brackets_keep(struct slip_brackets *walk)
{
    const char at = *walk->at;
    if (strchr("{([", at) != NULL) {
        walk->open[walk->depth++] = walk->at;
    }
    return strchr("})]", at) != NULL && walk->depth > 0 ? walk->open[--walk->depth]
                                                        : NULL;
}

static void slip_brackets_cross(char to[SLIP_SIZE], const struct slip_brackets *walk,
                                const char *opener)
{
    char opening[SLIP_BRACKETS_OPENING + 1];
    slip_brackets_opening(opening, sizeof opening, walk->text, opener);
    (void)snprintf(to, SLIP_SIZE,
                   "this %c does not close \"%s\"; write %c in its place, or before it",
                   *walk->at, opening, slip_brackets_closer(*opener));
}

bool slip_brackets_words(char to[SLIP_SIZE], const char *text, int line)
{
    struct slip_brackets walk = {.text = text, .at = text, .line = 1, .before = ' '};
    bool more = slip_brackets_settle(&walk);
    while (more && walk.line <= line && walk.depth < SLIP_BRACKETS_DEEP) {
        if (walk.line == line && slip_brackets_comma(to, &walk)) {
            return true;
        }
        const char *opener = slip_brackets_keep(&walk);
        if (opener != NULL && *walk.at != slip_brackets_closer(*opener)) {
            slip_brackets_cross(to, &walk, opener);
            return walk.line == line;
        }
        more = slip_brackets_next(&walk);
    }
    return false;
}
