/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "slip.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "slip_brackets.h"

enum {
    SLIP_NEAR = 80,
    SLIP_VALUE = 32
};

static const char *slip_line(const char *text, int line)
{
    for (int i = 1; i < line && text != NULL; i++) {
        text = strchr(text, '\n');
        text = text != NULL ? text + 1 : NULL;
    }
    return text != NULL ? text + strspn(text, " \t") : "";
}

/* A value that should stand in quotes: a word, or a number with a unit. */
static bool slip_is_bare(const char *value, size_t size)
{
    const bool word = isalpha((unsigned char)value[0]) != 0;
    if (word) {
        return !(size == 4 && strncasecmp(value, "true", 4) == 0) &&
               !(size == 5 && strncasecmp(value, "false", 5) == 0);
    }
    const size_t number = strspn(value, "+-.0123456789");
    const size_t space = number < size ? strspn(value + number, " \t") : 0;
    return number > 0 && space > 0 && number + space < size;
}

static bool slip_is_yes_or_no(const char *word, size_t size)
{
    static const char *const words[] = {"yes", "no", "on", "off"};
    bool is = false;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        is |= size == strlen(words[i]) && strncasecmp(word, words[i], size) == 0;
    }
    return is;
}

/* The first value of the line that lacks its quotes; NULL where none does. Borrowed. */
static const char *slip_bare(size_t *size, const char *line)
{
    while (*line != '\0' && *line != '\n' && *line != '#') {
        if (*line == '"') {
            line = slip_brackets_past_quotes(line);
            continue;
        }
        if (*line++ != '=') {
            continue;
        }
        const char *value = line + strspn(line, " \t");
        *size = strcspn(value, ";,{}()[]\"#=\n");
        if (value[*size] == '=') {
            continue;
        }
        while (*size > 0 && isspace((unsigned char)value[*size - 1])) {
            (*size)--;
        }
        if (*size > 0 && *size < SLIP_VALUE && slip_is_bare(value, *size)) {
            return value;
        }
    }
    return NULL;
}

/* Returns the line that the words speak of. */
static int slip_guess(char to[SLIP_SIZE], const char *text, int line)
{
    size_t size;
    const char *bare = slip_bare(&size, slip_line(text, line));
    if (bare != NULL && slip_is_yes_or_no(bare, size)) {
        (void)snprintf(to, SLIP_SIZE, "write true or false, not %.*s", (int)size, bare);
    } else if (bare != NULL) {
        (void)snprintf(to, SLIP_SIZE, "this stands in quotes: \"%.*s\"", (int)size, bare);
    } else {
        const int at = slip_brackets_words(to, text, line);
        if (at > 0) {
            return at;
        }
        (void)snprintf(to, SLIP_SIZE,
                       "this is not understood; each line reads key = "
                       "value; and every { ( [ has its } ) ]");
    }
    return line;
}

int slip_words(char to[SLIP_SIZE], const char *told, const char *text, int line)
{
    if (told != NULL && strstr(told, "duplicate") != NULL) {
        (void)snprintf(to, SLIP_SIZE,
                       "a key stands here for the second time; keep one of "
                       "them (an included file may hold the other)");
    } else if (told != NULL && strstr(told, "mismatched") != NULL) {
        (void)snprintf(to, SLIP_SIZE,
                       "values in square brackets must be of one kind; "
                       "beside 0.5 write 1.0, not 1");
    } else {
        line = slip_guess(to, text, line);
    }
    const char *at = slip_line(text, line);
    int shown = (int)strcspn(at, "\n");
    shown = shown < SLIP_NEAR - 1 ? shown : SLIP_NEAR - 1;
    if (shown > 0) {
        const size_t used = strlen(to);
        (void)snprintf(to + used, SLIP_SIZE - used, "; near: %.*s", shown, at);
    }
    return line;
}
