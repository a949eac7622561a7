/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a scenario file (libconfig) and checks it; all mistakes at once. */
#ifndef PAILCAST_SCENARIO_READER_H
#define PAILCAST_SCENARIO_READER_H

#include "pailcast/scenario/scenario.h"

/* Reads path. On STATUS_INPUT each line of error is `FILE:LINE: what is wrong; what is
 * accepted`, the nearest known key suggested where there is one; *scenario is then
 * unusable. A file that is missing or unreadable is STATUS_INPUT too, STATUS_FILE only
 * where the program's own tables are. Nothing is owned by the result. */
enum status reader_scenario(struct scenario *scenario, const char *path,
                            struct error *error) STATUS_MUST_CHECK;

/* Water or recipe by shipped name ("hard_tap") or file path; for tools without a
 * scenario. name (TEXT_NAME_SIZE) receives its name. A recipe is per litre of clean
 * water; weighed (NULL when not wanted) receives what goes on the scale. On STATUS_OK
 * error may hold lines about what deserves a look. */
enum status reader_water(struct liquid *water, char *name, const char *which,
                         struct error *error) STATUS_MUST_CHECK;
enum status reader_recipe(struct liquid *recipe, struct recipe *weighed, char *name,
                          const char *which, struct error *error) STATUS_MUST_CHECK;

/* A crop in the same way. */
enum status reader_crop_file(struct crop *crop, const char *which,
                             struct error *error) STATUS_MUST_CHECK;

#endif
