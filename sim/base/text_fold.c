/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ctype.h>
#include <stdbool.h>
#include <string.h>

#include "pailcast/base/text.h"

/* Signs of other alphabets and word processors that are typed as one plain sign. */
struct text_sign {
    const char *sign;
    char plain;
};

static const struct text_sign text_quotes[] = {
    {"\"", '"'}, {"'", '"'}, {"`", '"'}, {"“", '"'}, {"”", '"'}, {"„", '"'}, {"‟", '"'},
    {"″", '"'},  {"′", '"'}, {"‘", '"'}, {"’", '"'}, {"‚", '"'}, {"«", '"'}, {"»", '"'},
};

static const struct text_sign text_others[] = {
    {"\xc2\xa0", ' '}, {"–", '-'}, {"—", '-'}, {"‑", '-'}, {"−", '-'},
};

/* Bytes of the sign of a table at the start of text; 0 where none of it stands. */
static size_t text_sign_length(char *plain, const char *text, size_t length,
                               const struct text_sign *signs, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const size_t bytes = strlen(signs[i].sign);
        if (bytes <= length && memcmp(text, signs[i].sign, bytes) == 0) {
            *plain = signs[i].plain;
            return bytes;
        }
    }
    return 0;
}

size_t text_quote(const char *text, size_t length)
{
    char plain;
    return text_sign_length(&plain, text, length, text_quotes,
                            sizeof text_quotes / sizeof *text_quotes);
}

/* A byte as it is compared; `before` is the one before it. Capitals of ASCII and, in
 * their second byte, of Latin-1. */
static char text_fold_byte(char byte, char before)
{
    const unsigned char c = (unsigned char)byte;
    if (isspace(c) != 0) {
        return ' ';
    }
    if (c < 0x80) {
        return (char)tolower(c);
    }
    const bool capital = before == '\xc3' && c <= 0x9e && c != 0x97; /* À to Þ but × */
    return (char)(capital ? c + 0x20 : c);
}

/* One sign as it is compared; returns its bytes. */
static size_t text_fold_sign(char *to, const char *from, char before)
{
    const size_t length = strlen(from);
    size_t bytes = text_sign_length(to, from, length, text_quotes,
                                    sizeof text_quotes / sizeof *text_quotes);
    if (bytes == 0) {
        bytes = text_sign_length(to, from, length, text_others,
                                 sizeof text_others / sizeof *text_others);
    }
    if (bytes == 0) {
        *to = text_fold_byte(*from, before);
        bytes = 1;
    }
    return bytes;
}

void text_fold(char *to, size_t size, const char *from)
{
    size_t used = 0;
    char before = ' ';
    while (*from != '\0' && used + 1 < size) {
        char sign;
        from += text_fold_sign(&sign, from, before);
        if (sign != ' ' || before != ' ') {
            to[used++] = sign;
        }
        before = sign;
    }
    used -= used > 0 && to[used - 1] == ' ' ? 1 : 0;
    to[used] = '\0';
}
