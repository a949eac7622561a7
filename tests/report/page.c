/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page as text, and in a browser where there is one. */
#include "support/close.h"
#include "support/scratch.h"
#include "support/story.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

#include "pailcast/report/page.h"
#include "pailcast/report/plot.h"

struct told {
    struct story *story;
    struct scratch folder;
    char *page;
};

/* The page of a story, its plots drawn or not. */
static struct told tell(bool draw)
{
    struct told told = {.story = story_tell(), .folder = scratch_make()};
    struct error error = {0};
    if (draw) {
        assert_int_equal(plot_draw(told.folder.folder, &told.story->compare, &error),
                         STATUS_OK);
    }
    assert_int_equal(page_write(told.folder.folder, &told.story->compare, &error),
                     STATUS_OK);
    told.page = scratch_read(&told.folder, "report.html");
    assert_non_null(told.page);
    return told;
}

static void forget(struct told *told)
{
    free(told->page);
    scratch_remove(&told->folder);
    story_free(told->story);
}

static void the_verdict_stands_before_the_table_and_the_plots(void **state)
{
    const struct told *told = *state;
    const char *verdict = strstr(told->page, "Renew monthly: it keeps EC under 2.6");
    const char *table = strstr(told->page, "<table>");
    const char *plot = strstr(told->page, "<figure>");
    assert_true(verdict != NULL && table != NULL && plot != NULL);
    assert_true(verdict < table && table < plot);
}

static void strangers_words_are_only_words(void **state)
{
    const struct told *told = *state;
    assert_null(strstr(told->page, "<script>alert"));
    assert_null(strstr(told->page, "<b>nur"));
    assert_null(strstr(told->page, "<anions>"));
    assert_null(strstr(told->page, "<shows>"));
    assert_non_null(strstr(told->page, "&lt;script&gt;alert(1)&lt;/script&gt;"));
    assert_non_null(strstr(told->page, "&lt;anions&gt;"));
    assert_non_null(strstr(told->page, "Kübel naïve"));
    /* one script of our own, closed once */
    assert_int_equal(scratch_occurs(told->page, "<script"), 1);
    assert_int_equal(scratch_occurs(told->page, "</script>"), 1);
}

static void nothing_is_fetched_from_elsewhere(void **state)
{
    const struct told *told = *state;
    assert_non_null(strstr(told->page, "default-src 'none'"));
    assert_null(strstr(told->page, " src="));
    assert_null(strstr(told->page, "<link"));
    assert_null(strstr(told->page, "@import"));
    assert_null(strstr(told->page, "https:"));
    /* the names of the SVG and XLink languages are no addresses */
    const size_t names = scratch_occurs(told->page, "http://www.w3.org/2000/svg") +
                         scratch_occurs(told->page, "http://www.w3.org/1999/xlink");
    assert_int_equal(scratch_occurs(told->page, "http:"), names);
}

static void every_plot_is_in_it_with_a_caption(void **state)
{
    const struct told *told = *state;
    const size_t plots = 2 + 6 * STORY_ROWS;
    assert_int_equal(scratch_occurs(told->page, "<svg "), plots);
    assert_int_equal(scratch_occurs(told->page, "</svg>"), plots);
    assert_int_equal(scratch_occurs(told->page, "<figcaption>"), plots);
    assert_null(strstr(told->page, "could not be drawn"));
}

static void advice_warnings_books_and_cautions_are_in_it(void **state)
{
    (void)state;
    struct told told = tell(false);
    assert_int_equal(scratch_occurs(told.page, "Day 48: drain 7.3 L"), STORY_ROWS);
    assert_non_null(strstr(told.page, "the stock is short of 0.6 meq/L"));
    assert_int_equal(scratch_occurs(told.page, "3.1e-13 of the water"), STORY_ROWS);
    assert_non_null(strstr(told.page, "renews the whole bucket every 30 d"));
    assert_int_equal(scratch_occurs(told.page, "Should the air pump stop"), STORY_ROWS);
    static const char *const cautions[] = {
        "Mains power",    "Lamps run hot", "Acids and bases",
        "drinking water", "local rules",   "does not replace local codes"};
    for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++) {
        assert_non_null(strstr(told.page, cautions[i]));
    }
    forget(&told);
}

static void a_missing_plot_is_said_to_be_missing(void **state)
{
    (void)state;
    struct told told = tell(false);
    assert_int_equal(scratch_occurs(told.page, "This plot could not be drawn."),
                     2 + 6 * STORY_ROWS);
    assert_non_null(strstr(told.page, "<table>"));
    forget(&told);
}

static void a_plot_of_an_earlier_run_is_not_shown(void **state)
{
    (void)state;
    struct told told = tell(true);
    struct error error = {0};
    told.story->compare.rows[1].life.trajectory.samples[100].ec_ms_cm += 0.01;
    assert_int_equal(page_write(told.folder.folder, &told.story->compare, &error),
                     STATUS_OK);
    char *page = scratch_read(&told.folder, "report.html");
    assert_int_equal(scratch_occurs(page, "This plot could not be drawn."),
                     2 + 6 * STORY_ROWS);
    free(page);
    forget(&told);
}

static void a_full_disk_leaves_the_old_page_whole(void **state)
{
    const struct told *told = *state;
    struct error error = {0};
    struct rlimit before;
    (void)signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    const struct rlimit tight = {.rlim_cur = 12345, .rlim_max = before.rlim_max};
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &tight), 0);
    enum status status = page_write(told->folder.folder, &told->story->compare, &error);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    char *page = scratch_read(&told->folder, "report.html");
    assert_int_equal(status, STATUS_FILE);
    assert_string_equal(page, told->page);
    assert_int_equal(scratch_count(&told->folder, ".part"), 0);
    free(page);
}

static int tell_once(void **state)
{
    static struct told told;
    told = tell(true);
    *state = &told;
    return 0;
}

static int forget_once(void **state)
{
    forget(*state);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_verdict_stands_before_the_table_and_the_plots),
        cmocka_unit_test(strangers_words_are_only_words),
        cmocka_unit_test(nothing_is_fetched_from_elsewhere),
        cmocka_unit_test(every_plot_is_in_it_with_a_caption),
        cmocka_unit_test(advice_warnings_books_and_cautions_are_in_it),
        cmocka_unit_test(a_missing_plot_is_said_to_be_missing),
        cmocka_unit_test(a_plot_of_an_earlier_run_is_not_shown),
        cmocka_unit_test(a_full_disk_leaves_the_old_page_whole),
    };
    return cmocka_run_group_tests(tests, tell_once, forget_once);
}
