/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words from strangers beside the names of a scenario: what a message quotes, notes and
 * labels of CSV files. Nothing of it acts. */
#include "support/close.h"

#include "attacks.h"

/* Where a name is refused it is quoted: in dates, units, words and keys. */
static void refusals_quote_without_acting(void **state)
{
    const char *folder = *state;
    static const char *const keys[] = {"start", "duration"};
    for (size_t i = 0; i < ATTACKS; i++) {
        struct scratch_text text;
        scratch_open(&text);
        put_name(text.out, &attacks[i], "title", 0);
        for (size_t k = 0; k < sizeof keys / sizeof *keys; k++) {
            put_name(text.out, &attacks[i], keys[k], 1);
        }
        (void)fputs("bucket = { full = \"1 L\"; }; water = { }; crop = { ", text.out);
        put_name(text.out, &attacks[i], "kind", 2);
        (void)fputs("}; recipe = { salts = ( { dose = \"1 g/L\"; ", text.out);
        put_name(text.out, &attacks[i], "salt", 3);
        (void)fputs("} ); }; strategies = ( { name = \"s\"; adjust = { to_ph = 6; ",
                    text.out);
        put_name(text.out, &attacks[i], "with", 4);
        (void)fputs("}; ", text.out);
        put_name(text.out, &attacks[i], "fill", 5);
        (void)fputs("away = ( { from = \"1 d\"; ", text.out);
        put_name(text.out, &attacks[i], "to", 6);
        (void)fputs("} ); } );", text.out);
        char *whole = scratch_close(&text);
        program_write(folder, "bad.cfg", whole);
        free(whole);
        run_clean(folder, "check bad.cfg", 2);
    }
}

/* A cell of CSV. */
static void put_cell(FILE *out, const char *text)
{
    (void)fputc('"', out);
    for (const char *c = text; *c != '\0'; c++) {
        (void)fputs(*c == '"' ? "\"" : "", out);
        (void)fputc(*c, out);
    }
    (void)fputc('"', out);
}

static void notes_labels_and_headings_act_nowhere(void **state)
{
    const char *folder = *state;
    static const struct attack plain = {"plain", "Plain words ", true};
    write_scenario(folder, "x.cfg", &plain);
    for (size_t i = 0; i < ATTACKS; i++) {
        char *name = named(&attacks[i], 0);
        struct scratch_text rows;
        struct scratch_text entries;
        struct scratch_text heads;
        scratch_open(&rows);
        scratch_open(&entries);
        scratch_open(&heads);
        (void)fputs("label,k_mmol_L,cl_mmol_L\n", rows.out);
        put_cell(rows.out, name);
        (void)fputs(",2,2\n", rows.out);
        put_cell(rows.out, name);
        (void)fputs(",much,2\n", rows.out);
        (void)fputs("day,ec_mS_cm,volume_L,note\n", entries.out);
        for (int day = 0; day < 9; day++) {
            (void)fprintf(entries.out, "%d,%g,%g,", day, 1 + 0.03 * day, 3 - 0.2 * day);
            put_cell(entries.out, name);
            (void)fputc('\n', entries.out);
        }
        (void)fputs("day,", heads.out);
        put_cell(heads.out, name);
        (void)fputs("\n1,", heads.out);
        put_cell(heads.out, name);
        (void)fputc('\n', heads.out);
        char *texts[] = {scratch_close(&rows), scratch_close(&entries),
                         scratch_close(&heads)};
        static const char *const files[] = {"rows.csv", "entries.csv", "heads.csv"};
        for (size_t k = 0; k < 3; k++) {
            program_write(folder, files[k], texts[k]);
            free(texts[k]);
        }
        free(name);
        run_clean(folder, "mix --analyses rows.csv", 0);
        run_clean(folder, "mix --analyses rows.csv --json", 0);
        run_clean(folder, "fit x.cfg entries.csv", 0);
        run_clean(folder, "fit x.cfg entries.csv --json", 0);
        run_clean(folder, "fit x.cfg heads.csv", 2);
        run_clean(folder, "mix --analyses heads.csv", 2);
    }
}

#define in_folder(test)                                                                  \
    cmocka_unit_test_setup_teardown(test, program_enter, program_leave)

int main(void)
{
    const struct CMUnitTest tests[] = {
        in_folder(refusals_quote_without_acting),
        in_folder(notes_labels_and_headings_act_nowhere),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
