/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"
#include "support/scratch.h"

#include <stdlib.h>
#include <string.h>

#include "../../sim/report/svg.h"

static const char drawn[] =
    "<?xml version=\"1.0\"?>\n"
    "<svg onload=\"go(evt)\" width=\"900\" xmlns=\"http://www.w3.org/2000/svg\">\n"
    "<title>Gnuplot</title><desc>it's made</desc>\n"
    "<script type=\"text/javascript\" xlink:href=\"/usr/share/x.js\"/>\n"
    "<!-- a comment that's got an \" odd quote -->\n"
    "<defs><circle id='gpDot' r='0.5'/></defs>\n"
    "<g id=\"plot_1\" onclick=\"hide(evt,'plot_1')\"><title>plot_1</title>\n"
    "<text>a &lt;script>x&lt;/script> onclick=\"no\"</text>\n"
    "<use xlink:href='#gpDot' fill = 'url(#gpPat1)' d='M1,2 > 3'/></g>\n"
    "<script><![CDATA[ if (a < b) { go(); } ]]></script>\n"
    "<image x='1' xlink:href='data:,'/>\n"
    "</svg>\n\n";

static const struct svg_extras extras = {"of-a-ec-", "EC: <a> & 'b'", "stamp 1\n",
                                         "ours();\n"};

static char *finished(const char *text)
{
    struct scratch_text written = {0};
    scratch_open(&written);
    svg_finish(written.out, text, strlen(text), &extras);
    return scratch_close(&written);
}

static void a_picture_that_breaks_off_is_not_whole(void **state)
{
    (void)state;
    assert_true(svg_is_whole(drawn, strlen(drawn)));
    for (size_t length = 0; length < strlen(drawn) - 2; length += 7) {
        assert_false(svg_is_whole(drawn, length));
    }
    assert_false(svg_is_whole("</svg>", 6));
    assert_false(svg_is_whole("words", 5));
}

static void scripts_handlers_and_buttons_are_left_out(void **state)
{
    (void)state;
    char *text = finished(drawn);
    assert_int_equal(scratch_occurs(text, "<script"), 1);
    assert_int_equal(scratch_occurs(text, "x.js"), 0);
    assert_int_equal(scratch_occurs(text, "go("), 0);
    assert_int_equal(scratch_occurs(text, "hide("), 0);
    assert_int_equal(scratch_occurs(text, "<image"), 0);
    assert_int_equal(scratch_occurs(text, "Gnuplot"), 0);
    assert_int_equal(scratch_occurs(text, "<!--"), 0);
    free(text);
}

static void words_of_the_picture_stay(void **state)
{
    (void)state;
    char *text = finished(drawn);
    assert_non_null(
        strstr(text, "<text>a &lt;script&gt;x&lt;/script&gt; onclick=\"no\"</text>"));
    assert_non_null(strstr(text, "d='M1,2 > 3'/></g>"));
    free(text);
}

static void ids_and_what_points_to_them_get_the_prefix(void **state)
{
    (void)state;
    char *text = finished(drawn);
    assert_non_null(strstr(text, "<circle id='of-a-ec-gpDot' r='0.5'/>"));
    assert_non_null(strstr(text, "<g id=\"of-a-ec-plot_1\">"));
    assert_non_null(strstr(text, "xlink:href='#of-a-ec-gpDot'"));
    assert_non_null(strstr(text, "url(#of-a-ec-gpPat1)"));
    free(text);
}

static void extras_stand_escaped_before_the_last_tag(void **state)
{
    (void)state;
    char *text = finished(drawn);
    assert_non_null(strstr(text, "<title>EC: &lt;a&gt; &amp; &#39;b&#39;</title>"));
    assert_non_null(strstr(text, "<metadata>stamp 1\n</metadata>"));
    const char ending[] = "<script><![CDATA[\nours();\n]]></script>\n</svg>\n";
    assert_string_equal(text + strlen(text) - strlen(ending), ending);
    free(text);
}

static void within_a_page_there_is_neither_script_nor_declaration(void **state)
{
    (void)state;
    char *text = finished(drawn);
    struct scratch_text written = {0};
    scratch_open(&written);
    svg_inline(written.out, text, strlen(text));
    char *within = scratch_close(&written);
    assert_int_equal(strncmp(within, "<svg ", 5), 0);
    assert_int_equal(scratch_occurs(within, "<script"), 0);
    assert_int_equal(scratch_occurs(within, "<title"), 0);
    assert_int_equal(scratch_occurs(within, "<metadata>stamp 1"), 1);
    assert_true(svg_is_whole(within, strlen(within)));
    free(within);
    free(text);
}

/* A damaged drawing must not be read past its end (run under the address sanitizer). */
static void any_piece_of_a_picture_can_be_handled(void **state)
{
    (void)state;
    for (size_t length = 7; length < strlen(drawn); length++) {
        char *piece = malloc(length);
        assert_non_null(piece);
        memcpy(piece, drawn, length);
        struct scratch_text written = {0};
        scratch_open(&written);
        svg_finish(written.out, piece, length, &extras);
        svg_inline(written.out, piece, length);
        free(scratch_close(&written));
        free(piece);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_picture_that_breaks_off_is_not_whole),
        cmocka_unit_test(scripts_handlers_and_buttons_are_left_out),
        cmocka_unit_test(words_of_the_picture_stay),
        cmocka_unit_test(ids_and_what_points_to_them_get_the_prefix),
        cmocka_unit_test(extras_stand_escaped_before_the_last_tag),
        cmocka_unit_test(within_a_page_there_is_neither_script_nor_declaration),
        cmocka_unit_test(any_piece_of_a_picture_can_be_handled),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
