/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs the real gnuplot, and in its place scripts that are missing, die or hang. */
#include "support/close.h"
#include "support/program.h"
#include "support/scratch.h"
#include "support/story.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "../../sim/report/picture.h"
#include "pailcast/report/csv.h"
#include "pailcast/report/plot.h"

static char old_path[4096];

/* A PATH that leads to `script` as gnuplot; to nothing when script is NULL. */
static struct scratch path_with(const char *script)
{
    struct scratch bin = scratch_make();
    char path[sizeof old_path + SCRATCH_PATH_SIZE];
    (void)snprintf(old_path, sizeof old_path, "%s", getenv("PATH"));
    (void)snprintf(path, sizeof path, "%s%s%s", bin.folder, script != NULL ? ":" : "",
                   script != NULL ? old_path : "");
    if (script != NULL) {
        scratch_write(&bin, "gnuplot", script, true);
    }
    assert_int_equal(setenv("PATH", path, 1), 0);
    return bin;
}

static void path_back(struct scratch *bin)
{
    assert_int_equal(setenv("PATH", old_path, 1), 0);
    scratch_remove(bin);
}

static char *csv_of(const struct compare *compare)
{
    struct scratch_text written = {0};
    scratch_open(&written);
    for (size_t i = 0; i < compare->row_count; i++) {
        csv_write(written.out, compare, i);
    }
    return scratch_close(&written);
}

static void every_plot_of_every_strategy_is_drawn(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct scratch folder = scratch_make();
    struct error error = {0};
    assert_int_equal(plot_draw(folder.folder, &story->compare, &error), STATUS_OK);
    const struct picture_album album = picture_album(folder.folder, &story->compare);
    size_t expected = 0;
    for (size_t i = 0; i < plot_kind_count; i++) {
        const size_t rows = plot_kinds[i].overall ? 1 : STORY_ROWS;
        for (size_t row = 0; row < rows; row++) {
            char *text = NULL;
            size_t length = 0;
            assert_true(picture_read(&text, &length, &album, &plot_kinds[i], row));
            free(text);
            expected++;
        }
    }
    assert_int_equal(expected, 2 + 6 * STORY_ROWS);
    assert_int_equal(scratch_count(&folder, ""), expected);
    scratch_remove(&folder);
    story_free(story);
}

static void without_a_plant_growth_is_not_drawn(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct scratch folder = scratch_make();
    struct error error = {0};
    story->scenario.crop.kind = CROP_NONE;
    story->compare.row_count = 1;
    story->compare.rows[0].growth_index = NAN;
    assert_int_equal(plot_draw(folder.folder, &story->compare, &error), STATUS_OK);
    assert_int_equal(scratch_count(&folder, ".svg"), 2 + 5);
    assert_int_equal(scratch_count(&folder, "growth.svg"), 0);
    story->compare.row_count = STORY_ROWS;
    scratch_remove(&folder);
    story_free(story);
}

/* Every corner a run can end in: nothing lived, no visit, no limit, dried out. */
static void poor_lives_are_drawn_too(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct scratch folder = scratch_make();
    struct error error = {0};
    struct scenario_limits *limits = &story->scenario.limits;
    limits->ec_high_ms_cm = INFINITY;
    limits->ec_low_ms_cm = 0;
    story->compare.rows[0].life.trajectory.visit_count = 0;
    story->compare.rows[1].life.trajectory.sample_count = 1;
    story->compare.rows[1].life.end_d = 0;
    struct trajectory *dry = &story->compare.rows[2].life.trajectory;
    for (size_t i = dry->sample_count - 40; i < dry->sample_count; i++) {
        dry->samples[i].ec_ms_cm = dry->samples[i].ph = NAN;
        memset(dry->samples[i].state, 0, sizeof dry->samples[i].state);
    }
    for (size_t i = 0; i < STORY_ROWS; i++) {
        story->compare.rows[i].life.ledger.salt_poured_g = 0;
        story->compare.rows[i].growth_index = 0;
    }
    enum status status = plot_draw(folder.folder, &story->compare, &error);
    if (status != STATUS_OK) {
        print_error("%s\n", error.text);
    }
    assert_int_equal(status, STATUS_OK);
    assert_int_equal(scratch_count(&folder, ".svg"), 2 + 6 * STORY_ROWS);
    scratch_remove(&folder);
    story_free(story);
}

static enum status feed_words(const char *words, double limit_s, struct error *error)
{
    FILE *out = tmpfile();
    FILE *complaints = tmpfile();
    assert_true(out != NULL && complaints != NULL);
    const struct plot_job job = {.script = words,
                                 .script_size = strlen(words),
                                 .out = fileno(out),
                                 .complaints = fileno(complaints),
                                 .limit_s = limit_s};
    enum status status = plot_feed(&job, error);
    (void)fclose(out);
    (void)fclose(complaints);
    return status;
}

static void names_from_strangers_run_nothing(void **state)
{
    (void)state;
    static const char *const attacks[STORY_ROWS] = {
        "`touch pwned`$(touch pwned)", "'.system('touch pwned').'\n!touch pwned\n",
        "</text><script>\"`touch pwned`\" @p %s"};
    struct scratch folder = scratch_make();
    struct error error = {0};
    char *home = getcwd(NULL, 0);
    assert_non_null(home);
    assert_int_equal(chdir(folder.folder), 0);
    /* The trap is real: in a double-quoted string the same words do run. */
    assert_int_equal(feed_words("print \"`touch pwned`\"\n", 20, &error), STATUS_OK);
    const bool trap_works = scratch_holds(&folder, "pwned");
    if (trap_works) {
        (void)unlink("pwned");
    }
    struct story *story = story_tell();
    for (size_t i = 0; i < STORY_ROWS; i++) {
        (void)snprintf(story->scenario.strategies[i].name, TEXT_NAME_SIZE, "%s",
                       attacks[i]);
    }
    (void)snprintf(story->scenario.title, TEXT_NAME_SIZE, "%s", attacks[0]);
    enum status drawn = plot_draw(folder.folder, &story->compare, &error);
    const bool ran = scratch_holds(&folder, "pwned");
    char *picture = scratch_read(&folder, "compare-ec.svg");
    assert_int_equal(chdir(home), 0);
    assert_true(trap_works);
    assert_int_equal(drawn, STATUS_OK);
    assert_false(ran);
    assert_non_null(picture);
    assert_non_null(strstr(picture, "`touch pwned`$(touch pwned)"));
    assert_non_null(strstr(picture, "&lt;/text&gt;&lt;script&gt;"));
    assert_int_equal(scratch_occurs(picture, "<script"), 1); /* our own */
    free(picture);
    free(home);
    scratch_remove(&folder);
    story_free(story);
}

static void a_missing_gnuplot_is_named_and_changes_no_number(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct scratch folder = scratch_make();
    struct error error = {0};
    char *before = csv_of(&story->compare);
    struct scratch bin = path_with(NULL);
    enum status drawn = plot_draw(folder.folder, &story->compare, &error);
    enum status shown = plot_show(&story->compare, &error);
    path_back(&bin);
    char *after = csv_of(&story->compare);
    assert_int_equal(drawn, STATUS_PLOT);
    assert_int_equal(shown, STATUS_PLOT);
    assert_non_null(strstr(error.text, "gnuplot-nox"));
    assert_int_equal(scratch_count(&folder, ""), 0);
    assert_string_equal(before, after);
    free(before);
    free(after);
    scratch_remove(&folder);
    story_free(story);
}

/* Draws with `script` for gnuplot; nothing may be left in the folder. */
static void check_fails_clean(const char *script, const char *words)
{
    struct story *story = story_tell();
    struct scratch folder = scratch_make();
    struct error error = {0};
    struct scratch bin = path_with(script);
    enum status drawn = plot_draw(folder.folder, &story->compare, &error);
    path_back(&bin);
    assert_int_equal(drawn, STATUS_PLOT);
    if (strstr(error.text, words) == NULL) {
        print_error("no \"%s\" in: %s\n", words, error.text);
    }
    assert_non_null(strstr(error.text, words));
    assert_int_equal(scratch_count(&folder, ""), 0);
    scratch_remove(&folder);
    story_free(story);
}

static void a_gnuplot_that_dies_leaves_nothing_half_written(void **state)
{
    (void)state;
    check_fails_clean("#!/bin/sh\nexit 127\n", "gnuplot-nox");
    check_fails_clean("#!/bin/sh\necho 'out of wits' >&2\nexit 3\n",
                      "gnuplot said: out of wits");
    check_fails_clean("#!/bin/sh\necho '<svg><g>'\nkill -9 $$\n", "died");
    check_fails_clean("#!/bin/sh\ncat >/dev/null\necho '<svg><g>'\n", "unfinished");
    check_fails_clean("#!/bin/sh\nexec <&-\necho '<svg><g>'\n", "unfinished");
}

/* After some good pictures: those stay, whole. */
static void pictures_finished_before_a_death_stay(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct scratch folder = scratch_make();
    struct error error = {0};
    char script[2 * SCRATCH_PATH_SIZE + 256];
    (void)snprintf(script, sizeof script,
                   "#!/bin/sh\nn=$(cat '%s/../count.%ld' 2>/dev/null)\n"
                   "echo \"x$n\" > '%s/../count.%ld'\n"
                   "[ \"$n\" = xxx ] && exit 1\nexec /usr/bin/gnuplot \"$@\"\n",
                   folder.folder, (long)getpid(), folder.folder, (long)getpid());
    struct scratch bin = path_with(script);
    enum status drawn = plot_draw(folder.folder, &story->compare, &error);
    path_back(&bin);
    char count[SCRATCH_PATH_SIZE + 32];
    (void)snprintf(count, sizeof count, "%s/../count.%ld", folder.folder, (long)getpid());
    (void)unlink(count);
    assert_int_equal(drawn, STATUS_PLOT);
    assert_int_equal(scratch_count(&folder, ".svg"), 3);
    assert_int_equal(scratch_count(&folder, ""), 3);
    char *text = scratch_read(&folder, "compare-ec.svg");
    assert_string_equal(text + strlen(text) - 7, "</svg>\n");
    free(text);
    scratch_remove(&folder);
    story_free(story);
}

static double now_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void a_gnuplot_that_hangs_is_ended(void **state)
{
    (void)state;
    static const char *const hanging[] = {"#!/bin/sh\nexec sleep 57\n",
                                          "#!/bin/sh\ncat >/dev/null\nexec sleep 57\n"};
    /* more than a pipe holds, so that writing blocks */
    enum {
        MUCH = 1 << 18
    };
    char *much = malloc(MUCH + 1);
    assert_non_null(much);
    memset(much, '\n', MUCH);
    much[MUCH] = '\0';
    for (size_t i = 0; i < 2; i++) {
        struct error error = {0};
        struct scratch bin = path_with(hanging[i]);
        const double before_s = now_s();
        enum status status = feed_words(much, 0.37, &error);
        const double took_s = now_s() - before_s;
        path_back(&bin);
        assert_int_equal(status, STATUS_PLOT);
        assert_non_null(strstr(error.text, "did not finish within 0.37 s"));
        /* from the limit up; a second is room for a busy machine */
        assert_true(took_s >= 0.37 && took_s < 1.5);
    }
    free(much);
}

static void a_folder_that_is_not_there_is_a_file_error(void **state)
{
    (void)state;
    struct story *story = story_tell();
    struct error error = {0};
    assert_int_equal(plot_draw("/tmp/pailcast-no-such-folder", &story->compare, &error),
                     STATUS_FILE);
    story_free(story);
}

/* Standard output of plot_show, to be freed. */
static char *shown_text(const struct compare *compare)
{
    struct scratch folder = scratch_make();
    struct error error = {0};
    char path[SCRATCH_PATH_SIZE + 8];
    (void)snprintf(path, sizeof path, "%s/shown", folder.folder);
    (void)fflush(stdout);
    int kept = dup(STDOUT_FILENO);
    assert_non_null(freopen(path, "w", stdout));
    enum status status = plot_show(compare, &error);
    (void)fflush(stdout);
    assert_true(dup2(kept, STDOUT_FILENO) >= 0);
    (void)close(kept);
    assert_int_equal(status, STATUS_OK);
    char *text = scratch_read(&folder, "shown");
    scratch_remove(&folder);
    return text;
}

static void the_terminal_plot_fits_and_tells_strategies_apart(void **state)
{
    (void)state;
    struct story *story = story_tell();
    assert_int_equal(setenv("COLUMNS", "71", 1), 0);
    assert_int_equal(setenv("LINES", "30", 1), 0);
    char *text = shown_text(&story->compare);
    assert_true(program_widest(text) <= 71);
    assert_true(scratch_occurs(text, "\n") <= 30);
    assert_true(scratch_occurs(text, "A") > 20);
    assert_true(scratch_occurs(text, "B") > 20);
    assert_true(scratch_occurs(text, "C") > 20);
    assert_non_null(strstr(text, "Süßwasser"));
    free(text);
    assert_int_equal(unsetenv("COLUMNS"), 0);
    assert_int_equal(unsetenv("LINES"), 0);
    text = shown_text(&story->compare);
    assert_true(program_widest(text) <= 80);
    free(text);
    story_free(story);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_plot_of_every_strategy_is_drawn),
        cmocka_unit_test(without_a_plant_growth_is_not_drawn),
        cmocka_unit_test(poor_lives_are_drawn_too),
        cmocka_unit_test(names_from_strangers_run_nothing),
        cmocka_unit_test(a_missing_gnuplot_is_named_and_changes_no_number),
        cmocka_unit_test(a_gnuplot_that_dies_leaves_nothing_half_written),
        cmocka_unit_test(pictures_finished_before_a_death_stay),
        cmocka_unit_test(a_gnuplot_that_hangs_is_ended),
        cmocka_unit_test(a_folder_that_is_not_there_is_a_file_error),
        cmocka_unit_test(the_terminal_plot_fits_and_tells_strategies_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
