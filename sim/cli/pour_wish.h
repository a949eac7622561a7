/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was typed behind `pailcast pour`, in internal units. */
#ifndef SIM_CLI_POUR_WISH_H
#define SIM_CLI_POUR_WISH_H

#include <getopt.h>
#include <stdbool.h>

#include "choose.h"
#include "pailcast/scenario/scenario.h"
#include "when.h"

/* NAN where nothing was typed. */
struct pour_wish {
    double volume_l, full_l, level_cm, full_level_cm;
    double ec_ms_cm, aim_ms_cm, water_ms_cm, stock_ms_cm;
    double before_ms_cm, after_ms_cm;
    double pen_error_ms_cm, ph;
    double temperature_c, root_mass_g;
    struct choose choose;
    struct when day;
    bool outage;
    /* display says in which units */
    bool typed_volume, typed_length, typed_ec, typed_temperature;
    bool bare_volume; /* a volume without a unit, taken as litres */
    struct scenario_display display;
};

extern const struct option pour_wish_options[];
extern const char pour_wish_help[];

struct pour_wish pour_wish_none(void);

/* For options_read; context is the wish. */
bool pour_wish_take(void *context, size_t index, const char *argument);

/* Whether what was typed fits together; one line for each slip. */
enum status pour_wish_check(const struct pour_wish *wish, bool has_scenario,
                            struct error *error) STATUS_MUST_CHECK;

#endif
