/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text from strangers, made safe for the place it goes to. */
#ifndef PAILCAST_BASE_TEXT_H
#define PAILCAST_BASE_TEXT_H

#include <stddef.h>
#include <stdio.h>

enum {
    TEXT_NAME_SIZE = 96
};

/* Copies `from` into to[size], cut at a whole UTF-8 character; control characters, bytes
 * that are not UTF-8 and what no XML may hold become '?'. */
void text_copy(char *to, size_t size, const char *from);

/* Text that grows in to[size], cut where that is full. Borrows it. */
struct text_line {
    char *to;
    size_t size, used;
};

/* An empty one. */
struct text_line text_line_in(char *to, size_t size);

void text_line_add(struct text_line *line, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Characters in the first `bytes` bytes of UTF-8 text. */
int text_width(const char *text, size_t bytes);

/* Writes UTF-8 text in exactly `width` places, filled with blanks, or cut with an
 * ellipsis. */
void text_column(FILE *out, const char *text, int width);

/* File-name form of a name: lower-case letters, digits and single hyphens, at most 60
 * bytes; "strategy" if nothing is left. */
void text_slug(char *to, size_t size, const char *name);

/* Writes text with & < > " ' as entities. */
void text_html(FILE *out, const char *text);

/* Writes text as a gnuplot string in single quotes, in which neither back-quotes nor
 * back-slashes act. Each quote inside is joined on as "'": doubling it, as gnuplot
 * documents, fails in 5.4 where two quotes meet or one comes first. */
void text_gnuplot(FILE *out, const char *text);

/* Writes one CSV field, quoted when needed (RFC 4180); one that begins with = + - @, in
 * full width or behind blanks too, is preceded by an apostrophe so that no spreadsheet
 * takes it for a formula. */
void text_csv(FILE *out, const char *text);

/* The word that goes with a count: one beside 1, many beside all others. */
const char *text_plural(double count, const char *one, const char *many);

/* Bytes of a quotation mark of any style, double or single, at the start of text[length];
 * 0 for anything else. */
size_t text_quote(const char *text, size_t length);

/* A name as names are compared: small letters (of ASCII and Latin-1), one blank for any
 * run of them and none at the ends, every quotation mark as ", every dash as -. Cut at
 * size - 1 bytes. */
void text_fold(char *to, size_t size, const char *from);

/* Edit distance (Levenshtein 1966) between two words of at most 63 bytes; longer words
 * are cut. */
size_t text_distance(const char *a, const char *b);

#endif
