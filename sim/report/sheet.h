/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every report page has, whatever it reports: head, bucket, pictures, cautions,
 * foot. */
#ifndef SIM_REPORT_SHEET_H
#define SIM_REPORT_SHEET_H

#include "pailcast/base/file.h"
#include "pailcast/scenario/scenario.h"

/* A page being written. Owns all. */
struct sheet {
    FILE *out; /* the stream of its file */
    struct file file;
    char *style, *script; /* NULL where they could not be read */
};

/* Begins folder/name, up to the title and what the bucket is. STATUS_FILE. */
enum status sheet_open(struct sheet *sheet, const char *folder, const char *name,
                       const char *title, const struct scenario *scenario,
                       struct error *error) STATUS_MUST_CHECK;

/* Cautions, foot and script; gives the file its name. numbers: the files beside the page
 * that hold them, plain text. STATUS_FILE, also when style or script was not there. */
enum status sheet_close(struct sheet *sheet, const char *numbers,
                        struct error *error) STATUS_MUST_CHECK;

/* <tag attributes>text</tag>, the text escaped. */
void sheet_element(FILE *out, const char *tag, const char *attributes, const char *text);

/* How to read values off the pictures that follow. */
void sheet_hint(FILE *out);

/* One finished picture with its words; svg NULL: it is said to be missing. */
void sheet_figure(FILE *out, const char *svg, size_t length, const char *heading,
                  const char *caption);

/* What the reader of the scenario remarked; nothing where it had no remarks. */
void sheet_warnings(FILE *out, const struct scenario *scenario);

#endif
