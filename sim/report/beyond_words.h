/* SPDX-License-Identifier: GPL-3.0-or-later */
/* That figures lie beyond what the model was checked on, in sentences and display units.
 */
#ifndef SIM_REPORT_BEYOND_WORDS_H
#define SIM_REPORT_BEYOND_WORDS_H

#include <stdbool.h>

#include "pailcast/study/beyond.h"

enum {
    BEYOND_WORDS_SIZE = 400
};

/* Of a life; false, and "", where it stays within. */
bool beyond_words_life(char to[BEYOND_WORDS_SIZE], const struct beyond *beyond,
                       const struct scenario *scenario);

/* Of liquids, the strongest of which has this EC: as beyond_words_life. */
bool beyond_words_ec(char to[BEYOND_WORDS_SIZE], double ec_ms_cm,
                     const struct scenario_display *display);

#endif
