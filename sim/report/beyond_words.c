/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "beyond_words.h"

#include <math.h>

#include "pailcast/base/text.h"
#include "pailcast/chem/conductivity.h"
#include "pailcast/plant/stress.h"
#include "pailcast/scenario/display.h"

bool beyond_words_life(char to[BEYOND_WORDS_SIZE], const struct beyond *beyond,
                       const struct scenario_display *display)
{
    struct text_line line = text_line_in(to, BEYOND_WORDS_SIZE);
    if (isnan(beyond->ec_d) && isnan(beyond->salt_d)) {
        return false;
    }
    text_line_add(&line, "EC rises to %s.",
                  display_ec_text(display, beyond->most_ms_cm).text);
    if (!isnan(beyond->ec_d)) {
        text_line_add(
            &line,
            " Above %s, first on day %.0f, it reads low here: the figures from then "
            "on are an extrapolation.",
            display_ec_text(display, conductivity_checked_ms_cm).text, beyond->ec_d);
    }
    if (!isnan(beyond->salt_d)) {
        text_line_add(
            &line,
            " What salt does to the plant was checked up to %s, passed on day %.0f: "
            "its growth and drinking beyond are an extrapolation.",
            display_ec_text(display, stress_salinity_checked_ms_cm).text, beyond->salt_d);
    }
    return true;
}

bool beyond_words_ec(char to[BEYOND_WORDS_SIZE], double ec_ms_cm,
                     const struct scenario_display *display)
{
    struct text_line line = text_line_in(to, BEYOND_WORDS_SIZE);
    if (!(ec_ms_cm > conductivity_checked_ms_cm)) {
        return false;
    }
    text_line_add(&line,
                  "Above %s the computed EC reads low, and what follows from it is an "
                  "extrapolation.",
                  display_ec_text(display, conductivity_checked_ms_cm).text);
    return true;
}
