/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether what the program wrote is safe for the place it goes to. Each fails the test
 * where it is not. */
#ifndef TESTS_SUPPORT_SINK_H
#define TESTS_SUPPORT_SINK_H

/* folder/name holds UTF-8 and, but for newlines, nothing that steers a terminal. */
void sink_terminal(const char *folder, const char *name);

/* Strict CSV (RFC 4180) without a cell that a spreadsheet would take for a formula: one
 * that begins, blanks aside, with = + - @, also in full width, and is no number. */
void sink_csv(const char *folder, const char *name);

/* JSON in UTF-8. */
void sink_json(const char *folder, const char *name);

/* Well-formed XML. */
void sink_xml(const char *folder, const char *name);

/* The names of all tags of a page in order, to be freed: text that has become markup
 * shows in them. */
char *sink_tags(const char *folder, const char *name);

/* The fitting one of the above for every file under folder/name, by its ending; how many
 * there were. Pages are left to sink_tags. */
int sink_folder(const char *folder, const char *name);

#endif
