/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "program.h"

#include "close.h"

#include <math.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

void program_folder(char path[256])
{
    (void)snprintf(path, 256, "/tmp/pailcast-test-XXXXXX");
    assert_non_null(mkdtemp(path));
}

void program_clean(const char *path)
{
    char command[512];
    assert_true(strncmp(path, "/tmp/pailcast-test-", 19) == 0);
    (void)snprintf(command, sizeof command, "chmod -R u+w %s; rm -rf %s", path, path);
    assert_int_equal(system(command), 0);
}

int program_enter(void **state)
{
    char *folder = malloc(256);
    assert_non_null(folder);
    program_folder(folder);
    *state = folder;
    return 0;
}

int program_leave(void **state)
{
    program_clean(*state);
    free(*state);
    return 0;
}

void program_write(const char *folder, const char *name, const char *text)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

/* build/MODE/tests/FOLDER/NAME -> build/MODE/pailcast */
static void program_path(char path[512])
{
    const ssize_t length = readlink("/proc/self/exe", path, 400);
    assert_true(length > 0);
    path[length] = '\0';
    for (int up = 0; up < 3; up++) {
        char *slash = strrchr(path, '/');
        assert_non_null(slash);
        *slash = '\0';
    }
    (void)strcat(path, "/pailcast");
}

int program_run_in(const char *folder, const char *before, const char *arguments)
{
    char path[512];
    char command[4096];
    program_path(path);
    (void)snprintf(command, sizeof command, "cd %s && { %s %s %s; } >stdout 2>stderr",
                   folder, before, path, arguments);
    const int status = system(command);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

int program_run(const char *folder, const char *arguments)
{
    return program_run_in(folder, "", arguments);
}

int program_interrupt(const char *folder, const char *arguments)
{
    enum {
        KILLED = 128 + SIGINT
    };
    char before[64];
    int code = KILLED;
    for (double after_s = 0.3; code == KILLED && after_s < 30; after_s *= 2) {
        (void)snprintf(before, sizeof before, "timeout --preserve-status -s INT %.1f",
                       after_s);
        code = program_run_in(folder, before, arguments);
    }
    return code;
}

void program_kill_and_resume(const char *folder, const char *arguments)
{
    char words[256];
    char before[64];
    int code = -1;
    int kills = -1;
    (void)snprintf(words, sizeof words, "%s --out whole", arguments);
    assert_int_equal(program_run(folder, words), 0);
    for (double after_s = 0.05; code != 0 && after_s < 5; after_s += 0.05) {
        kills++;
        (void)snprintf(before, sizeof before, "timeout -s KILL %.2f", after_s);
        (void)snprintf(words, sizeof words, "%s --out killed%s", arguments,
                       kills > 0 ? " --resume" : "");
        code = program_run_in(folder, before, words);
    }
    assert_int_equal(code, 0);
    assert_true(kills >= 2);
}

pid_t program_start(const char *folder, const char *before, const char *arguments)
{
    char path[512];
    char command[4096];
    program_path(path);
    (void)snprintf(command, sizeof command, "cd %s && %s exec %s %s >stdout 2>stderr",
                   folder, before, path, arguments);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        (void)execl("/bin/sh", "sh", "-c", command, (char *)NULL);
        _exit(127);
    }
    return child;
}

char *program_read(const char *folder, const char *name)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "r");
    if (file == NULL) {
        return NULL;
    }
    char *text = NULL;
    size_t size = 0;
    FILE *into = open_memstream(&text, &size);
    for (int c = fgetc(file); c != EOF; c = fgetc(file)) {
        (void)fputc(c, into);
    }
    (void)fclose(file);
    (void)fclose(into);
    return text;
}

bool program_has(const char *folder, const char *name)
{
    char path[512];
    struct stat found;
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    return stat(path, &found) == 0;
}

void program_says(const char *folder, const char *name, const char *words)
{
    char *text = program_read(folder, name);
    if (text == NULL || strstr(text, words) == NULL) {
        print_error("%s does not say \"%s\" but:\n%s\n", name, words,
                    text != NULL ? text : "(no such file)");
        fail();
    }
    free(text);
}

void program_lacks(const char *folder, const char *name, const char *words)
{
    char *text = program_read(folder, name);
    assert_non_null(text);
    if (strstr(text, words) != NULL) {
        fail_msg("\"%s\" in %s:\n%s", words, name, text);
    }
    free(text);
}

void program_silent(const char *folder, const char *name)
{
    char *text = program_read(folder, name);
    assert_non_null(text);
    assert_string_equal(text, "");
    free(text);
}

void program_refuses(const char *folder, const char *arguments, const char *words)
{
    const int code = program_run_in(folder, "timeout 20", arguments);
    char *said = program_read(folder, "stdout");
    char *complained = program_read(folder, "stderr");
    if (code != 2 || said[0] != '\0' || strstr(complained, words) == NULL ||
        program_has(folder, "out")) {
        print_error("%s: exit %d; wanted \"%s\" in:\n%.900s\nand not:\n%.900s\n",
                    arguments, code, words, complained, said);
        fail();
    }
    free(said);
    free(complained);
}

void program_same(const char *folder, const char *one, const char *other)
{
    char *first = program_read(folder, one);
    char *second = program_read(folder, other);
    assert_non_null(first);
    assert_non_null(second);
    assert_string_equal(first, second);
    free(first);
    free(second);
}

cJSON *program_json(const char *folder, const char *arguments)
{
    assert_int_equal(program_run(folder, arguments), 0);
    char *text = program_read(folder, "stdout");
    cJSON *json = cJSON_ParseWithOpts(text, NULL, 1);
    assert_non_null(json);
    free(text);
    return json;
}

double program_number(const cJSON *object, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    if (!cJSON_IsNumber(item)) {
        print_error("no number \"%s\"\n", key);
        fail();
    }
    return item->valuedouble;
}

/* Cells of one line, cut in place at commas outside quotes; returns how many. */
static size_t program_csv_split(char *line, char **cells, size_t room)
{
    size_t count = 0;
    bool quoted = false;
    char *start = line;
    for (char *c = line;; c++) {
        if (*c == '"') {
            quoted = !quoted;
        }
        if ((*c == ',' && !quoted) || *c == '\0') {
            const bool last = *c == '\0';
            *c = '\0';
            assert_true(count < room);
            cells[count++] = start;
            start = c + 1;
            if (last) {
                return count;
            }
        }
    }
}

static double program_cell_number(const char *cell)
{
    char *end;
    const double value = strtod(cell, &end);
    return *cell != '\0' && *end == '\0' ? value : NAN;
}

struct program_csv program_csv_read(const char *folder, const char *name)
{
    enum {
        COLUMNS_MAX = 64
    };
    struct program_csv csv = {0};
    char *cells[COLUMNS_MAX];
    char *text = program_read(folder, name);
    assert_non_null(text);
    size_t event_column = COLUMNS_MAX;
    for (char *line = strtok(text, "\n"); line != NULL; line = strtok(NULL, "\n")) {
        const size_t count = program_csv_split(line, cells, COLUMNS_MAX);
        if (csv.names == NULL) {
            csv.columns = count;
            csv.names = calloc(count, sizeof *csv.names);
            for (size_t i = 0; i < count; i++) {
                csv.names[i] = strdup(cells[i]);
                event_column = strcmp(cells[i], "event") == 0 ? i : event_column;
            }
            continue;
        }
        assert_int_equal(count, csv.columns);
        csv.cells = realloc(csv.cells, (csv.rows + 1) * count * sizeof *csv.cells);
        csv.events = realloc(csv.events, (csv.rows + 1) * sizeof *csv.events);
        for (size_t i = 0; i < count; i++) {
            csv.cells[csv.rows * count + i] = program_cell_number(cells[i]);
        }
        csv.events[csv.rows] = strdup(event_column < count ? cells[event_column] : "");
        csv.rows++;
    }
    free(text);
    assert_true(csv.rows > 0);
    return csv;
}

double program_csv_at(const struct program_csv *csv, size_t row, const char *column)
{
    assert_true(row < csv->rows);
    for (size_t i = 0; i < csv->columns; i++) {
        if (strcmp(csv->names[i], column) == 0) {
            return csv->cells[row * csv->columns + i];
        }
    }
    print_error("no column %s\n", column);
    fail();
    return NAN;
}

size_t program_csv_row(const struct program_csv *csv, double day_d, const char *event)
{
    for (size_t row = csv->rows; row > 0; row--) {
        if (fabs(program_csv_at(csv, row - 1, "day") - day_d) < 1e-9 &&
            (event == NULL || strcmp(csv->events[row - 1], event) == 0)) {
            return row - 1;
        }
    }
    print_error("no row of day %g\n", day_d);
    fail();
    return 0;
}

void program_csv_free(struct program_csv *csv)
{
    for (size_t i = 0; i < csv->columns; i++) {
        free(csv->names[i]);
    }
    for (size_t i = 0; i < csv->rows; i++) {
        free(csv->events[i]);
    }
    free(csv->names);
    free(csv->cells);
    free(csv->events);
    *csv = (struct program_csv){0};
}

size_t program_widest(const char *text)
{
    size_t widest = 0;
    size_t width = 0;
    for (; *text != '\0'; text++) {
        width = *text == '\n' ? 0 : width + (((unsigned char)*text & 0xc0) != 0x80);
        widest = width > widest ? width : widest;
    }
    return widest;
}
