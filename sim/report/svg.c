/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "svg.h"

#include <ctype.h>
#include <string.h>

#include "pailcast/base/text.h"

static const char svg_last_tag[] = "</svg>";

/* Length without trailing white space. */
static size_t svg_trimmed(const char *text, size_t length)
{
    while (length > 0 && isspace((unsigned char)text[length - 1])) {
        length--;
    }
    return length;
}

/* First place at or after `from` where `word` stands in text[length], or length. */
static size_t svg_find(const char *text, size_t length, size_t from, const char *word)
{
    const size_t size = strlen(word);
    for (size_t i = from; i + size <= length; i++) {
        if (memcmp(text + i, word, size) == 0) {
            return i;
        }
    }
    return length;
}

bool svg_is_whole(const char *text, size_t length)
{
    const size_t end = svg_trimmed(text, length);
    const size_t last = sizeof svg_last_tag - 1;
    return end > last && svg_find(text, end, 0, "<svg") < end - last &&
           memcmp(text + end - last, svg_last_tag, last) == 0;
}

/* One past the '>' of the tag starting at text[from] == '<'; quoted '>' do not count. */
static size_t svg_tag_end(const char *text, size_t length, size_t from)
{
    char quote = '\0';
    for (size_t i = from; i < length; i++) {
        if (quote != '\0') {
            if (text[i] == quote) {
                quote = '\0';
            }
        } else if (text[i] == '"' || text[i] == '\'') {
            quote = text[i];
        } else if (text[i] == '>') {
            return i + 1;
        }
    }
    return length;
}

static bool svg_tag_is(const char *tag, size_t length, const char *name)
{
    const size_t size = strlen(name);
    return length > size + 1 && memcmp(tag + 1, name, size) == 0 &&
           !isalnum((unsigned char)tag[1 + size]);
}

/* One past the end of the element whose first tag is text[from, tag_end). */
static size_t svg_element_end(const char *text, size_t length, size_t from,
                              size_t tag_end, const char *name)
{
    if (tag_end >= from + 2 && text[tag_end - 2] == '/') {
        return tag_end;
    }
    char closing[16];
    (void)snprintf(closing, sizeof closing, "</%s>", name);
    const size_t at = svg_find(text, length, tag_end, closing);
    return at < length ? at + strlen(closing) : length;
}

/* One past the end of a comment or unwanted element starting at `from`, else
 * `from`. */
static size_t svg_unwanted_end(const char *text, size_t length, size_t from,
                               size_t tag_end)
{
    static const char *const unwanted[] = {"script", "title", "desc", "image"};
    if (length - from > 4 && memcmp(text + from, "<!--", 4) == 0) {
        const size_t close = svg_find(text, length, from, "-->");
        return close < length ? close + 3 : length;
    }
    for (size_t i = 0; i < sizeof unwanted / sizeof unwanted[0]; i++) {
        if (svg_tag_is(text + from, tag_end - from, unwanted[i])) {
            return svg_element_end(text, length, from, tag_end, unwanted[i]);
        }
    }
    return from;
}

/* Length of an ` onclick="..."` at s, or 0. */
static size_t svg_handler_length(const char *s, size_t length)
{
    if (length < 5 || !isspace((unsigned char)s[0]) || s[1] != 'o' || s[2] != 'n') {
        return 0;
    }
    size_t i = 3;
    while (i < length && isalpha((unsigned char)s[i])) {
        i++;
    }
    if (i + 1 >= length || s[i] != '=' || (s[i + 1] != '"' && s[i + 1] != '\'')) {
        return 0;
    }
    const char *close = memchr(s + i + 2, s[i + 1], length - i - 2);
    return close != NULL ? (size_t)(close - s) + 1 : 0;
}

/* Length of what stands before an id at s - ` id="`, `href='#` or `url(#` - or 0. */
static size_t svg_id_lead(const char *s, size_t length)
{
    static const char *const leads[] = {" id=\"", " id='", "href=\"#", "href='#",
                                        "url(#"};
    for (size_t i = 0; i < sizeof leads / sizeof leads[0]; i++) {
        const size_t size = strlen(leads[i]);
        if (size <= length && memcmp(s, leads[i], size) == 0) {
            return size;
        }
    }
    return 0;
}

static void svg_write_tag(FILE *out, const char *tag, size_t length, const char *prefix)
{
    for (size_t i = 0; i < length;) {
        const size_t handler = svg_handler_length(tag + i, length - i);
        const size_t lead = svg_id_lead(tag + i, length - i);
        if (handler > 0) {
            i += handler;
        } else if (lead > 0) {
            fwrite(tag + i, 1, lead, out);
            fputs(prefix, out);
            i += lead;
        } else {
            fputc(tag[i++], out);
        }
    }
}

static void svg_write_extras(FILE *out, const struct svg_extras *extras)
{
    /* Hatching strong enough to print; no frame around the picture. */
    fputs("<style>pattern path { stroke-width: 1.8px; } svg > rect { stroke: none; }"
          "</style>\n<title>",
          out);
    text_html(out, extras->title);
    fputs("</title>\n<metadata>", out);
    text_html(out, extras->metadata);
    fputs("</metadata>\n", out);
    if (extras->script[0] != '\0') {
        fprintf(out, "<script><![CDATA[\n%s]]></script>\n", extras->script);
    }
}

void svg_finish(FILE *out, const char *text, size_t length,
                const struct svg_extras *extras)
{
    const size_t end = svg_trimmed(text, length) - (sizeof svg_last_tag - 1);
    for (size_t i = 0; i < end;) {
        if (text[i] == '>') { /* gnuplot leaves it, and XML takes no "]]>" in a text */
            fputs("&gt;", out);
            i++;
            continue;
        }
        if (text[i] != '<') {
            fputc(text[i++], out);
            continue;
        }
        const size_t tag_end = svg_tag_end(text, end, i);
        const size_t unwanted_end = svg_unwanted_end(text, end, i, tag_end);
        if (unwanted_end > i) {
            i = unwanted_end;
            continue;
        }
        svg_write_tag(out, text + i, tag_end - i, extras->prefix);
        i = tag_end;
    }
    svg_write_extras(out, extras);
    fprintf(out, "%s\n", svg_last_tag);
}

void svg_inline(FILE *out, const char *text, size_t length)
{
    for (size_t i = svg_find(text, length, 0, "<svg"); i < length;) {
        size_t unwanted_end = i;
        if (text[i] == '<') {
            unwanted_end =
                svg_unwanted_end(text, length, i, svg_tag_end(text, length, i));
        }
        if (unwanted_end > i) {
            i = unwanted_end;
        } else {
            fputc(text[i++], out);
        }
    }
}
