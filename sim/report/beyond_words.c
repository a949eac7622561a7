/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "beyond_words.h"

#include <math.h>

#include "pailcast/base/text.h"
#include "pailcast/chem/conductivity.h"
#include "pailcast/plant/stress.h"
#include "pailcast/scenario/display.h"

bool beyond_words_life(char to[BEYOND_WORDS_SIZE], const struct beyond *beyond,
                       const struct scenario *scenario)
{
    const struct scenario_display *display = &scenario->display;
    struct text_line line = text_line_in(to, BEYOND_WORDS_SIZE);
    if (isnan(beyond->ec_d) && isnan(beyond->salt_d)) {
        return false;
    }
    text_line_add(&line, "EC rises to %s.",
                  display_ec_text(display, beyond->most_ms_cm).text);
    if (!isnan(beyond->ec_d)) {
        text_line_add(
            &line,
            " Above %s, first on day %s, it reads low here: the figures from then "
            "on are an extrapolation.",
            display_ec_text(display, conductivity_checked_ms_cm).text,
            display_day_text(scenario, beyond->ec_d, 0).text);
    }
    if (!isnan(beyond->salt_d)) {
        text_line_add(
            &line,
            " What salt does to the plant was checked up to %s, passed on day %s: "
            "its growth and drinking beyond are an extrapolation.",
            display_ec_text(display, stress_salinity_checked_ms_cm).text,
            display_day_text(scenario, beyond->salt_d, 0).text);
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
