/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "slip_brackets.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

enum {
    SLIP_BRACKETS_DEEP = 32,   /* no scenario nests so deep */
    SLIP_BRACKETS_OPENING = 32 /* letters shown of what opened a bracket */
};

struct slip_bracket {
    const char *at;
    int line;
};

/* A walk over the signs of a scenario that stand outside of texts and comments. */
struct slip_brackets {
    const char *text;
    const char *at;
    int line;
    char before; /* the last sign that is no blank */
    struct slip_bracket open[SLIP_BRACKETS_DEEP];
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
        while (isspace((unsigned char)end[-1]) != 0) {
            end--;
        }
    }
    (void)snprintf(to, size, "%.*s", (int)(end - first), first);
}

/* The sign that opened the bracket so many levels out from here, 0 the innermost; a blank
 * where there is none. */
static char slip_brackets_around(const struct slip_brackets *walk, int levels)
{
    if (walk->depth <= levels) {
        return ' ';
    }
    return *walk->open[walk->depth - 1 - levels].at;
}

/* Whether a key and its = begin here. */
static bool slip_brackets_is_key(const struct slip_brackets *walk)
{
    static const char name[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                               "0123456789_-*";
    const char *at = walk->at;
    if (isalpha((unsigned char)*at) == 0 ||
        (at > walk->text && strchr(name, at[-1]) != NULL)) {
        return false;
    }
    at += strspn(at, name);
    at += strspn(at, " \t");
    return *at == '=' || *at == ':';
}

/* Whether what stands here cannot stand within the innermost bracket, so that this was to
 * be closed before. */
static bool slip_brackets_is_outside(const struct slip_brackets *walk)
{
    const char around = slip_brackets_around(walk, 0);
    if (around == '{') {
        return *walk->at == '{' && slip_brackets_around(walk, 1) == '(' &&
               strchr(";,}", walk->before) != NULL;
    }
    return strchr("([", around) != NULL && walk->before != around &&
           (*walk->at == ';' || slip_brackets_is_key(walk));
}

/* The line of the innermost bracket, which is never closed. */
static int slip_brackets_unclosed(char to[SLIP_SIZE], const struct slip_brackets *walk)
{
    char opening[SLIP_BRACKETS_OPENING + 1];
    const struct slip_bracket *bracket = &walk->open[walk->depth - 1];
    slip_brackets_opening(opening, sizeof opening, walk->text, bracket->at);
    (void)snprintf(to, SLIP_SIZE, "\"%s\" is never closed; write %c where it ends",
                   opening, slip_brackets_closer(*bracket->at));
    return bracket->line;
}

/* The line of a bracket of the wrong kind, or one that lacks its entry's: a list of
 * groups is wanted here. 0 where it is none of these. */
static int slip_brackets_list(char to[SLIP_SIZE], const struct slip_brackets *walk)
{
    const char around = slip_brackets_around(walk, 0);
    const char out = slip_brackets_around(walk, 1);
    if (*walk->at == '{' && walk->before == around && strchr("{[", around) != NULL &&
        out != '(') {
        char opening[SLIP_BRACKETS_OPENING + 1];
        const struct slip_bracket *bracket = &walk->open[walk->depth - 1];
        slip_brackets_opening(opening, sizeof opening, walk->text, bracket->at);
        (void)snprintf(to, SLIP_SIZE,
                       "\"%s\" holds a list; write ( in place of its %c, and ) where it "
                       "ends",
                       opening, around);
        return bracket->line;
    }
    if (around == '(' && walk->before == '(' && slip_brackets_is_key(walk)) {
        (void)snprintf(to, SLIP_SIZE,
                       "a { is missing behind this (; entries of a list read { ... }, { "
                       "... }");
        return walk->line;
    }
    return 0;
}

/* Whether the next sign is the one given. */
static bool slip_brackets_then(struct slip_brackets walk, char sign)
{
    return slip_brackets_next(&walk) && *walk.at == sign;
}

static bool slip_brackets_comma(char to[SLIP_SIZE], const struct slip_brackets *walk)
{
    const char at = *walk->at;
    const bool lacking = at == '{' && walk->before == '}';
    const bool doubled = at == ',' && walk->before == ',';
    const bool trailing = strchr("})]", at) != NULL && walk->before == ',';
    const bool other = at == ';' && slip_brackets_around(walk, 0) == '(' &&
                       slip_brackets_then(*walk, '{');
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
    } else if (other) {
        (void)snprintf(to, SLIP_SIZE,
                       "a ; stands between entries of a list; write a comma, as in "
                       "{ ... }, { ... }");
    }
    return lacking || doubled || trailing || other;
}

/* What opened the bracket that this sign closes, and is no longer open; NULL for others.
 */
static const char *slip_brackets_keep(struct slip_brackets *walk)
{
    const char at = *walk->at;
    if (strchr("{([", at) != NULL) {
        walk->open[walk->depth++] = (struct slip_bracket){walk->at, walk->line};
    }
    return strchr("})]", at) != NULL && walk->depth > 0 ? walk->open[--walk->depth].at
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

/* The line of what is wrong with the sign the walk stands at; 0 where nothing is. */
static int slip_brackets_here(char to[SLIP_SIZE], const struct slip_brackets *walk)
{
    const int list = slip_brackets_list(to, walk);
    if (list > 0) {
        return list;
    }
    if (*walk->at != ';' && slip_brackets_is_outside(walk)) {
        return slip_brackets_unclosed(to, walk);
    }
    if (slip_brackets_comma(to, walk)) {
        return walk->line;
    }
    return slip_brackets_is_outside(walk) ? slip_brackets_unclosed(to, walk) : 0;
}

int slip_brackets_words(char to[SLIP_SIZE], const char *text, int line)
{
    struct slip_brackets walk = {.text = text, .at = text, .line = 1, .before = ' '};
    bool more = slip_brackets_settle(&walk);
    int last = 0; /* line of the last sign */
    while (more && walk.line <= line && walk.depth < SLIP_BRACKETS_DEEP) {
        const int here = walk.line == line ? slip_brackets_here(to, &walk) : 0;
        if (here > 0) {
            return here;
        }
        const char *opener = slip_brackets_keep(&walk);
        if (opener != NULL && *walk.at != slip_brackets_closer(*opener)) {
            slip_brackets_cross(to, &walk, opener);
            return walk.line == line ? line : 0;
        }
        last = walk.line;
        more = slip_brackets_next(&walk);
    }
    /* The parser met the end while it waited for more. */
    const bool end = !more && line > last;
    return end && walk.depth > 0 ? slip_brackets_unclosed(to, &walk) : 0;
}
