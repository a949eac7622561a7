/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program ended by signals at moments drawn at random over the length of its run:
 * every file under a final name is whole, and the next run works and tidies up. */
#include "support/close.h"

#include <dirent.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>

#include <cjson/cJSON.h>

#include "support/program.h"
#include "support/timing.h"

static const char trial[] =
    "title = \"A trial\"; duration = \"20 d\";\n"
    "bucket = { full = \"12 L\"; evaporation = \"0.05 L/d\"; };\n"
    "crop = { kind = \"table\"; name = \"t\"; stages = ( { name = \"s\"; drinks = \"0.7 "
    "L/d\";\n"
    "  eats = { k = \"2.3 mmol/L\"; no3 = \"2.3 mmol/L\"; }; } ); };\n"
    "water = { na = \"0.9 mmol/L\"; cl = \"0.9 mmol/L\"; };\n"
    "stock = { k = \"6.1 mmol/L\"; no3 = \"6.1 mmol/L\"; };\n"
    "strategies = ( { name = \"Only\"; fill = \"mix\"; stock_share = 0.67; visit_every = "
    "\"4 d\"; } );\n"
    "limits = { ec_high = \"2 mS/cm\"; };\n";

static const int fatal[] = {SIGKILL, SIGINT, SIGTERM};

static int in_folder(void **state)
{
    (void)program_enter(state);
    program_write(*state, "trial.cfg", trial);
    return 0;
}

static bool ends_in(const char *text, const char *ending)
{
    const size_t length = strlen(text);
    const size_t tail = strlen(ending);
    return length >= tail && strcmp(text + length - tail, ending) == 0;
}

/* Every row has as many cells as the head, and the last one its newline; at least so many
 * rows, the head among them. */
static bool is_whole_csv(const char *text, size_t least)
{
    size_t commas = 0;
    size_t wanted = 0;
    size_t rows = 0;
    bool quoted = false;
    for (const char *c = text; *c != '\0'; c++) {
        quoted = *c == '"' ? !quoted : quoted;
        commas += *c == ',' && !quoted ? 1 : 0;
        if (*c == '\n') {
            wanted = rows++ == 0 ? commas : wanted;
            if (commas != wanted) {
                return false;
            }
            commas = 0;
        }
    }
    return rows >= least && commas == 0 && ends_in(text, "\n");
}

static bool is_whole(const char *name, const char *text)
{
    if (ends_in(name, ".json")) {
        cJSON *json = cJSON_ParseWithOpts(text, NULL, 1);
        const bool parsed = json != NULL;
        cJSON_Delete(json);
        return parsed;
    }
    if (ends_in(name, ".csv")) {
        /* before the first visit its list is a head alone */
        return is_whole_csv(text, ends_in(name, "-visits.csv") ? 1 : 2);
    }
    if (ends_in(name, ".svg")) {
        return strncmp(text, "<?xml", 5) == 0 && ends_in(text, "</svg>\n");
    }
    if (ends_in(name, ".html")) {
        return strncmp(text, "<!", 2) == 0 && ends_in(text, "</html>\n");
    }
    return ends_in(name, ".journal"); /* torn at will: the tests of risk resume it */
}

/* Holds every file of folder/o for whole; returns how many halves lie beside them. */
static size_t look(const char *folder)
{
    char path[512];
    char name[512];
    size_t halves = 0;
    (void)snprintf(path, sizeof path, "%s/o", folder);
    DIR *found = opendir(path);
    for (const struct dirent *e = found != NULL ? readdir(found) : NULL; e != NULL;
         e = readdir(found)) {
        if (e->d_name[0] == '.') {
            halves += ends_in(e->d_name, ".part") ? 1 : 0;
            continue;
        }
        (void)snprintf(name, sizeof name, "o/%.250s", e->d_name);
        char *text = program_read(folder, name);
        assert_non_null(text);
        if (!is_whole(e->d_name, text)) {
            print_error("%s is not whole:\n%s\n", e->d_name, text);
            fail();
        }
        free(text);
    }
    if (found != NULL) {
        (void)closedir(found);
    }
    return halves;
}

/* Starts the command, sends the signal after so long and waits; outcome is waitpid's
 * word. Returns whether the signal met it alive. */
static bool end_after(int *outcome, const char *folder, const char *before,
                      const char *arguments, int signal_number, double after_s)
{
    struct timespec wait = {.tv_sec = (time_t)after_s};
    wait.tv_nsec = (long)(1e9 * (after_s - (double)wait.tv_sec));
    const pid_t child = program_start(folder, before, arguments);
    (void)nanosleep(&wait, NULL);
    if (waitpid(child, outcome, WNOHANG) == child) {
        return false;
    }
    (void)kill(child, signal_number);
    assert_int_equal(waitpid(child, outcome, 0), child);
    return true;
}

/* Lets the command through; returns how long it took, s. */
static double let_through(const char *folder, const char *before, const char *arguments)
{
    const double begin_ms = timing_wall_ms();
    assert_int_equal(program_run_in(folder, before, arguments), 0);
    assert_int_equal(look(folder), 0);
    return 1e-3 * (timing_wall_ms() - begin_ms);
}

/* A gnuplot that costs nothing, so that most moments fall into our own work. */
static void give_quick_gnuplot(const char *folder)
{
    char command[600];
    program_write(folder, "gnuplot",
                  "#!/bin/sh\ncat >/dev/null\n"
                  "echo '<?xml version=\"1.0\"?>'\necho '<svg>'\necho '</svg>'\n");
    (void)snprintf(command, sizeof command, "chmod +x %s/gnuplot", folder);
    assert_int_equal(system(command), 0);
}

/* Ends the command so often, in turn by each signal. `again` is what makes it whole. */
static void end_often(const char *folder, const char *before, const char *arguments,
                      const char *again, int times)
{
    enum {
        BETWEEN = 10 /* deaths before it is let through once */
    };
    uint64_t seed = 2385;
    double whole_s = let_through(folder, before, again);
    for (int met = 0, tries = 0; met < times; tries++) {
        seed = seed * 6364136223846793005U + 1442695040888963407U;
        const double share = (double)(seed >> 11) / 9007199254740992.0;
        const int signal_number = fatal[met % 3];
        int outcome;
        if (!end_after(&outcome, folder, before, arguments, signal_number,
                       share * whole_s)) {
            whole_s *= 0.8; /* the machine has become faster */
            assert_true(tries < 10 * times);
            continue;
        }
        /* 0 or 1: it stopped and kept what it had, or was about to end; INT and TERM kill
         * before it listens */
        assert_true(WIFEXITED(outcome) ? WEXITSTATUS(outcome) <= 1
                                       : WTERMSIG(outcome) == signal_number);
        assert_true(look(folder) <= 1);
        if (++met % BETWEEN == 0) {
            whole_s = let_through(folder, before, again);
        }
    }
    (void)let_through(folder, before, again);
}

/* The rows of a file in folder. */
static size_t rows_of(const char *folder, const char *name)
{
    char *text = program_read(folder, name);
    assert_non_null(text);
    size_t rows = 0;
    for (const char *c = text; *c != '\0'; c++) {
        rows += *c == '\n' ? 1 : 0;
    }
    free(text);
    return rows;
}

static void a_run_can_be_ended_at_any_moment(void **state)
{
    const char *folder = *state;
    give_quick_gnuplot(folder);
    end_often(folder, "PATH=.:$PATH", "run trial.cfg --out o --quiet",
              "run trial.cfg --out o --quiet", 44);
    end_often(folder, "", "run trial.cfg --out o --quiet",
              "run trial.cfg --out o --quiet", 6);
    assert_int_equal(program_run(folder, "run trial.cfg --out fresh --quiet"), 0);
    assert_int_equal(rows_of(folder, "o/only.csv"), rows_of(folder, "fresh/only.csv"));
}

/* Of a killed run's CSV there are all rows or the old file: two runs that differ in
 * length tell them apart. */
static void a_killed_run_leaves_all_rows_or_the_old_ones(void **state)
{
    const char *folder = *state;
    assert_int_equal(program_run(folder, "run trial.cfg --out o --quiet"), 0);
    const size_t old_rows = rows_of(folder, "o/only.csv");
    assert_int_equal(program_run(folder, "run trial.cfg --out n --quiet --days 21"), 0);
    const size_t new_rows = rows_of(folder, "n/only.csv");
    assert_true(old_rows > 50 && new_rows > old_rows);
    for (int i = 0; i < 12; i++) {
        int outcome;
        (void)end_after(&outcome, folder, "", "run trial.cfg --out o --quiet --days 21",
                        SIGKILL, 0.002 * i);
        const size_t rows = rows_of(folder, "o/only.csv");
        assert_true(rows == old_rows || rows == new_rows);
    }
}

static void a_study_of_risk_can_be_ended_at_any_moment(void **state)
{
    const char *folder = *state;
    end_often(folder, "", "risk trial.cfg --lives 30 --out o --quiet",
              "risk trial.cfg --lives 30 --out o --quiet --resume", 10);
}

static void a_search_of_settings_can_be_ended_at_any_moment(void **state)
{
    const char *folder = *state;
    const char *const wish = "tune trial.cfg --lives 60 --worlds 4 --out o --quiet";
    end_often(folder, "", wish, wish, 10);
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, in_folder, program_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(a_run_can_be_ended_at_any_moment),
        IN_FOLDER(a_killed_run_leaves_all_rows_or_the_old_ones),
        IN_FOLDER(a_study_of_risk_can_be_ended_at_any_moment),
        IN_FOLDER(a_search_of_settings_can_be_ended_at_any_moment),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
