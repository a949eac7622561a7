/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "wrap.h"

#include <string.h>

#include "pailcast/base/text.h"

void wrap_words(FILE *out, const char *text, int at, int indent)
{
    while (*text != '\0') {
        const size_t word = strcspn(text, " ");
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
