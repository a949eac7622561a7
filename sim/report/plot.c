/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/plot.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "keep.h"
#include "pailcast/base/file.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/catalog.h"
#include "picture.h"
#include "series.h"
#include "slurp.h"

extern char **environ;

/* A plot takes well under a second; a gnuplot that hangs is ended after this (chosen). */
static const double plot_limit_s = 30;

/* What it may write, where a plot has a ten-thousandth of that: past this it writes
 * something else, which must not fill the disk. */
enum {
    PLOT_BYTES_MAX = 1 << 28
};

/* Between two looks at it while it does not take its script. */
static const int plot_look_ms = 20;

const struct plot_kind plot_kinds[] = {
    {"ec", true, false, 0, "EC of all strategies",
     "A curve that climbs out of the grey band needs water or a renewal; one that "
     "stays in it may still hide a shortage, so look at the ions below."},
    {"result", true, false, 0, "What each strategy gives and costs",
     "Growth against the unstressed plant, solution dumped and salt poured: look "
     "for a long first bar beside short ones."},
    {"volume", false, false, PLOT_SAMPLES, "Water in the bucket",
     "The level must stay above the line of the root tips; the saw teeth are "
     "visits."},
    {"ec", false, false, PLOT_SAMPLES, "EC",
     "Between visits EC climbs when the plant drinks faster than it eats; each "
     "drop is a pour, and it should fall back into the grey band."},
    {"ions", false, false, PLOT_SAMPLES, "The ions",
     "Above, what the plant eats: a curve that reaches zero is a nutrient run out,"
     " whatever the EC. Below, what gathers: a curve that only climbs is left "
     "behind at every fill."},
    {"makeup", false, false, PLOT_MAKEUP, "What the EC is made of",
     "Plain layers are nutrients still of use, hatched ones are ballast: the "
     "higher the hatching, the less the pen says about food."},
    {"ph", false, false, PLOT_SAMPLES, "pH",
     "Roots take up best between about 5.5 and 6.5; a steady drift asks for acid "
     "or base, or for another water."},
    {"growth", false, true, PLOT_SAMPLES | PLOT_GROWTH, "Growth and drinking",
     "Where the two upper curves part, the solution is holding the plant back; "
     "below, how much it drinks each day."},
};
const size_t plot_kind_count = sizeof plot_kinds / sizeof plot_kinds[0];

bool plot_applies(const struct plot_kind *kind, const struct compare *compare)
{
    return !kind->needs_plant || compare->scenario->crop.kind != CROP_NONE;
}

static double plot_now_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static enum status plot_missing(struct error *error)
{
    return status_error(
        error, STATUS_PLOT,
        "gnuplot was not found: plots need the Debian package gnuplot-nox "
        "(apt install gnuplot-nox)");
}

/* Starts gnuplot with standard input from *feed, which the caller closes. */
static enum status plot_start(pid_t *child, int *feed, const struct plot_job *job,
                              struct error *error)
{
    /* -d: no start-up files, whose settings would change the plots. */
    char *arguments[] = {"gnuplot", "-d", NULL};
    int ends[2];
    if (pipe(ends) != 0) {
        return status_error(error, STATUS_PLOT, "no pipe to gnuplot: %s",
                            strerror(errno));
    }
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    sigset_t defaults;
    (void)sigemptyset(&defaults);
    (void)sigaddset(&defaults, SIGPIPE);
    (void)posix_spawn_file_actions_init(&actions);
    (void)posix_spawnattr_init(&attributes);
    (void)posix_spawnattr_setsigdefault(&attributes, &defaults);
    (void)posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGDEF);
    (void)posix_spawn_file_actions_adddup2(&actions, ends[0], STDIN_FILENO);
    (void)posix_spawn_file_actions_adddup2(&actions, job->out, STDOUT_FILENO);
    (void)posix_spawn_file_actions_adddup2(&actions, job->complaints, STDERR_FILENO);
    (void)posix_spawn_file_actions_addclose(&actions, ends[1]);
    int failed =
        posix_spawnp(child, arguments[0], &actions, &attributes, arguments, environ);
    (void)posix_spawn_file_actions_destroy(&actions);
    (void)posix_spawnattr_destroy(&attributes);
    (void)close(ends[0]);
    if (failed != 0) {
        (void)close(ends[1]);
        return failed == ENOENT
                   ? plot_missing(error)
                   : status_error(error, STATUS_PLOT, "gnuplot could not be started: %s",
                                  strerror(failed));
    }
    *feed = ends[1];
    return STATUS_OK;
}

static bool plot_overflows(const struct plot_job *job)
{
    struct stat out;
    struct stat complaints;
    return fstat(job->out, &out) == 0 && fstat(job->complaints, &complaints) == 0 &&
           out.st_size + complaints.st_size > PLOT_BYTES_MAX;
}

/* Writes until all is written, the reader is gone or writes without end, or the deadline
 * is past. */
static void plot_write(int feed, const struct plot_job *job, double deadline_s)
{
    (void)fcntl(feed, F_SETFL, fcntl(feed, F_GETFL) | O_NONBLOCK);
    size_t sent = 0;
    while (sent < job->script_size) {
        struct pollfd ready = {.fd = feed, .events = POLLOUT};
        if (plot_now_s() >= deadline_s || plot_overflows(job)) {
            return;
        }
        int found = poll(&ready, 1, plot_look_ms);
        if (found < 0 && errno != EINTR) {
            return;
        }
        if (found <= 0) {
            continue;
        }
        ssize_t wrote = write(feed, job->script + sent, job->script_size - sent);
        if (wrote < 0 && errno != EAGAIN && errno != EINTR) {
            return;
        }
        sent += wrote > 0 ? (size_t)wrote : 0;
    }
}

/* Waits for the child, or ends it at the deadline or when it writes without end. */
static enum status plot_await(pid_t child, const struct plot_job *job, double deadline_s,
                              struct error *error)
{
    int outcome = 0;
    pid_t done = waitpid(child, &outcome, WNOHANG);
    bool overflows = false;
    while (done == 0 && plot_now_s() < deadline_s && !overflows) {
        (void)poll(NULL, 0, 2);
        done = waitpid(child, &outcome, WNOHANG);
        overflows = plot_overflows(job);
    }
    if (done == 0) {
        (void)kill(child, SIGKILL);
        (void)waitpid(child, &outcome, 0);
    }
    if (overflows) {
        return status_error(error, STATUS_PLOT,
                            "gnuplot wrote without end instead of a plot");
    }
    if (done == 0) {
        return status_error(error, STATUS_PLOT,
                            "gnuplot did not finish within %g s and was ended",
                            job->limit_s);
    }
    if (done == child && WIFEXITED(outcome) && WEXITSTATUS(outcome) == 0) {
        return STATUS_OK;
    }
    /* What the loader of a broken or half-installed program answers. */
    static const int not_started = 127;
    if (done == child && WIFEXITED(outcome) && WEXITSTATUS(outcome) == not_started) {
        return status_error(error, STATUS_PLOT,
                            "gnuplot could not start: plots need the Debian package "
                            "gnuplot-nox, whole, and memory for it");
    }
    return status_error(error, STATUS_PLOT, "gnuplot died before the plot was done");
}

enum status plot_feed(const struct plot_job *job, struct error *error)
{
    const double deadline_s = plot_now_s() + job->limit_s;
    pid_t child = 0;
    int feed = -1;
    enum status status = plot_start(&child, &feed, job, error);
    if (status != STATUS_OK) {
        return status;
    }
    struct sigaction ignore = {0};
    struct sigaction before;
    ignore.sa_handler = SIG_IGN;
    (void)sigaction(SIGPIPE, &ignore, &before);
    plot_write(feed, job, deadline_s);
    (void)close(feed);
    (void)sigaction(SIGPIPE, &before, NULL);
    return plot_await(child, job, deadline_s, error);
}

/* Adds gnuplot's own first complaint to error. */
static void plot_quote(FILE *complaints, struct error *error)
{
    char line[256];
    rewind(complaints);
    while (fgets(line, sizeof line, complaints) != NULL) {
        line[strcspn(line, "\n")] = '\0';
        const char *words = line + strspn(line, " \t^");
        /* It first repeats the command, with a prompt, then says what is wrong. */
        const bool repeats = strncmp(words, "gnuplot>", 8) == 0;
        const bool reports =
            strncmp(words, keep_panel_word, strlen(keep_panel_word)) == 0;
        if (*words != '\0' && !repeats && !reports) {
            (void)status_error(error, STATUS_PLOT, "gnuplot said: %s", words);
            return;
        }
    }
}

/* Loads plots/<name>.gp. */
static void plot_load(FILE *out, const char *name)
{
    char path[FILE_PATH_SIZE];
    (void)snprintf(path, sizeof path, "%s/plots/%s.gp", catalog_folder(), name);
    fputs("load ", out);
    text_gnuplot(out, path);
    fputc('\n', out);
}

/* gnuplot draws into a nameless file; only a whole picture gets a name. */
static enum status plot_run(struct plot_drawn *drawn, const char *text, size_t size,
                            struct error *error)
{
    drawn->picture = tmpfile();
    drawn->complaints = tmpfile();
    if (drawn->picture == NULL || drawn->complaints == NULL) {
        return status_error(error, STATUS_FILE, "no room for a passing file: %s",
                            strerror(errno));
    }
    const struct plot_job job = {.script = text,
                                 .script_size = size,
                                 .out = fileno(drawn->picture),
                                 .complaints = fileno(drawn->complaints),
                                 .limit_s = plot_limit_s};
    const enum status status =
        catalog_folder()[0] != '\0'
            ? plot_feed(&job, error)
            : status_error(error, STATUS_PLOT,
                           "the scripts of the plots are not found; set PAILCAST_DATA to "
                           "the folder that holds scenarios/ and plots/");
    if (status != STATUS_OK) {
        plot_quote(drawn->complaints, error);
    }
    return status;
}

/* Draws by plots/<name>.gp, in the common style where it is one for a picture. */
static enum status plot_sketch_run(struct plot_drawn *drawn,
                                   const struct plot_sketch *sketch, bool styled,
                                   struct error *error)
{
    char *text = NULL;
    size_t size = 0;
    enum status status;
    FILE *stream = open_memstream(&text, &size);
    if (stream != NULL) {
        sketch->write(stream, sketch->context);
        if (styled) {
            plot_load(stream, "style");
        }
        plot_load(stream, sketch->name);
    }
    if (stream == NULL || fclose(stream) != 0) {
        status = status_error(error, STATUS_MEMORY, "no memory for a plot's data");
    } else {
        status = plot_run(drawn, text, size, error);
    }
    free(text);
    return status;
}

enum status plot_sketch_draw(struct plot_drawn *drawn, const struct plot_sketch *sketch,
                             struct error *error)
{
    return plot_sketch_run(drawn, sketch, true, error);
}

static void plot_close(FILE **stream)
{
    if (*stream != NULL) {
        (void)fclose(*stream);
        *stream = NULL;
    }
}

void plot_drawn_close(struct plot_drawn *drawn)
{
    plot_close(&drawn->picture);
    plot_close(&drawn->complaints);
}

/* One picture of a comparison. */
struct plot_one {
    const struct compare *compare;
    const struct plot_kind *kind;
    size_t row;
};

static void plot_write_one(FILE *out, const void *context)
{
    const struct plot_one *one = context;
    if (one->kind->overall) {
        series_write_compare(out, one->compare);
    } else {
        series_write_strategy(out, one->compare, one->row, one->kind->blocks);
    }
}

static enum status plot_draw_one(const struct picture_album *album,
                                 const struct plot_kind *kind, size_t row,
                                 struct error *error)
{
    char script[32];
    const struct plot_one one = {album->compare, kind, row};
    const struct plot_sketch sketch = {script, plot_write_one, &one};
    (void)snprintf(script, sizeof script, "%s%s", kind->overall ? "compare-" : "",
                   kind->name);
    return picture_keep(album, kind, row, &sketch, error);
}

enum status plot_draw(const char *folder, const struct compare *compare,
                      struct error *error)
{
    const struct picture_album album = picture_album(folder, compare);
    enum status status = STATUS_OK;
    for (size_t i = 0; i < plot_kind_count && status == STATUS_OK; i++) {
        const size_t rows = plot_kinds[i].overall ? 1 : compare->row_count;
        if (!plot_applies(&plot_kinds[i], compare)) {
            continue;
        }
        for (size_t row = 0; row < rows && status == STATUS_OK; row++) {
            status = plot_draw_one(&album, &plot_kinds[i], row, error);
        }
    }
    return status;
}

/* A size from the environment, or 0. */
static int plot_size_said(const char *variable)
{
    const char *text = getenv(variable);
    const long size = text != NULL ? strtol(text, NULL, 10) : 0;
    return size > 0 && size < 10000 ? (int)size : 0;
}

/* Columns and lines of the terminal: what the environment says, else what the terminal
 * says, else 80 by 24; never so few that nothing can be seen. */
static void plot_terminal_size(int *columns, int *lines)
{
    struct winsize found = {0};
    (void)ioctl(STDOUT_FILENO, TIOCGWINSZ, &found);
    *columns = plot_size_said("COLUMNS");
    *lines = plot_size_said("LINES");
    if (*columns == 0) {
        *columns = found.ws_col > 0 ? found.ws_col : 80;
    }
    if (*lines == 0) {
        *lines = found.ws_row > 0 ? found.ws_row : 24;
    }
    *columns = *columns < 40 ? 40 : *columns;
    *lines = *lines < 12 ? 12 : *lines;
}

/* Copies text without form feeds, blanks at the ends of lines and empty lines. */
static void plot_print(FILE *out, const char *text)
{
    while (*text != '\0') {
        const size_t line = strcspn(text, "\n");
        size_t from = 0;
        size_t to = line;
        from += strspn(text, "\f");
        while (to > from && text[to - 1] == ' ') {
            to--;
        }
        if (to > from) {
            fprintf(out, "%.*s\n", (int)(to - from), text + from);
        }
        text += line + (text[line] == '\n');
    }
}

static void plot_write_terminal(FILE *out, const void *context)
{
    int columns = 0;
    int lines = 0;
    plot_terminal_size(&columns, &lines);
    series_write_compare(out, context);
    fprintf(out, "columns = %d\nlines = %d\n", columns, lines - 1);
}

enum status plot_show(const struct compare *compare, struct error *error)
{
    const struct plot_sketch sketch = {"terminal", plot_write_terminal, compare};
    struct plot_drawn drawn = {0};
    char *text = NULL;
    size_t length = 0;
    enum status status = plot_sketch_run(&drawn, &sketch, false, error);
    if (status == STATUS_OK && !slurp_stream(&text, &length, drawn.picture)) {
        status = status_error(error, STATUS_MEMORY, "no memory for the plot");
    }
    if (status == STATUS_OK) {
        plot_print(stdout, text);
    }
    free(text);
    plot_drawn_close(&drawn);
    return status;
}
