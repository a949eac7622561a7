/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One life here and by other solvers, at equal achieved error: R's deSolve in one call on
 * the compiled right-hand side, deSolve and SciPy on equations written in R and Python
 * (for the laurel those of a fixed mix, which needs no pen).
 *
 * The error is the largest relative one, at the end, in water drunk, each ion eaten and
 * dry mass made, against the life at rtol 1e-11. A peer takes whichever tolerance is
 * fastest for it with an error not above ours; one that never comes that near ends the
 * bench. Scripts time themselves, without loading; processor time, medians of blocks. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/run/life.h"
#include "pailcast/scenario/catalog.h"
#include "support/bench.h"
#include "support/program.h"
#include "support/timing.h"

enum {
    BLOCKS = 9,
    WATCHED_MAX = ION_COUNT + 2,
    PATH_SIZE = 1024
};

static const double block_ms = 60;
static const double study_rtol_factor = 5; /* as studies take it */

/* A life under measure, ours and by peers. */
struct subject {
    const char *name;
    size_t strategy;          /* of its scenario */
    const char *library;      /* with the compiled right-hand side; NULL: no such peers */
    const char *scripts;      /* NAME.R and NAME.py; NULL: no such peers */
    struct scenario scenario; /* its first strategy is lived */
    int watched[WATCHED_MAX];
    size_t watched_count;
    double right[STATE_COUNT];
    double cvode_ms, study_ms, error[2]; /* achieved: CVODE, study */
    double lsoda_ms, best_ms; /* deSolve, compiled; best at the study's error */
    double scripted_ms[2];    /* the best at each of the errors */
};

static void give_up(const char *text)
{
    (void)fprintf(stderr, "bench: %s\n", text);
    exit(1);
}

static void live(double end[STATE_COUNT], const struct scenario *scenario, bool lean)
{
    struct error error = {0};
    struct life life = {0};
    const struct strategy *strategy = &scenario->strategies[0];
    if ((lean ? life_run_lean(&life, scenario, strategy, &error)
              : life_run(&life, scenario, strategy, &error)) != STATUS_OK) {
        give_up(error.text);
    }
    const struct trajectory *path = &life.trajectory;
    memcpy(end, path->samples[path->sample_count - 1].state,
           sizeof(double) * STATE_COUNT);
    life_free(&life);
}

static double error_of(const struct subject *subject, const double end[STATE_COUNT])
{
    double worst = 0;
    for (size_t i = 0; i < subject->watched_count; i++) {
        const int k = subject->watched[i];
        worst = fmax(worst, fabs(end[k] / subject->right[k] - 1));
    }
    return worst;
}

static double block(const struct scenario *scenario, bool lean, int lives)
{
    double end[STATE_COUNT];
    const double begin = timing_cpu_ms();
    for (int i = 0; i < lives; i++) {
        live(end, scenario, lean);
    }
    return timing_cpu_ms() - begin;
}

/* Prints and returns the time of one life, ms. */
static double measure(double *error, const struct subject *subject,
                      const struct scenario *scenario, bool lean, const char *what)
{
    double end[STATE_COUNT], took[BLOCKS];
    int lives = 1;
    while (block(scenario, lean, lives) < block_ms) {
        lives *= 2;
    }
    for (int i = 0; i < BLOCKS; i++) {
        took[i] = block(scenario, lean, lives) / lives;
    }
    const double ms = timing_median(took, BLOCKS);
    live(end, scenario, lean);
    *error = error_of(subject, end);
    printf("  %-44s %9.3f ms %8.1f lives/s, error %.1e\n", what, ms, 1e3 / ms, *error);
    return ms;
}

static void open_subject(struct subject *subject)
{
    subject->best_ms = subject->scripted_ms[0] = subject->scripted_ms[1] = INFINITY;
    bench_shipped(&subject->scenario, subject->name);
    subject->scenario.strategies[0] = subject->scenario.strategies[subject->strategy];
    struct scenario exact = subject->scenario;
    exact.numerics.rtol = 1e-11;
    live(subject->right, &exact, true);
    for (int k = STATE_DRUNK; k < STATE_COUNT; k++) {
        if (k != STATE_EVAPORATED && subject->right[k] > 0) {
            subject->watched[subject->watched_count++] = k;
        }
    }
}

static void measure_ours(struct subject *subject)
{
    double unused;
    struct scenario scenario = subject->scenario;
    printf("%s, %g days, \"%s\"\n", subject->name, scenario.duration_d,
           scenario.strategies[0].name);
    (void)measure(&unused, subject, &scenario, false,
                  "here, CVODE Adams, as `run`: rows, pens, limits");
    scenario.sample_every_d = scenario.duration_d;
    subject->cvode_ms = measure(&subject->error[0], subject, &scenario, true,
                                "here, CVODE Adams, limits watched, no rows");
    scenario.numerics = (struct scenario_numerics){
        METHOD_ONE_STEP, study_rtol_factor * scenario.numerics.rtol};
    subject->study_ms = measure(&subject->error[1], subject, &scenario, true,
                                "here, study engine, limits watched, no rows");
}

static void write_row(FILE *file, const char *name, const double *values, size_t count)
{
    (void)fprintf(file, "%s", name);
    for (size_t i = 0; i < count; i++) {
        (void)fprintf(file, " %.17g", values[i]);
    }
    (void)fputc('\n', file);
}

/* A litre of what a visit pours, by a rule that does not look: mix or stock. */
static void write_poured(FILE *file, const struct strategy *strategy)
{
    const struct observation unseen = {0};
    const struct fill_plan plan = strategy->fill.rule->plan(&unseen, &strategy->fill, 1);
    double poured[STATE_COUNT] = {0};
    state_pour(poured, &strategy->water, plan.water_l);
    state_pour(poured, &strategy->stock, plan.stock_l);
    write_row(file, "poured", poured + STATE_ION, ION_COUNT + 1);
}

/* What the scripts are given: how the life begins, what a visit pours and when, and what
 * must come of it. */
static void write_given(const char *path, const struct subject *subject)
{
    const struct scenario *scenario = &subject->scenario;
    const struct strategy *strategy = &scenario->strategies[0];
    FILE *file = fopen(path, "w");
    if (file == NULL) {
        give_up("no folder for what is given");
    }
    double right[WATCHED_MAX] = {0}, watched[WATCHED_MAX] = {0}, first[STATE_COUNT] = {0};
    for (size_t i = 0; i < subject->watched_count; i++) {
        watched[i] = subject->watched[i];
        right[i] = subject->right[subject->watched[i]];
    }
    const struct liquid start = scenario_start_liquid(scenario, strategy);
    state_pour(first, &start, scenario->start_l);
    write_row(file, "targets", subject->error, 2);
    write_row(file, "watched", watched, subject->watched_count);
    write_row(file, "right", right, subject->watched_count);
    write_row(file, "first", first, STATE_ALKALINITY + 1);
    if (subject->scripts != NULL) {
        write_poured(file, strategy);
    }
    write_row(file, "days", &scenario->duration_d, 1);
    (void)fputs("visits", file);
    for (double day_d = strategy_next_visit(strategy, 0);
         day_d < scenario->duration_d - 1e-9;
         day_d = strategy_next_visit(strategy, day_d)) {
        (void)fprintf(file, " %.17g", day_d);
    }
    (void)fputc('\n', file);
    if (fclose(file) != 0) {
        give_up("what is given could not be written");
    }
}

/* Runs a script and prints what it measured. */
static void measure_peer(struct subject *subject, const char *what, const char *command)
{
    FILE *pipe = popen(command, "r");
    char line[256];
    while (pipe != NULL && fgets(line, sizeof line, pipe) != NULL) {
        char name[32], words[128];
        int target;
        double rtol, share, ms, error;
        if (sscanf(line, "%31s %d %lf %lf %lf %lf", name, &target, &rtol, &share, &ms,
                   &error) != 6 ||
            target < 1 || target > 2 || !(error <= subject->error[target - 1])) {
            give_up(line);
        }
        const double ours_ms = target == 1 ? subject->cvode_ms : subject->study_ms;
        (void)snprintf(words, sizeof words, "%s, %s, rtol %.0e", what, name, rtol);
        printf("  %-44s %9.3f ms %8.1f lives/s, error %.1e: %.1f times %s\n", words, ms,
               1e3 / ms, error, ms / ours_ms, target == 1 ? "CVODE's" : "the study's");
        if (strcmp(what, "compiled") != 0) {
            subject->scripted_ms[target - 1] = fmin(subject->scripted_ms[target - 1], ms);
        } else if (target == 2) {
            subject->best_ms = fmin(subject->best_ms, ms);
        } else if (strcmp(name, "lsoda") == 0) {
            subject->lsoda_ms = ms;
        }
    }
    if (pipe == NULL || pclose(pipe) != 0) {
        give_up("another solver could not be run or does not agree");
    }
}

static void measure_scripts(struct subject *subject, const char *given)
{
    char command[4 * PATH_SIZE];
    (void)snprintf(command, sizeof command, "Rscript tests/bench/%s.R %s",
                   subject->scripts, given);
    measure_peer(subject, "in R", command);
    (void)snprintf(command, sizeof command, "/usr/bin/python3 -B tests/bench/%s.py %s",
                   subject->scripts, given);
    measure_peer(subject, "in Python", command);
}

static void measure_subject(struct subject *subject)
{
    char folder[256], given[PATH_SIZE], command[4 * PATH_SIZE];
    program_folder(folder);
    (void)snprintf(given, sizeof given, "%s/given", folder);
    measure_ours(subject);
    write_given(given, subject);
    if (subject->library != NULL) {
        (void)snprintf(command, sizeof command,
                       "Rscript tests/bench/desolve.R %s scenarios/%s.cfg 0 %s",
                       subject->library, subject->name, given);
        measure_peer(subject, "compiled", command);
        printf("  deSolve's lsoda over CVODE %.2f; deSolve's best over the study engine "
               "%.2f\n",
               subject->lsoda_ms / subject->cvode_ms,
               subject->best_ms / subject->study_ms);
    }
    if (subject->scripts != NULL) {
        measure_scripts(subject, given);
        printf("  the best script over CVODE %.0f, over the study engine %.0f\n",
               subject->scripted_ms[0] / subject->cvode_ms,
               subject->scripted_ms[1] / subject->study_ms);
    }
    program_clean(folder);
}

int main(int argc, char **argv)
{
    char library[PATH_SIZE];
    (void)argc;
    const char *slash = strrchr(argv[0], '/');
    (void)snprintf(library, sizeof library, "%.*s/../outside/desolve.so",
                   slash != NULL ? (int)(slash - argv[0]) : 1,
                   slash != NULL ? argv[0] : ".");
    static struct subject subjects[] = {
        {.name = "evergreen-two-years"},
        {.name = "measured-cucumber", .scripts = "table"},
        {.name = "evergreen-two-years", .strategy = 1, .scripts = "grown"}, /* a mix */
    };
    subjects[0].library = subjects[1].library = library;
    puts("peers at equal achieved error; processor time without loading");
    for (size_t i = 0; i < sizeof subjects / sizeof subjects[0]; i++) {
        open_subject(&subjects[i]);
        measure_subject(&subjects[i]);
    }
    return 0;
}
