/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "include.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

#include "pailcast/base/file.h"
#include "pailcast/base/text.h"

enum {
    INCLUDE_DIGITS_MAX = 9 /* any number of nine digits is an int */
};

/* Whether a whole number of too many digits begins at line[i]. */
static bool include_is_long_number(const char *line, size_t length, size_t i)
{
    size_t digits = 0;
    while (i + digits < length && isdigit((unsigned char)line[i + digits])) {
        digits++;
    }
    const int before = i > 0 ? line[i - 1] : ' ';
    const int after = i + digits < length ? line[i + digits] : ' ';
    return digits > INCLUDE_DIGITS_MAX && !isalnum((unsigned char)before) &&
           before != '_' && before != '.' && after != '.' && after != 'e' && after != 'E';
}

/* A quote in a text that is not plain seems to end it: the text began on this line, and
 * only what follows a value comes after. */
static void include_in_text(enum include_fault *fault, const char *text, const char *end,
                            bool began_before)
{
    const size_t length = *text != '"' ? text_quote(text, (size_t)(end - text)) : 0;
    if (length == 0 || began_before) {
        return;
    }
    for (text += length; text < end && *text != '#'; text++) {
        if (strchr(" \t;,})]", *text) == NULL) {
            return;
        }
    }
    if (memchr(text, '"', (size_t)(end - text)) != NULL) {
        return; /* what seemed a comment is in the text */
    }
    *fault = INCLUDE_QUOTE;
}

/* A sign outside texts and comments. */
static void include_in_plain(enum include_fault *fault, const char *line, size_t length,
                             size_t i)
{
    if (line[i] == '@') {
        *fault = INCLUDE_STRAY;
    } else if (text_quote(line + i, length - i) > 0) {
        *fault = INCLUDE_QUOTE;
    } else if (include_is_long_number(line, length, i)) {
        *fault = INCLUDE_LONG_NUMBER;
    }
}

enum include_state include_scan(const char *line, size_t length, enum include_state state,
                                enum include_fault *fault)
{
    const bool began_before = state == INCLUDE_TEXT;
    for (size_t i = 0; i < length; i++) {
        char c = line[i];
        const char *const next = i + 1 < length ? &line[i + 1] : "";
        if (state == INCLUDE_TEXT) {
            include_in_text(fault, line + i, line + length, began_before);
            i += c == '\\' ? 1 : 0;
            state = c == '"' ? INCLUDE_PLAIN : INCLUDE_TEXT;
        } else if (state == INCLUDE_REMARK) {
            if (c == '*' && *next == '/') {
                state = INCLUDE_PLAIN;
                i++;
            }
        } else if (c == '#' || (c == '/' && *next == '/')) {
            break;
        } else if (c == '/' && *next == '*') {
            state = INCLUDE_REMARK;
            i++;
        } else if (c == '"') {
            state = INCLUDE_TEXT;
        } else {
            include_in_plain(fault, line, length, i);
        }
    }
    return state;
}

enum include_kind include_name(char *name, const char *line, size_t length)
{
    static const char word[] = "@include";
    const char *end = line + length;
    while (line < end && (*line == ' ' || *line == '\t')) {
        line++;
    }
    if ((size_t)(end - line) < sizeof word - 1 ||
        memcmp(line, word, sizeof word - 1) != 0) {
        return INCLUDE_NONE;
    }
    line += sizeof word - 1;
    while (line < end && (*line == ' ' || *line == '\t')) {
        line++;
    }
    const char *quote = line < end && *line == '"'
                            ? memchr(line + 1, '"', (size_t)(end - line - 1))
                            : NULL;
    if (quote == NULL || quote - line - 1 >= FILE_PATH_SIZE) {
        return INCLUDE_BAD;
    }
    memcpy(name, line + 1, (size_t)(quote - line - 1));
    name[quote - line - 1] = '\0';
    const char *rest = quote + 1;
    while (rest < end && strchr(" \t;", *rest) != NULL) {
        rest++;
    }
    bool alone = rest == end || *rest == '#' ||
                 (end - rest >= 2 && rest[0] == '/' && rest[1] == '/') ||
                 (end - rest >= 4 && rest[0] == '/' && rest[1] == '*' && end[-1] == '/' &&
                  end[-2] == '*');
    return alone ? INCLUDE_FILE : INCLUDE_BAD;
}
