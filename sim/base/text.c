/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/text.h"

#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

enum {
    TEXT_SLUG_MAX = 60,
    TEXT_WORD_MAX = 63
};

/* Bytes of the valid UTF-8 character at s, or 0 (RFC 3629: no overlong forms, surrogates
 * or values past U+10FFFF; and none of the two that no XML may hold, U+FFFE and U+FFFF).
 */
static size_t text_utf8_length(const unsigned char *s)
{
    if (s[0] < 0x80) {
        return s[0] >= 0x20 && s[0] != 0x7f ? 1 : 0;
    }
    size_t length = s[0] >= 0xc2 && s[0] <= 0xdf   ? 2
                    : s[0] >= 0xe0 && s[0] <= 0xef ? 3
                    : s[0] >= 0xf0 && s[0] <= 0xf4 ? 4
                                                   : 0;
    for (size_t i = 1; i < length; i++) {
        if ((s[i] & 0xc0) != 0x80) {
            return 0;
        }
    }
    if ((s[0] == 0xe0 && s[1] < 0xa0) || (s[0] == 0xed && s[1] > 0x9f) ||
        (s[0] == 0xf0 && s[1] < 0x90) || (s[0] == 0xf4 && s[1] > 0x8f) ||
        (s[0] == 0xc2 && s[1] < 0xa0) || (s[0] == 0xef && s[1] == 0xbf && s[2] > 0xbd)) {
        return 0;
    }
    return length;
}

void text_copy(char *to, size_t size, const char *from)
{
    size_t used = 0;
    const unsigned char *s = (const unsigned char *)from;
    while (*s != '\0') {
        size_t length = text_utf8_length(s);
        size_t wanted = length > 0 ? length : 1;
        if (used + wanted + 1 > size) {
            break;
        }
        if (length > 0) {
            memcpy(to + used, s, length);
        } else {
            to[used] = '?';
        }
        used += wanted;
        s += wanted;
    }
    to[used] = '\0';
}

struct text_line text_line_in(char *to, size_t size)
{
    to[0] = '\0';
    return (struct text_line){to, size, 0};
}

void text_line_add(struct text_line *line, const char *format, ...)
{
    const size_t room = line->size - line->used;
    va_list arguments;
    va_start(arguments, format);
    const int wanted = vsnprintf(line->to + line->used, room, format, arguments);
    va_end(arguments);
    line->used += wanted < 0 ? 0 : (size_t)wanted < room ? (size_t)wanted : room - 1;
}

const char *text_plural(double count, const char *one, const char *many)
{
    static const double rounding = 1e-9; /* of 24 hours made a day */
    return fabs(count - 1) < rounding ? one : many;
}

static bool text_goes_on(char c)
{
    return ((unsigned char)c & 0xc0) == 0x80;
}

int text_width(const char *text, size_t bytes)
{
    int width = 0;
    for (size_t i = 0; i < bytes; i++) {
        width += !text_goes_on(text[i]);
    }
    return width;
}

void text_column(FILE *out, const char *text, int width)
{
    const int length = text_width(text, strlen(text));
    const int keep = length <= width ? length : width - 1;
    size_t bytes = 0;
    for (int shown = 0; text[bytes] != '\0'; bytes++) {
        shown += !text_goes_on(text[bytes]);
        if (shown > keep) {
            break;
        }
    }
    fprintf(out, "%.*s%s%*s", (int)bytes, text, length > width ? "…" : "",
            length > width ? 0 : width - length, "");
}

void text_slug(char *to, size_t size, const char *name)
{
    const size_t limit = size - 1 < TEXT_SLUG_MAX ? size - 1 : TEXT_SLUG_MAX;
    size_t used = 0;
    bool hyphen = false;
    for (const unsigned char *c = (const unsigned char *)name; *c != '\0'; c++) {
        if (*c >= 0x80 || !isalnum(*c)) {
            hyphen = used > 0;
            continue;
        }
        if (used + hyphen + 1 > limit) {
            break;
        }
        if (hyphen) {
            to[used++] = '-';
            hyphen = false;
        }
        to[used++] = (char)tolower(*c);
    }
    to[used] = '\0';
    if (used == 0) {
        (void)snprintf(to, size, "strategy");
    }
}

void text_html(FILE *out, const char *text)
{
    for (const char *c = text; *c != '\0'; c++) {
        switch (*c) {
        case '&':
            fputs("&amp;", out);
            break;
        case '<':
            fputs("&lt;", out);
            break;
        case '>':
            fputs("&gt;", out);
            break;
        case '"':
            fputs("&quot;", out);
            break;
        case '\'':
            fputs("&#39;", out);
            break;
        default:
            fputc(*c, out);
        }
    }
}

void text_gnuplot(FILE *out, const char *text)
{
    fputc('\'', out);
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '\'') {
            fputs("'.\"'\".'", out);
        } else {
            fputc((unsigned char)*c < 0x20 ? ' ' : *c, out);
        }
    }
    fputc('\'', out);
}

/* Whether a spreadsheet may take a cell for a formula: = + - @, or their full-width
 * forms, first or after blanks, or a tab or line end first. */
static bool text_is_formula(const char *text)
{
    static const char *const wide[] = {"\xef\xbc\x9d", "\xef\xbc\x8b", "\xef\xbc\x8d",
                                       "\xef\xbc\xa0"};
    const char *first = text + strspn(text, " \t\r\n");
    bool formula = first[0] != '\0' && strchr("=+-@", first[0]) != NULL;
    for (size_t i = 0; i < sizeof wide / sizeof *wide; i++) {
        formula = formula || strncmp(first, wide[i], strlen(wide[i])) == 0;
    }
    return formula || (text[0] != '\0' && strchr("\t\r\n", text[0]) != NULL);
}

void text_csv(FILE *out, const char *text)
{
    const char *formula = text_is_formula(text) ? "'" : "";
    if (strpbrk(text, ",\"\r\n") == NULL) {
        fprintf(out, "%s%s", formula, text);
        return;
    }
    fprintf(out, "\"%s", formula);
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '"') {
            fputc('"', out);
        }
        fputc(*c, out);
    }
    fputc('"', out);
}

size_t text_distance(const char *a, const char *b)
{
    size_t length = strnlen(b, TEXT_WORD_MAX);
    size_t row[TEXT_WORD_MAX + 1];
    for (size_t j = 0; j <= length; j++) {
        row[j] = j;
    }
    for (size_t i = 0; i < TEXT_WORD_MAX && a[i] != '\0'; i++) {
        size_t diagonal = row[0];
        row[0] = i + 1;
        for (size_t j = 0; j < length; j++) {
            size_t change = diagonal + (a[i] != b[j]);
            diagonal = row[j + 1];
            size_t insert = row[j] + 1;
            size_t erase = row[j + 1] + 1;
            size_t best = change < insert ? change : insert;
            row[j + 1] = best < erase ? best : erase;
        }
    }
    return row[length];
}
