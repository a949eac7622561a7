/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The SVG files of a comparison: their names, making them from what gnuplot drew, and
 * reading them back. */
#ifndef SIM_REPORT_PICTURE_H
#define SIM_REPORT_PICTURE_H

#include "pailcast/report/plot.h"
#include "pailcast/report/slug.h"

enum {
    PICTURE_NAME_SIZE = SLUG_SIZE + 32
};

/* The pictures of one comparison in one folder. Borrows both. */
struct picture_album {
    const char *folder;
    const struct compare *compare;
    char stamp[32]; /* the mark by which a picture tells of which comparison it is */
};

struct picture_album picture_album(const char *folder, const struct compare *compare);

/* File name in the folder: "<slug>-ec.svg", "compare-ec.svg" (row is then ignored). */
void picture_file_name(char to[PICTURE_NAME_SIZE], const struct plot_kind *kind,
                       const struct compare *compare, size_t row);

/* Draws sketch into the picture's file. Errors as keep_sketch's. */
enum status picture_keep(const struct picture_album *album, const struct plot_kind *kind,
                         size_t row, const struct plot_sketch *sketch,
                         struct error *error) STATUS_MUST_CHECK;

/* Reads a finished picture into *text (*length bytes, freed by the caller; NULL when
 * false is returned). False when the file is missing, not whole, or of another
 * comparison. */
bool picture_read(char **text, size_t *length, const struct picture_album *album,
                  const struct plot_kind *kind, size_t row);

/* Reads plots/<name> of the shipped files, as picture_read. */
bool picture_part(char **text, size_t *length, const char *name);

#endif
