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

/* Clicks the first name of every key, then moves over the plots; leaves what it saw in
 * the document. */
static const char probe[] =
    "<script>\n"
    "var seen = [];\n"
    "document.querySelectorAll('figure svg').forEach(function (svg, k) {\n"
    "  var entry = svg.querySelector('[id$=\"_keyentry\"]');\n"
    "  if (!entry) { return; }\n"
    "  var group = document.getElementById(entry.id.replace('_keyentry', ''));\n"
    "  var shown = function () { return getComputedStyle(group).visibility; };\n"
    "  var click = function () {\n"
    "    entry.dispatchEvent(new MouseEvent('click', {bubbles: true}));\n"
    "  };\n"
    "  click(); var first = shown(); click();\n"
    "  seen.push('key ' + k + ' ' + first + ' ' + shown());\n"
    "  var box = svg.getBoundingClientRect();\n"
    "  svg.dispatchEvent(new PointerEvent('pointermove', {bubbles: true,\n"
    "    clientX: box.left + 0.55 * box.width, clientY: box.top + 0.3 * box.height}));\n"
    "  svg.querySelectorAll('.readout text').forEach(function (text) {\n"
    "    seen.push('read ' + k + ' ' + text.textContent);\n"
    "  });\n"
    "});\n"
    "document.title = 'probed';\n"
    "var pre = document.createElement('pre');\n"
    "pre.textContent = '[[[' + seen.join('\\n') + ']]]';\n"
    "document.body.appendChild(pre);\n"
    "</script></body>";

/* The document as a browser leaves it, to be freed; NULL where there is no browser. */
static char *browsed(const struct scratch *folder)
{
    char command[4 * SCRATCH_PATH_SIZE];
    (void)snprintf(
        command, sizeof command,
        "command -v chromium >/dev/null 2>&1 || exit 9; d=$(mktemp -d); "
        "timeout 60 chromium --headless --no-sandbox --disable-gpu --disable-quic "
        "--no-first-run --disable-background-networking --disable-component-update "
        "--disable-sync --user-data-dir=\"$d\" --window-size=1000,900 --dump-dom "
        "'file://%s/probe.html' > '%s/dom' 2>/dev/null; rm -rf \"$d\"",
        folder->folder, folder->folder);
    return system(command) == 0 ? scratch_read(folder, "dom") : NULL;
}

/* EC of a row on a day, between samples by a straight line. */
static double ec_on(const struct trajectory *path, double day_d)
{
    size_t i = 0;
    while (i + 2 < path->sample_count && path->samples[i + 1].day_d <= day_d) {
        i++;
    }
    const struct sample *a = &path->samples[i];
    const struct sample *b = &path->samples[i + 1];
    return a->ec_ms_cm +
           (b->ec_ms_cm - a->ec_ms_cm) * (day_d - a->day_d) / (b->day_d - a->day_d);
}

static void in_a_browser_curves_switch_off_and_values_are_right(void **state)
{
    const struct told *told = *state;
    char *body = strstr(told->page, "</body>");
    assert_non_null(body);
    struct scratch_text probed = {0};
    scratch_open(&probed);
    fprintf(probed.out, "%.*s%s</html>\n", (int)(body - told->page), told->page, probe);
    char *page = scratch_close(&probed);
    scratch_write(&told->folder, "probe.html", page, false);
    free(page);
    char *dom = browsed(&told->folder);
    const char *seen = dom != NULL ? strstr(dom, "[[[key") : NULL;
    if (dom == NULL) {
        skip();
    }
    assert_non_null(seen);
    /* all plots but the bars have a key */
    assert_int_equal(scratch_occurs(seen, " hidden visible\n"), 1 + 6 * STORY_ROWS);
    double day_d = 0;
    double ec = 0;
    const char *read = strstr(seen, "read 3 day ");
    assert_non_null(read);
    assert_int_equal(sscanf(read, "read 3 day %lf (mS/cm)\nread 3 EC %lf", &day_d, &ec),
                     2);
    /* half a digit shown of either: 0.05 d at about 0.02 mS/cm/d, and 0.005 mS/cm */
    assert_close(ec, ec_on(&told->story->compare.rows[0].life.trajectory, day_d), 0,
                 0.01);
    free(dom);
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
        cmocka_unit_test(in_a_browser_curves_switch_off_and_values_are_right),
    };
    return cmocka_run_group_tests(tests, tell_once, forget_once);
}
