/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How soon an answer is there at the bucket: `pour` by pen and by a scenario's ions
 * against a start of the program that answers nothing. On the wall, shell and all. */
#include <stdio.h>
#include <stdlib.h>

#include "support/program.h"
#include "support/timing.h"

enum {
    RUNS = 41
};

static const char *const questions[] = {
    "--version",
    "pour --volume '7.4 L' --full '5 gal' --ec '3.0 mS/cm' --aim '950 ppm500' --water-ec "
    "0.15 "
    "--stock-ec 1.95 --pen-error '0.1 mS/cm'",
    "pour bucket.cfg --volume '7.4 L' --ec '1.9 mS/cm' --aim '1.4 mS/cm'",
};
static const char *const names[] = {"nothing asked", "pour by pen", "pour by ions"};

enum {
    QUESTIONS = sizeof questions / sizeof questions[0]
};

int main(void)
{
    static double took[QUESTIONS][RUNS];
    char folder[256];
    program_folder(folder);
    program_write(folder, "bucket.cfg", "@include \"first-bucket.cfg\"\n");
    /* the questions take turns, so that all meet the same neighbours */
    for (int run = 0; run < RUNS; run++) {
        for (int i = 0; i < QUESTIONS; i++) {
            const double begin = timing_wall_ms();
            if (program_run_in(folder, "PAILCAST_DATA=\"$OLDPWD\"", questions[i]) != 0) {
                (void)fprintf(stderr, "bench: %s failed\n", questions[i]);
                exit(1);
            }
            took[i][run] = timing_wall_ms() - begin;
        }
    }
    program_clean(folder);
    const double nothing = timing_median(took[0], RUNS);
    for (int i = 0; i < QUESTIONS; i++) {
        const double median = timing_median(took[i], RUNS);
        printf("%-15s %6.1f ms, of a start %.2f\n", names[i], median, median / nothing);
    }
    return 0;
}
