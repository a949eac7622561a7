/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names from strangers, and a scenario whose every name is one. Include after
 * support/close.h. */
#ifndef TESTS_CLI_ATTACKS_H
#define TESTS_CLI_ATTACKS_H

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/program.h"
#include "support/scratch.h"
#include "support/sink.h"

/* `touch pwned` leaves a file where anything runs it. */
static const struct attack {
    const char *what;
    const char *text; /* stands before a name's own letter, or after it */
    bool before;
} attacks[] = {
    {"commands", "`touch pwned`$(touch pwned)\";touch pwned;'|touch pwned|\\", true},
    {"more commands", "\n!touch pwned\nsystem('touch pwned')\n\"'.`touch pwned`.'",
     false},
    {"plot markup", "'.system(\"touch pwned\").'%s%n{/Symbol a}^_@&~$0 \\043", true},
    {"page markup", "<script>alert(1)</script>]]></svg></title><img src=x>&amp;-->",
     true},
    {"steering",
     "\x1b[2J\x1b]0;t\x07\r\n\t\b\x7f\xc2\x9b"
     "31m\xe2\x80\xa8",
     true},
    {"no UTF-8",
     "\xc0\xaf\xed\xa0\x80\xf4\x90\x80\x80\xff\xef\xbf\xbe\xef\xbf\xbf\xe2\x82", true},
    {"formula", NULL, true}, /* one of the formulas, by the name's number */
    {"letters of two bytes", "ééééééééééééééééééééééééééééééééééééééé", false},
    {"quotes", "\"\"',\"\n\",,;\"", true},
};

static const char *const formulas[] = {"=HYPERLINK(\"x\") ", " @SUM(1) ", "+1+", "-1+\t",
                                       "\xef\xbc\x9d\x31 "};

enum {
    FORMULAS = sizeof formulas / sizeof *formulas,
    ATTACKS = sizeof attacks / sizeof *attacks
};

/* Text as it stands between a scenario's quotes. */
static inline void quote(FILE *out, const char *text)
{
    (void)fputc('"', out);
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '"' || *c == '\\') {
            (void)fprintf(out, "\\%c", *c);
        } else if ((unsigned char)*c < 0x20 || *c == 0x7f) {
            (void)fprintf(out, "\\x%02x", (unsigned char)*c);
        } else {
            (void)fputc(*c, out);
        }
    }
    (void)fputc('"', out);
}

/* The name of letter 'a' + number under an attack; to be freed. */
static inline char *named(const struct attack *attack, int number)
{
    const char *const words =
        attack->text != NULL ? attack->text : formulas[number % FORMULAS];
    struct scratch_text text;
    scratch_open(&text);
    (void)fprintf(text.out, "%s%c%s", attack->before ? words : "", 'a' + number,
                  attack->before ? "" : words);
    return scratch_close(&text);
}

static inline void put_name(FILE *out, const struct attack *attack, const char *key,
                            int number)
{
    char *name = named(attack, number);
    (void)fprintf(out, "%s = ", key);
    quote(out, name);
    (void)fputs("; ", out);
    free(name);
}

/* A table plant of two stages on a bucket of two days, with every name there is; the
 * product's label leaves a gap, of which a warning with its name tells. */
static inline void write_scenario(const char *folder, const char *file,
                                  const struct attack *attack)
{
    static const char label[] =
        "label = { n_nitrate = \"8 %\"; k2o = \"28 %\"; }; dose = \"1 g/L\"; ";
    struct scratch_text text;
    scratch_open(&text);
    FILE *out = text.out;
    put_name(out, attack, "title", 0);
    (void)fputs("duration = \"2 d\"; bucket = { full = \"3 L\"; };\n"
                "crop = { kind = \"table\"; ",
                out);
    put_name(out, attack, "name", 1);
    (void)fputs("stages = ( { lasts = \"1 d\"; drinks = \"0.5 L/d\"; ", out);
    put_name(out, attack, "name", 2);
    (void)fputs("}, { drinks = \"0.4 L/d\"; eats = { k = \"2 mmol/L\"; }; ", out);
    put_name(out, attack, "name", 3);
    (void)fputs("} ); };\nwater = { na = \"1 mmol/L\"; cl = \"1 mmol/L\"; ", out);
    put_name(out, attack, "name", 4);
    (void)fputs("};\nrecipe = { closes_with = \"so4\"; ", out);
    (void)fputs(label, out);
    put_name(out, attack, "name", 5);
    (void)fputs("};\nlimits = { k = \"0.1 mmol/L\"; };\nstrategies = (\n"
                "{ visit_every = \"12 h\"; fill = \"mix\"; stock_share = 0.5; ",
                out);
    put_name(out, attack, "name", 6);
    (void)fputs("},\n{ visit_every = \"1 d\"; fill = \"water\"; by_stage = ( { fill = "
                "\"stock\"; ",
                out);
    put_name(out, attack, "stage", 3);
    (void)fputs("} ); water = { ", out);
    put_name(out, attack, "name", 7);
    (void)fputs("}; recipe = { closes_with = \"cl\"; ", out);
    (void)fputs(label, out);
    put_name(out, attack, "name", 8);
    (void)fputs("}; ", out);
    put_name(out, attack, "name", 9);
    (void)fputs("} );\n", out);
    char *whole = scratch_close(&text);
    program_write(folder, file, whole);
    free(whole);
}

/* Runs, expects the exit status, and looks at both streams. */
static inline void run_clean(const char *folder, const char *arguments, int wanted)
{
    const int got = program_run_in(folder, "timeout 60", arguments);
    if (got != wanted) {
        char *said = program_read(folder, "stderr");
        print_error("%s: exit %d, not %d: %s\n", arguments, got, wanted, said);
        fail();
    }
    sink_terminal(folder, "stderr");
    if (strstr(arguments, "--json") != NULL && wanted == 0) {
        sink_json(folder, "stdout");
    } else {
        sink_terminal(folder, "stdout");
    }
    assert_false(program_has(folder, "pwned"));
}

#endif
