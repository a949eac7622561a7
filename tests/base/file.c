/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "pailcast/base/file.h"

enum {
    PATH_SIZE = 256
};

/* Each test works in an empty folder of its own. */
static int make_scratch(void **state)
{
    char *folder = strdup("/tmp/pailcast-XXXXXX");
    *state = folder;
    return folder == NULL || mkdtemp(folder) == NULL;
}

static int remove_scratch(void **state)
{
    char command[PATH_SIZE];
    (void)snprintf(command, sizeof command, "rm -rf '%s'", (const char *)*state);
    free(*state);
    return system(command);
}

static void path_in(char path[PATH_SIZE], void **state, const char *name)
{
    (void)snprintf(path, PATH_SIZE, "%s/%s", (const char *)*state, name);
}

static void put(void **state, const char *name, const char *content)
{
    char path[PATH_SIZE];
    path_in(path, state, name);
    FILE *out = fopen(path, "w");
    assert_non_null(out);
    fputs(content, out);
    assert_int_equal(fclose(out), 0);
}

static void assert_holds(void **state, const char *name, const char *content)
{
    char path[PATH_SIZE];
    char found[PATH_SIZE];
    path_in(path, state, name);
    FILE *in = fopen(path, "r");
    assert_non_null(in);
    size_t length = fread(found, 1, sizeof found - 1, in);
    found[length] = '\0';
    (void)fclose(in);
    assert_string_equal(found, content);
}

static int entries(void **state)
{
    DIR *folder = opendir(*state);
    assert_non_null(folder);
    int count = 0;
    for (const struct dirent *e = readdir(folder); e != NULL; e = readdir(folder)) {
        count += strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0;
    }
    (void)closedir(folder);
    return count;
}

static void a_folder_is_made_with_its_parents_and_may_be_there_already(void **state)
{
    char path[PATH_SIZE];
    path_in(path, state, "out/first/day-96");
    struct error error = {0};
    assert_int_equal(file_make_folder(path, &error), STATUS_OK);
    struct stat found;
    assert_int_equal(stat(path, &found), 0);
    assert_true(S_ISDIR(found.st_mode));
    assert_int_equal(file_make_folder(path, &error), STATUS_OK);
    path_in(path, state, "out/second/");
    assert_int_equal(file_make_folder(path, &error), STATUS_OK);
    assert_int_equal(error.count, 0);
}

static void a_file_where_a_folder_should_be_is_named(void **state)
{
    put(state, "out", "notes");
    char path[PATH_SIZE];
    path_in(path, state, "out");
    struct error error = {0};
    assert_int_equal(file_make_folder(path, &error), STATUS_FILE);
    assert_non_null(strstr(error.text, path));
    error = (struct error){0};
    path_in(path, state, "out/first");
    assert_int_equal(file_make_folder(path, &error), STATUS_FILE);
    assert_int_equal(error.count, 1);
    assert_holds(state, "out", "notes");
}

static void a_folder_that_nobody_can_make_is_an_error(void **state)
{
    (void)state;
    struct error error = {0};
    assert_int_equal(file_make_folder("/proc/self/pailcast", &error), STATUS_FILE);
    assert_int_equal(file_make_folder("", &error), STATUS_FILE);
    char path[FILE_PATH_SIZE + 10];
    memset(path, 'k', sizeof path);
    path[sizeof path - 1] = '\0';
    assert_int_equal(file_make_folder(path, &error), STATUS_FILE);
    assert_int_equal(error.count, 3);
}

static void the_old_file_stands_until_the_new_one_is_whole(void **state)
{
    put(state, "day.csv", "old");
    struct file file;
    struct error error = {0};
    assert_int_equal(file_open(&file, *state, "day.csv", &error), STATUS_OK);
    fprintf(file.stream, "new %g", 2.385);
    assert_int_equal(fflush(file.stream), 0);
    assert_holds(state, "day.csv", "old");
    assert_int_equal(file_close(&file, &error), STATUS_OK);
    assert_holds(state, "day.csv", "new 2.385");
    assert_int_equal(entries(state), 1);
}

/* Every write to /dev/full ends with "no space left on device". */
static void a_full_disk_leaves_the_old_file_and_nothing_beside_it(void **state)
{
    put(state, "day.csv", "old");
    struct file file;
    struct error error = {0};
    assert_int_equal(file_open(&file, *state, "day.csv", &error), STATUS_OK);
    file.stream = freopen("/dev/full", "w", file.stream);
    assert_non_null(file.stream);
    fprintf(file.stream, "new");
    assert_int_equal(file_close(&file, &error), STATUS_FILE);
    assert_non_null(strstr(error.text, "day.csv"));
    assert_non_null(strstr(error.text, "No space left"));
    assert_holds(state, "day.csv", "old");
    assert_int_equal(entries(state), 1);
}

/* The failure is seen even when later, smaller writes would have fitted. */
static void a_write_that_failed_long_ago_is_not_forgotten(void **state)
{
    struct file file;
    struct error error = {0};
    assert_int_equal(file_open(&file, *state, "day.csv", &error), STATUS_OK);
    file.stream = freopen("/dev/full", "w", file.stream);
    assert_non_null(file.stream);
    for (int i = 0; i < 100000; i++) {
        fputc('k', file.stream);
    }
    assert_int_equal(file_close(&file, &error), STATUS_FILE);
    assert_int_equal(error.count, 1);
    assert_int_equal(entries(state), 0);
}

static void a_folder_under_the_final_name_is_an_error_and_stays(void **state)
{
    char path[PATH_SIZE];
    path_in(path, state, "day.csv");
    assert_int_equal(mkdir(path, 0777), 0);
    struct file file;
    struct error error = {0};
    assert_int_equal(file_open(&file, *state, "day.csv", &error), STATUS_OK);
    assert_int_equal(file_close(&file, &error), STATUS_FILE);
    struct stat found;
    assert_int_equal(stat(path, &found), 0);
    assert_true(S_ISDIR(found.st_mode));
    assert_int_equal(entries(state), 1);
}

static void a_folder_that_is_not_there_cannot_be_written_to(void **state)
{
    char folder[PATH_SIZE];
    path_in(folder, state, "absent");
    struct file file;
    struct error error = {0};
    assert_int_equal(file_open(&file, folder, "day.csv", &error), STATUS_FILE);
    assert_null(file.stream);
    file_abandon(&file);
    assert_int_equal(error.count, 1);
}

static void a_name_too_long_is_refused(void **state)
{
    char name[FILE_PATH_SIZE];
    memset(name, 'k', sizeof name);
    name[sizeof name - 1] = '\0';
    struct file file;
    struct error error = {0};
    assert_int_equal(file_open(&file, *state, name, &error), STATUS_FILE);
    file_abandon(&file);
    assert_int_equal(entries(state), 0);
}

static void giving_up_leaves_the_old_file_alone(void **state)
{
    put(state, "day.csv", "old");
    struct file file;
    struct error error = {0};
    assert_int_equal(file_open(&file, *state, "day.csv", &error), STATUS_OK);
    fprintf(file.stream, "half");
    file_abandon(&file);
    file_abandon(&file);
    assert_holds(state, "day.csv", "old");
    assert_int_equal(entries(state), 1);
}

static void only_what_was_written_whole_takes_the_place(void **state)
{
    put(state, "day.csv", "old");
    struct file file;
    struct error error = {0};
    assert_int_equal(file_open(&file, *state, "day.csv", &error), STATUS_OK);
    fprintf(file.stream, "half");
    assert_int_equal(file_end(&file, STATUS_MEMORY, &error), STATUS_MEMORY);
    assert_holds(state, "day.csv", "old");
    assert_int_equal(file_open(&file, *state, "day.csv", &error), STATUS_OK);
    fprintf(file.stream, "new");
    assert_int_equal(file_end(&file, STATUS_OK, &error), STATUS_OK);
    assert_holds(state, "day.csv", "new");
    assert_int_equal(entries(state), 1);
}

static void giving_up_a_file_never_opened_does_nothing(void **state)
{
    (void)state;
    struct file file = {0};
    file_abandon(&file);
    assert_null(file.stream);
}

/* A rename would put an ordinary file where the pipe or the device stood. */
static void a_pipe_is_written_straight_and_stays_one(void **state)
{
    char path[PATH_SIZE];
    char got[PATH_SIZE] = "";
    path_in(path, state, "logbook");
    assert_int_equal(mkfifo(path, 0600), 0);
    const int reader = open(path, O_RDONLY | O_NONBLOCK);
    assert_true(reader >= 0);
    struct file file;
    struct error error = {0};
    assert_int_equal(file_open(&file, *state, "logbook", &error), STATUS_OK);
    fprintf(file.stream, "day 2.385");
    assert_int_equal(file_close(&file, &error), STATUS_OK);
    assert_int_equal(read(reader, got, sizeof got - 1), 9);
    assert_string_equal(got, "day 2.385");
    struct stat found;
    assert_int_equal(stat(path, &found), 0);
    assert_true(S_ISFIFO(found.st_mode));
    assert_int_equal(close(reader), 0);
    assert_int_equal(entries(state), 1);
}

int main(void)
{
#define TEST_IN_SCRATCH(name)                                                            \
    cmocka_unit_test_setup_teardown(name, make_scratch, remove_scratch)
    const struct CMUnitTest tests[] = {
        TEST_IN_SCRATCH(a_folder_is_made_with_its_parents_and_may_be_there_already),
        TEST_IN_SCRATCH(a_file_where_a_folder_should_be_is_named),
        TEST_IN_SCRATCH(a_folder_that_nobody_can_make_is_an_error),
        TEST_IN_SCRATCH(the_old_file_stands_until_the_new_one_is_whole),
        TEST_IN_SCRATCH(a_full_disk_leaves_the_old_file_and_nothing_beside_it),
        TEST_IN_SCRATCH(a_write_that_failed_long_ago_is_not_forgotten),
        TEST_IN_SCRATCH(a_folder_under_the_final_name_is_an_error_and_stays),
        TEST_IN_SCRATCH(a_folder_that_is_not_there_cannot_be_written_to),
        TEST_IN_SCRATCH(a_name_too_long_is_refused),
        TEST_IN_SCRATCH(a_pipe_is_written_straight_and_stays_one),
        TEST_IN_SCRATCH(giving_up_leaves_the_old_file_alone),
        TEST_IN_SCRATCH(only_what_was_written_whole_takes_the_place),
        TEST_IN_SCRATCH(giving_up_a_file_never_opened_does_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
