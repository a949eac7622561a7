/* SPDX-License-Identifier: GPL-3.0-or-later */
/* gnuplot's SVG made into a picture of our own: whole or refused, without gnuplot's
 * scripts, its ids told apart from other pictures', with title, readout data and our one
 * script. */
#ifndef SIM_REPORT_SVG_H
#define SIM_REPORT_SVG_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* What goes into a finished picture. Borrowed. */
struct svg_extras {
    const char *prefix; /* put before every id; a letter first, then letters, digits, - */
    const char *title;  /* plain text */
    const char *metadata; /* plain text, read by the script */
    const char *script;   /* free of "]]>"; "" for none */
};

/* Whether text[length] is a whole SVG document as gnuplot writes it: from its first to
 * its last element. */
bool svg_is_whole(const char *text, size_t length);

/* Writes the whole SVG document text[length] to out, changed as said above: <script>,
 * <title>, <desc> and <image> (its buttons) elements and on... attributes are left out,
 * extras put in before the last tag. */
void svg_finish(FILE *out, const char *text, size_t length,
                const struct svg_extras *extras);

/* Writes the <svg> element of a finished picture for use within a page: no XML
 * declaration, no script, no title. */
void svg_inline(FILE *out, const char *text, size_t length);

#endif
