/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "wrap.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

#include "pailcast/base/text.h"

/* How far to the next place for a break: not between a number and its unit. */
static size_t wrap_unbroken(const char *text)
{
    size_t end = strcspn(text, " ");
    const bool number = end > 0 && isdigit((unsigned char)text[end - 1]);
    if (number && text[end] == ' ' && text[end + 1] != '\0') {
        end += 1 + strcspn(text + end + 1, " ");
    }
    return end;
}

void wrap_words(FILE *out, const char *text, int at, int indent)
{
    while (*text != '\0') {
        const size_t word = wrap_unbroken(text);
        const int width = text_width(text, word);
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
