/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support/close.h"

#include "folder.h"

#include "../../sim/scenario/source.h"

static int make_folder(void **state)
{
    static struct folder folder;
    folder_make(&folder);
    *state = &folder;
    return 0;
}

static int remove_folder(void **state)
{
    folder_remove(*state);
    return 0;
}

static enum status reading(const char *path, struct error *error)
{
    struct source source = {0};
    *error = (struct error){0};
    enum status status = source_read(&source, path, error);
    source_free(&source);
    return status;
}

/* Refused with exactly this many lines, one of which begins with PATH:LINE: and holds
 * part. */
static void refused(const char *path, const char *at, int line, const char *part,
                    size_t lines)
{
    struct error error;
    char start[256];
    assert_int_equal(reading(path, &error), STATUS_INPUT);
    (void)snprintf(start, sizeof start, "%s:%d: ", at, line);
    const char *found = strstr(error.text, start);
    if (found == NULL || strstr(found, part) == NULL || error.count != lines) {
        print_error("%zu lines, wanted %s…%s in:\n%s\n", error.count, start, part,
                    error.text);
        fail();
    }
}

static void every_line_knows_its_file(void **state)
{
    struct folder *folder = *state;
    folder_write(folder, "b.cfg",
                 "b1\nb2 /* @include \"no.cfg\"\n@include \"no.cfg\" */\n");
    folder_write(folder, "c.cfg", "c1\n  @include \"b.cfg\" // twice is no circle\nc3");
    const char *top = folder_write(
        folder, "a.cfg", "a1\r\n@include \"b.cfg\"\n\t@include \"c.cfg\";\na4\n");
    struct source source = {0};
    struct error error = {0};
    assert_int_equal(source_read(&source, top, &error), STATUS_OK);
    assert_string_equal(source.text, "a1\nb1\nb2 /* @include \"no.cfg\"\n"
                                     "@include \"no.cfg\" */\nc1\nb1\n"
                                     "b2 /* @include \"no.cfg\"\n@include \"no.cfg\" */\n"
                                     "c3\na4\n");
    static const struct {
        int line;
        const char *file;
        int in_file;
    } places[] = {{1, "a.cfg", 1}, {2, "b.cfg", 1}, {4, "b.cfg", 3}, {5, "c.cfg", 1},
                  {6, "b.cfg", 1}, {9, "c.cfg", 3}, {10, "a.cfg", 4}};
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        int line;
        const char *name = source_place(&source, places[i].line, &line);
        assert_string_equal(strrchr(name, '/') + 1, places[i].file);
        assert_int_equal(line, places[i].in_file);
    }
    source_free(&source);
}

static void an_at_sign_in_a_text_is_no_include(void **state)
{
    struct folder *folder = *state;
    const char *top = folder_write(folder, "a.cfg",
                                   "title = \"x\\\"\n@include \\\"y.cfg\\\"\n @\";\n"
                                   "# @include \"z.cfg\"\n// @include \"z.cfg\"\n");
    struct error error;
    assert_int_equal(reading(top, &error), STATUS_OK);
}

static void a_whole_number_too_long_to_keep_is_refused(void **state)
{
    struct folder *folder = *state;
    const char *top =
        folder_write(folder, "a.cfg",
                     "a_1234567890 = 0.1234567890; b = 1234567890.5;\nc = 123456789;\n"
                     "d = \"1234567890\"; /* 1234567890 */ e = 12345678901e-9;\n");
    struct error error;
    assert_int_equal(reading(top, &error), STATUS_OK);
    top = folder_write(folder, "a.cfg", "\nx = 4294967297;\n");
    refused(top, top, 2, "more than nine digits", 1);
}

/* A quote of a word processor is one in a text or a comment too, where it may stand. */
static void a_quote_that_is_not_plain_is_refused_where_one_is_needed(void **state)
{
    struct folder *folder = *state;
    const char *top = folder_write(folder, "a.cfg",
                                   "a = \"my “best” 5' pail\"; # “x”\n/* « ' */ b = 1;\n"
                                   "c = \"the “long\ntext”\";\nd = \"Olgas' # 2\";\n");
    struct error error;
    assert_int_equal(reading(top, &error), STATUS_OK);
    top = folder_write(folder, "a.cfg",
                       "a = “5 gal”;\nb = \"x\";\nc = { d = \"5 gal”; }; # “\n"
                       "e = { f = \"5 gal” };\ng = 'h';\n");
    refused(top, top, 1, "write the plain double quote, as in \"19 L\"", 4);
    refused(top, top, 3, "write the plain double quote", 4);
    refused(top, top, 5, "write the plain double quote", 4);
}

static void an_include_not_on_its_own_line_is_refused(void **state)
{
    struct folder *folder = *state;
    folder_write(folder, "b.cfg", "b1\n");
    const char *top =
        folder_write(folder, "a.cfg", "x = 1; @include \"b.cfg\"\n\n@include b.cfg\n");
    refused(top, top, 1, "on a line of its own", 2);
    refused(top, top, 3, "on a line of its own", 2);
    top = folder_write(folder, "a.cfg", "@include \"b.cfg\" x = 2;\n");
    refused(top, top, 1, "on a line of its own", 1);
}

static void a_missing_include_is_named_with_its_line(void **state)
{
    struct folder *folder = *state;
    const char *top = folder_write(
        folder, "a.cfg",
        "x = 1;\n@include \"crops/tomatoe.cfg\"\n@include \"gone.cfg\"\n@include \"\"\n");
    refused(top, top, 2, "there is no \"crops/tomatoe.cfg\"", 3);
    refused(top, top, 2, "did you mean \"crops/tomato.cfg\"?", 3);
    refused(top, top, 3, "there is no \"gone.cfg\"", 3);
    refused(top, top, 4, "cannot be included", 3);
}

static void shipped_files_are_found_from_any_folder(void **state)
{
    struct folder *folder = *state;
    const char *top = folder_write(folder, "a.cfg", "@include \"waters/soft_tap.cfg\"\n");
    struct error error;
    assert_int_equal(reading(top, &error), STATUS_OK);
}

static void a_file_beside_comes_before_a_shipped_one(void **state)
{
    struct folder *folder = *state;
    folder_make_inside(folder, "waters");
    folder_write(folder, "waters/soft_tap.cfg", "mine\n");
    const char *top = folder_write(folder, "a.cfg", "@include \"waters/soft_tap.cfg\"\n");
    struct source source = {0};
    struct error error = {0};
    assert_int_equal(source_read(&source, top, &error), STATUS_OK);
    assert_string_equal(source.text, "mine\n");
    source_free(&source);
}

static void circles_are_refused_at_any_depth(void **state)
{
    struct folder *folder = *state;
    const char *self =
        folder_write(folder, "self.cfg", "x = 1;\n@include \"self.cfg\"\n");
    refused(self, self, 2, "includes itself", 1);
    folder_write(folder, "one.cfg", "@include \"two.cfg\"\n");
    folder_write(folder, "two.cfg", "\n@include \"./three.cfg\"\n");
    const char *three = folder_write(folder, "three.cfg", "\n\n@include \"one.cfg\"\n");
    struct error error;
    assert_int_equal(reading(folder_path(folder, "one.cfg"), &error), STATUS_INPUT);
    assert_int_equal(error.count, 1);
    assert_non_null(strstr(error.text, "three.cfg:3: "));
    assert_non_null(strstr(error.text, "is included again"));
    refused(three, folder_path(folder, "two.cfg"), 2, "is included again", 1);
}

static void depth_has_an_end(void **state)
{
    struct folder *folder = *state;
    char name[32];
    char text[64];
    for (int i = 0; i < 12; i++) {
        (void)snprintf(name, sizeof name, "d%d.cfg", i);
        (void)snprintf(text, sizeof text, "@include \"d%d.cfg\"\n", i + 1);
        folder_write(folder, name, i < 11 ? text : "x = 1;\n");
    }
    struct error error;
    assert_int_equal(reading(folder_path(folder, "d1.cfg"), &error), STATUS_OK);
    assert_int_equal(reading(folder_path(folder, "d0.cfg"), &error), STATUS_INPUT);
    assert_non_null(strstr(error.text, "nested too deep"));
}

static void growth_by_doubling_is_stopped(void **state)
{
    struct folder *folder = *state;
    char name[32];
    char text[128];
    for (int i = 0; i < 8; i++) {
        (void)snprintf(name, sizeof name, "e%d.cfg", i);
        (void)snprintf(text, sizeof text, "@include \"e%d.cfg\"\n@include \"e%d.cfg\"\n",
                       i + 1, i + 1);
        folder_write(folder, name, text);
    }
    folder_write(folder, "e8.cfg", "x = 1;\n");
    struct error error;
    assert_int_equal(reading(folder_path(folder, "e0.cfg"), &error), STATUS_INPUT);
    assert_non_null(strstr(error.text, "files are included"));
}

static void files_outside_are_refused(void **state)
{
    struct folder *folder = *state;
    folder_make_inside(folder, "inner");
    folder_write(folder, "secret.cfg", "x = 1;\n");
    folder_write(folder, "inner/near.cfg", "y = 1;\n@include \"../inner/far.cfg\"\n");
    folder_write(folder, "inner/far.cfg", "z = 1;\n");
    const char *top = folder_write(folder, "inner/a.cfg",
                                   "@include \"near.cfg\"\n@include \"../secret.cfg\"\n"
                                   "@include \"/etc/hostname\"\n");
    refused(top, top, 2, "lies outside the scenario's folder", 2);
    refused(top, top, 3, "cannot be included", 2);
    assert_int_equal(symlink("../secret.cfg", folder_path(folder, "inner/link.cfg")), 0);
    top = folder_write(folder, "inner/a.cfg", "\n@include \"link.cfg\"\n");
    refused(top, top, 2, "lies outside the scenario's folder", 1);
}

static void noise_is_one_line(void **state)
{
    struct folder *folder = *state;
    char noise[5000];
    unsigned seed = 20260901;
    for (size_t i = 0; i < sizeof noise; i++) {
        seed = seed * 1664525U + 1013904223U;
        noise[i] = (char)(seed >> 24);
    }
    const char *top = folder_write_bytes(folder, "noise.cfg", noise, sizeof noise);
    struct error error;
    assert_int_equal(reading(top, &error), STATUS_INPUT);
    assert_int_equal(error.count, 1);
    assert_non_null(strstr(error.text, "this is not a text file"));
    top = folder_write_bytes(folder, "nul.cfg", "x = 1;\ny = \0;\n", 14);
    refused(top, top, 2, "this is not a text file", 1);
}

static void what_is_no_plain_file_is_refused(void **state)
{
    struct folder *folder = *state;
    struct error error;
    assert_int_equal(reading(folder->path, &error), STATUS_INPUT);
    assert_non_null(strstr(error.text, "is not a file"));
    assert_int_equal(reading(folder_path(folder, "absent.cfg"), &error), STATUS_INPUT);
    assert_int_equal(error.count, 1);
    assert_int_equal(mkfifo(folder_path(folder, "pipe.cfg"), 0600), 0);
    assert_int_equal(reading(folder_path(folder, "pipe.cfg"), &error), STATUS_INPUT);
    assert_non_null(strstr(error.text, "is not a file"));
}

static void too_long_a_file_is_refused(void **state)
{
    struct folder *folder = *state;
    size_t length = (1 << 20) + 1;
    char *text = malloc(length);
    assert_non_null(text);
    memset(text, '\n', length);
    struct error error;
    const char *top = folder_write_bytes(folder, "long.cfg", text, length - 1);
    assert_int_equal(reading(top, &error), STATUS_OK);
    top = folder_write_bytes(folder, "long.cfg", text, length);
    free(text);
    refused(top, top, 1, "longer than 1 MiB", 1);
}

static void what_is_opened_must_be_closed(void **state)
{
    struct folder *folder = *state;
    folder_write(folder, "b.cfg", "x = 1;\n\ny = /* here\nz = 2;\n");
    const char *top =
        folder_write(folder, "a.cfg", "@include \"b.cfg\"\ntitle = \"endless;\nx = 1;\n");
    refused(top, folder_path(folder, "b.cfg"), 3, "a comment begins here", 2);
    refused(top, top, 2, "a text begins here", 2);
}

static void an_empty_file_is_read(void **state)
{
    struct folder *folder = *state;
    struct error error;
    assert_int_equal(reading(folder_write(folder, "empty.cfg", ""), &error), STATUS_OK);
}

#define in_folder(test) cmocka_unit_test_setup_teardown(test, make_folder, remove_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        in_folder(every_line_knows_its_file),
        in_folder(an_at_sign_in_a_text_is_no_include),
        in_folder(a_whole_number_too_long_to_keep_is_refused),
        in_folder(a_quote_that_is_not_plain_is_refused_where_one_is_needed),
        in_folder(an_include_not_on_its_own_line_is_refused),
        in_folder(a_missing_include_is_named_with_its_line),
        in_folder(shipped_files_are_found_from_any_folder),
        in_folder(a_file_beside_comes_before_a_shipped_one),
        in_folder(circles_are_refused_at_any_depth),
        in_folder(depth_has_an_end),
        in_folder(growth_by_doubling_is_stopped),
        in_folder(files_outside_are_refused),
        in_folder(noise_is_one_line),
        in_folder(what_is_no_plain_file_is_refused),
        in_folder(too_long_a_file_is_refused),
        in_folder(what_is_opened_must_be_closed),
        in_folder(an_empty_file_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
