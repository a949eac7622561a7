/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to do at the bucket, told to a person and to a machine. */
#ifndef PAILCAST_REPORT_POUR_H
#define PAILCAST_REPORT_POUR_H

#include <stdio.h>

#include "pailcast/study/outage.h"
#include "pailcast/study/pour.h"

/* One answer, complete. */
struct pour_answer {
    struct scenario_display display;
    struct pour_case now;
    struct recipe weighed; /* the salts, grams for each litre's worth */
    struct pour_plan plan;
    size_t step_count;
    struct pour_step steps[POUR_STEPS_MAX];
    double pen_error_ms_cm; /* 0: no range was asked for */
    struct pour_range range;
    bool ph_was_read, tells_ph; /* typed; that or acid or base is asked for */
    struct pour_ph ph;
};

/* Works a visit through: plan, steps, and the range when the pen's error is above 0. */
struct pour_answer pour_answer_of(const struct pour_kit *kit,
                                  const struct pour_readings *readings,
                                  double pen_error_ms_cm,
                                  const struct scenario_display *display);

enum {
    POUR_WHY_SIZE = 400
};

/* Why the plan is as it is, one sentence without a full stop. */
void pour_text_why(char to[POUR_WHY_SIZE], const struct pour_answer *answer);

void pour_text_answer(FILE *out, const struct pour_answer *answer);
enum status pour_json_answer(FILE *out, const struct pour_answer *answer,
                             struct error *error) STATUS_MUST_CHECK;

/* How full the bucket was. full_l NAN where it is not known. */
struct pour_past {
    struct scenario_display display;
    double before_ms_cm, after_ms_cm, water_ms_cm, aim_ms_cm;
    double full_l;
    double pen_error_ms_cm;
    struct pour_guess guess;
};

void pour_text_past(FILE *out, const struct pour_past *past);
enum status pour_json_past(FILE *out, const struct pour_past *past,
                           struct error *error) STATUS_MUST_CHECK;

/* The air pump stops. One line a bucket. */
struct pour_outage_line {
    char what[TEXT_NAME_SIZE]; /* "a full-grown lettuce", "day 41" */
    double volume_l, root_mass_g;
    struct outage outage;
};

enum {
    POUR_OUTAGE_LINES = 4
};

struct pour_outage {
    struct scenario_display display;
    double temperature_c;
    size_t count; /* 0: the plant has no known roots */
    struct pour_outage_line lines[POUR_OUTAGE_LINES];
};

void pour_text_outage(FILE *out, const struct pour_outage *outage);
enum status pour_json_outage(FILE *out, const struct pour_outage *outage,
                             struct error *error) STATUS_MUST_CHECK;

#endif
