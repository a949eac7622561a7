/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"

#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "pailcast/base/file.h"

/* A process that holds the folder from the return of this call on, until it is killed. */
static pid_t holder_of(const char *folder)
{
    int ready[2];
    char byte = 0;
    assert_int_equal(pipe(ready), 0);
    const pid_t holder = fork();
    assert_true(holder >= 0);
    if (holder == 0) {
        struct file_claim claim = {0};
        const bool held = file_claim(&claim, folder, NULL) == STATUS_OK;
        (void)!write(ready[1], held ? "y" : "n", 1);
        for (;;) {
            (void)pause();
        }
    }
    assert_int_equal(read(ready[0], &byte, 1), 1);
    assert_int_equal(byte, 'y');
    (void)close(ready[0]);
    (void)close(ready[1]);
    return holder;
}

static void end(pid_t process)
{
    assert_int_equal(kill(process, SIGKILL), 0);
    assert_int_equal(waitpid(process, NULL, 0), process);
}

/* The number of a process that is no more. */
static pid_t dead_process(void)
{
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        _exit(0);
    }
    assert_int_equal(waitpid(child, NULL, 0), child);
    return child;
}

static void what_killed_runs_left_is_removed_and_nothing_else(void **state)
{
    (void)state;
    struct scratch scratch = scratch_make();
    struct scratch elsewhere = scratch_make();
    const pid_t alive = holder_of(elsewhere.folder);
    char dead[64];
    char ours[64];
    char living[64];
    (void)snprintf(dead, sizeof dead, ".day.csv.%ld.part", (long)dead_process());
    (void)snprintf(ours, sizeof ours, ".ec.svg.%ld.part", (long)getpid());
    (void)snprintf(living, sizeof living, ".why.svg.%ld.part", (long)alive);
    const char *const stay[] = {living,
                                "day.csv",
                                "risk-1-of-2.part",
                                ".day.csv.part",
                                ".day.csv.2x.part",
                                ".7654321.part",
                                ".a.0.part",
                                ".a.99999999999.part"};
    scratch_write(&scratch, dead, "half", false);
    scratch_write(&scratch, ours, "half", false);
    for (size_t i = 0; i < sizeof stay / sizeof *stay; i++) {
        scratch_write(&scratch, stay[i], "whole", false);
    }
    struct file_claim claim = {0};
    struct error error = {0};
    assert_int_equal(file_claim(&claim, scratch.folder, &error), STATUS_OK);
    assert_false(scratch_holds(&scratch, dead));
    assert_false(scratch_holds(&scratch, ours));
    for (size_t i = 0; i < sizeof stay / sizeof *stay; i++) {
        if (!scratch_holds(&scratch, stay[i])) {
            print_error("%s was removed\n", stay[i]);
            fail();
        }
    }
    file_release(&claim);
    end(alive);
    scratch_remove(&elsewhere);
    scratch_remove(&scratch);
}

static void a_second_run_waits_until_the_first_is_done(void **state)
{
    (void)state;
    struct scratch scratch = scratch_make();
    const pid_t holder = holder_of(scratch.folder);
    const pid_t second = fork();
    assert_true(second >= 0);
    if (second == 0) {
        struct file_claim claim = {0};
        _exit(file_claim(&claim, scratch.folder, NULL) == STATUS_OK ? 37 : 1);
    }
    const struct timespec while_it_waits = {.tv_nsec = 200000000};
    (void)nanosleep(&while_it_waits, NULL);
    int outcome = 0;
    assert_int_equal(waitpid(second, &outcome, WNOHANG), 0);
    end(holder); /* a killed run holds nothing */
    assert_int_equal(waitpid(second, &outcome, 0), second);
    assert_true(WIFEXITED(outcome));
    assert_int_equal(WEXITSTATUS(outcome), 37);
    scratch_remove(&scratch);
}

/* Comes again, should the first come before the wait. */
static void come_again(int signal_number)
{
    (void)signal_number;
    (void)alarm(1);
}

static void a_signal_ends_the_wait(void **state)
{
    (void)state;
    struct scratch scratch = scratch_make();
    const pid_t holder = holder_of(scratch.folder);
    const struct sigaction listen = {.sa_handler = come_again};
    struct sigaction before;
    assert_int_equal(sigaction(SIGALRM, &listen, &before), 0);
    struct file_claim claim = {0};
    struct error error = {0};
    (void)alarm(1);
    assert_int_equal(file_claim(&claim, scratch.folder, &error), STATUS_STOPPED);
    (void)alarm(0);
    assert_int_equal(sigaction(SIGALRM, &before, NULL), 0);
    assert_null(claim.folder);
    assert_non_null(strstr(error.text, scratch.folder));
    end(holder);
    scratch_remove(&scratch);
}

/* Else a gnuplot left over from a killed run would keep the folder. */
static void programs_that_are_started_do_not_hold_it(void **state)
{
    (void)state;
    struct scratch scratch = scratch_make();
    struct file_claim claim = {0};
    assert_int_equal(file_claim(&claim, scratch.folder, NULL), STATUS_OK);
    assert_true((fcntl(dirfd(claim.folder), F_GETFD) & FD_CLOEXEC) != 0);
    file_release(&claim);
    file_release(&claim);
    assert_null(claim.folder);
    scratch_remove(&scratch);
}

static void the_lock_of_a_file_is_for_one(void **state)
{
    (void)state;
    struct scratch scratch = scratch_make();
    char path[SCRATCH_PATH_SIZE + 16];
    scratch_write(&scratch, "journal", "", false);
    (void)snprintf(path, sizeof path, "%s/journal", scratch.folder);
    const int first = open(path, O_RDWR);
    const int second = open(path, O_RDWR);
    assert_true(first >= 0 && second >= 0);
    assert_int_equal(file_lock(first), FILE_LOCK_HELD);
    assert_int_equal(file_lock(second), FILE_LOCK_TAKEN);
    assert_int_equal(close(first), 0);
    assert_int_equal(file_lock(second), FILE_LOCK_HELD);
    assert_int_equal(close(second), 0);
    scratch_remove(&scratch);
}

static void what_is_no_folder_cannot_be_held(void **state)
{
    (void)state;
    struct scratch scratch = scratch_make();
    char path[SCRATCH_PATH_SIZE + 16];
    scratch_write(&scratch, "taken", "mine", false);
    (void)snprintf(path, sizeof path, "%s/taken", scratch.folder);
    struct file_claim claim = {0};
    struct error error = {0};
    assert_int_equal(file_claim(&claim, path, &error), STATUS_FILE);
    assert_non_null(strstr(error.text, path));
    assert_null(claim.folder);
    scratch_remove(&scratch);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_killed_runs_left_is_removed_and_nothing_else),
        cmocka_unit_test(a_second_run_waits_until_the_first_is_done),
        cmocka_unit_test(a_signal_ends_the_wait),
        cmocka_unit_test(programs_that_are_started_do_not_hold_it),
        cmocka_unit_test(the_lock_of_a_file_is_for_one),
        cmocka_unit_test(what_is_no_folder_cannot_be_held),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
