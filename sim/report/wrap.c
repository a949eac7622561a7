/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "wrap.h"

#include <string.h>

int wrap_width(const char *text, size_t bytes)
{
    int width = 0;
    for (size_t i = 0; i < bytes; i++) {
        width += ((unsigned char)text[i] & 0xc0) != 0x80;
    }
    return width;
}

void wrap_words(FILE *out, const char *text, int at, int indent)
{
    while (*text != '\0') {
        const size_t word = strcspn(text, " ");
        const int width = wrap_width(text, word);
        if (at > indent && at + 1 + width > WRAP_COLUMNS) {
            fprintf(out, "\n%*s", indent, "");
            at = indent;
        } else if (at > indent && word > 0) {
            fputc(' ', out);
            at++;
        }
        fprintf(out, "%.*s", (int)word, text);
        at += width;
        text += word + (text[word] == ' ');
    }
    fputc('\n', out);
}

void wrap_line(FILE *out, const char *text, int indent)
{
    fprintf(out, "%*s", indent, "");
    wrap_words(out, text, indent, indent);
}
