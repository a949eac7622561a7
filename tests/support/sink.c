/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sink.h"

#include "close.h"

#include <ctype.h>
#include <dirent.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>
#include <csv.h>

#include "program.h"

static void sink_fail(const char *name, const char *what, const char *text)
{
    print_error("%s %s: %.300s\n", name, what, text);
    fail();
}

static char *sink_read(const char *folder, const char *name)
{
    char *text = program_read(folder, name);
    if (text == NULL) {
        sink_fail(name, "is not there", "");
    }
    return text;
}

/* Bytes of the UTF-8 character at s (RFC 3629), 0 where there is none or it is a control
 * character; written anew here, for the program's own must not vouch for itself. */
static size_t sink_character(const unsigned char *s)
{
    static const struct {
        unsigned char low, high, next_low, next_high;
        size_t length;
    } forms[] = {{0x20, 0x7e, 0, 0, 1},       {0xc2, 0xc2, 0xa0, 0xbf, 2},
                 {0xc3, 0xdf, 0x80, 0xbf, 2}, {0xe0, 0xe0, 0xa0, 0xbf, 3},
                 {0xe1, 0xec, 0x80, 0xbf, 3}, {0xed, 0xed, 0x80, 0x9f, 3},
                 {0xee, 0xef, 0x80, 0xbf, 3}, {0xf0, 0xf0, 0x90, 0xbf, 4},
                 {0xf1, 0xf3, 0x80, 0xbf, 4}, {0xf4, 0xf4, 0x80, 0x8f, 4}};
    for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
        if (s[0] < forms[i].low || s[0] > forms[i].high) {
            continue;
        }
        const size_t length = forms[i].length;
        bool fine =
            length == 1 || (s[1] >= forms[i].next_low && s[1] <= forms[i].next_high);
        for (size_t k = 2; k < length && fine; k++) {
            fine = (s[k] & 0xc0) == 0x80;
        }
        return fine ? length : 0;
    }
    return 0;
}

static void sink_text(const char *name, const char *text, const char *allowed)
{
    const unsigned char *s = (const unsigned char *)text;
    while (*s != '\0') {
        const size_t length = strchr(allowed, *s) != NULL ? 1 : sink_character(s);
        if (length == 0) {
            print_error("byte %02x at %td\n", *s, (const char *)s - text);
            sink_fail(name, "holds what no terminal should get, before",
                      (const char *)s + 1);
        }
        s += length;
    }
}

void sink_terminal(const char *folder, const char *name)
{
    char *text = sink_read(folder, name);
    sink_text(name, text, "\n");
    free(text);
}

static void sink_cell(void *cell, size_t length, void *name)
{
    static const char *const starts[] = {
        "=",           "+", "-", "@", "\xef\xbc\x9d", "\xef\xbc\x8b", "\xef\xbc\x8d",
        "\xef\xbc\xa0"};
    char text[4096];
    char *end;
    assert_true(length < sizeof text);
    memcpy(text, cell, length);
    text[length] = '\0';
    const char *first = text + strspn(text, " \t\r\n");
    (void)strtod(text, &end);
    for (size_t i = 0; i < sizeof starts / sizeof *starts; i++) {
        if (strncmp(first, starts[i], strlen(starts[i])) == 0 && *end != '\0') {
            sink_fail(name, "holds a cell that is a formula", text);
        }
    }
}

void sink_csv(const char *folder, const char *name)
{
    char *text = sink_read(folder, name);
    char shown[300];
    struct csv_parser parser;
    sink_text(name, text, "\n");
    (void)snprintf(shown, sizeof shown, "%s", name);
    assert_int_equal(csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI), 0);
    const size_t length = strlen(text);
    if (csv_parse(&parser, text, length, sink_cell, NULL, shown) != length ||
        csv_fini(&parser, sink_cell, NULL, shown) != 0) {
        sink_fail(name, "is no CSV", text);
    }
    csv_free(&parser);
    free(text);
}

void sink_json(const char *folder, const char *name)
{
    char *text = sink_read(folder, name);
    sink_text(name, text, "\n\t");
    cJSON *json = cJSON_ParseWithOpts(text, NULL, 1);
    if (json == NULL) {
        sink_fail(name, "is no JSON", text);
    }
    cJSON_Delete(json);
    free(text);
}

void sink_xml(const char *folder, const char *name)
{
    char command[1024];
    (void)snprintf(command, sizeof command,
                   "cd '%s' && xmllint --noout --nonet '%s' >xml 2>&1", folder, name);
    if (system(command) != 0) {
        char *said = sink_read(folder, "xml");
        sink_fail(name, "is no XML", said);
        free(said);
    }
}

char *sink_tags(const char *folder, const char *name)
{
    char *text = sink_read(folder, name);
    char *to = text;
    sink_text(name, text, "\n\t");
    for (const char *at = strchr(text, '<'); at != NULL; at = strchr(at, '<')) {
        do {
            *to++ = *at++;
        } while (*at != '\0' &&
                 (isalnum((unsigned char)*at) || strchr("/!-[", *at) != NULL));
    }
    *to = '\0';
    return text;
}

int sink_folder(const char *folder, const char *name)
{
    static const struct {
        const char *ending;
        void (*check)(const char *folder, const char *name);
    } kinds[] = {{".csv", sink_csv}, {".json", sink_json}, {".svg", sink_xml}};
    char path[512];
    int count = 0;
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    DIR *listing = opendir(path);
    assert_non_null(listing);
    for (const struct dirent *entry = readdir(listing); entry != NULL;
         entry = readdir(listing)) {
        const char *dot = strrchr(entry->d_name, '.');
        for (size_t i = 0; dot != NULL && i < sizeof kinds / sizeof *kinds; i++) {
            if (strcmp(dot, kinds[i].ending) == 0) {
                char file[800];
                (void)snprintf(file, sizeof file, "%s/%s", name, entry->d_name);
                kinds[i].check(folder, file);
                count++;
            }
        }
    }
    (void)closedir(listing);
    return count;
}
