/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "commands.h"
#include "options.h"
#include "pailcast/report/pour.h"
#include "pailcast/scenario/display.h"
#include "pailcast/visit/fill.h"
#include "pour_wish.h"

const char cmd_pour_summary[] = "tells what to pour at this visit, by pen or by ions";

/* A full-strength feed reads about this (common practice). */
static const double cmd_pour_full_strength_ms_cm = 1.9;

static const double cmd_pour_room_c = 22;

/* Both pens are believed together as closely as a pH pen is read. */
static const double pour_ph_slack = 0.05;

/* What the answer is made from. scenario NULL: by pen only. */
struct pour_ground {
    const struct scenario *scenario;
    const struct strategy *strategy;
    struct pour_kit kit;
    struct pour_readings readings;
};

/* Kit and readings, with what the scenario knows where nothing was typed. */
static enum status pour_prepare(struct pour_ground *ground, const struct pour_wish *wish,
                                struct error *error)
{
    ground->readings = (struct pour_readings){
        wish->volume_l,    wish->full_l,      wish->ec_ms_cm, wish->aim_ms_cm,
        wish->water_ms_cm, wish->stock_ms_cm, wish->ph};
    if (ground->scenario == NULL) {
        ground->kit = pour_kit_by_pen();
        if (!isnan(wish->level_cm)) {
            ground->readings.volume_l =
                pour_kit_volume_l(wish->full_l, wish->level_cm, wish->full_level_cm);
        }
        return STATUS_OK;
    }
    if (!isnan(wish->level_cm)) {
        const struct scenario_display *display = &wish->display;
        const double rim_cm = ground->scenario->bucket.height_cm;
        if (wish->level_cm > rim_cm) {
            return status_error(error, STATUS_INPUT,
                                "pailcast pour: --level: %s is above the rim at %s",
                                display_length_fine(display, wish->level_cm).text,
                                display_length_fine(display, rim_cm).text);
        }
        ground->readings.volume_l =
            shape_volume_l(&ground->scenario->bucket, wish->level_cm);
    }
    return pour_kit_of_scenario(&ground->kit, &ground->readings, ground->scenario,
                                ground->strategy, wish->day.day_d, error);
}

static enum status pour_visit(struct pour_ground *ground, const struct pour_wish *wish,
                              const struct options *options, struct error *error)
{
    const struct pour_readings *readings = &ground->readings;
    const double slack = 1e-9;
    if (readings->volume_l > readings->full_l * (1 + slack)) {
        return status_error(error, STATUS_INPUT,
                            "pailcast pour: --volume: %s is more than the full bucket's "
                            "%s; accepted are 0 to %s",
                            display_volume_fine(&wish->display, readings->volume_l).text,
                            display_volume_fine(&wish->display, readings->full_l).text,
                            display_volume_fine(&wish->display, readings->full_l).text);
    }
    ground->readings.volume_l = fmin(readings->volume_l, readings->full_l);
    if (!isnan(readings->ph) && readings->volume_l <= 0) {
        return status_error(
            error, STATUS_INPUT,
            "pailcast pour: --ph: there is nothing in the bucket to read");
    }
    const struct pour_answer answer = pour_answer_of(
        &ground->kit, readings, isnan(wish->pen_error_ms_cm) ? 0 : wish->pen_error_ms_cm,
        &wish->display);
    if (answer.ph_was_read && fabs(answer.ph.before - readings->ph) > pour_ph_slack) {
        return status_error(error, STATUS_INPUT,
                            "pailcast pour: --ph: no bucket of these ions reads pH %g at "
                            "that EC; are both pens right?",
                            readings->ph);
    }
    if (options->json) {
        return pour_json_answer(stdout, &answer, error);
    }
    if (!options->quiet) {
        pour_text_answer(stdout, &answer);
    }
    return STATUS_OK;
}

static enum status pour_past_tell(const struct pour_ground *ground,
                                  const struct pour_wish *wish,
                                  const struct options *options, struct error *error)
{
    struct pour_past past = {.display = wish->display,
                             .before_ms_cm = wish->before_ms_cm,
                             .after_ms_cm = wish->after_ms_cm,
                             .aim_ms_cm = cmd_pour_full_strength_ms_cm,
                             .full_l = ground->readings.full_l};
    if (!isnan(ground->readings.aim_ec_ms_cm)) {
        past.aim_ms_cm = ground->readings.aim_ec_ms_cm;
    }
    if (!isnan(wish->water_ms_cm)) {
        past.water_ms_cm = wish->water_ms_cm;
    } else if (ground->scenario != NULL) {
        past.water_ms_cm = pen_read(&ground->kit.pen, &ground->kit.water).ec_ms_cm;
    }
    if (past.water_ms_cm >= past.after_ms_cm) {
        return status_error(error, STATUS_INPUT,
                            "pailcast pour: --after: must be above the EC of the water, "
                            "%s",
                            display_ec_text(&wish->display, past.water_ms_cm).text);
    }
    past.pen_error_ms_cm = isnan(wish->pen_error_ms_cm) ? 0 : wish->pen_error_ms_cm;
    past.guess = pour_guess_of(&ground->kit, past.before_ms_cm, past.after_ms_cm,
                               past.water_ms_cm, past.aim_ms_cm, past.pen_error_ms_cm);
    if (options->json) {
        return pour_json_past(stdout, &past, error);
    }
    if (!options->quiet) {
        pour_text_past(stdout, &past);
    }
    return STATUS_OK;
}

static void pour_outage_add(struct pour_outage *answer, const char *what, double volume_l,
                            double root_mass_g)
{
    struct pour_outage_line *line = &answer->lines[answer->count++];
    text_copy(line->what, sizeof line->what, what);
    line->volume_l = volume_l;
    line->root_mass_g = root_mass_g;
    line->outage = outage_of(volume_l, answer->temperature_c, root_mass_g);
}

/* The roots of a scenario: on the day asked for, or when they have least time. */
static enum status pour_outage_lived(struct pour_outage *answer,
                                     const struct pour_ground *ground,
                                     const struct pour_wish *wish, struct error *error)
{
    struct life life = {0};
    if (wish->day.day_d > ground->scenario->duration_d) {
        return status_error(error, STATUS_INPUT,
                            "pailcast pour: --day: the scenario ends on day %g",
                            ground->scenario->duration_d);
    }
    const enum status status = life_run(&life, ground->scenario, ground->strategy, error);
    if (status == STATUS_OK) {
        const struct outage_worst found =
            isnan(wish->day.day_d)
                ? outage_worst_of(&life, ground->scenario)
                : outage_on_day(&life, ground->scenario, wish->day.day_d);
        char what[TEXT_NAME_SIZE];
        (void)snprintf(what, sizeof what, "%sday %s",
                       isnan(wish->day.day_d) ? "worst, " : "",
                       display_day_text(ground->scenario, found.day_d, 0).text);
        if (!isnan(found.day_d)) {
            pour_outage_add(answer, what,
                            isnan(wish->volume_l) ? found.volume_l : wish->volume_l,
                            found.root_mass_g);
        }
    }
    life_free(&life);
    return status;
}

static enum status pour_outage_tell(const struct pour_ground *ground,
                                    const struct pour_wish *wish,
                                    const struct options *options, struct error *error)
{
    struct pour_outage answer = {.display = wish->display,
                                 .temperature_c = cmd_pour_room_c};
    enum status status = STATUS_OK;
    if (!isnan(wish->temperature_c)) {
        answer.temperature_c = wish->temperature_c;
    } else if (ground->scenario != NULL) {
        answer.temperature_c = ground->scenario->room.water_temperature_c;
    }
    if (!isnan(wish->root_mass_g)) {
        const bool full = isnan(wish->volume_l) && ground->scenario != NULL;
        pour_outage_add(&answer, "the plant",
                        full ? ground->scenario->bucket.full_l : wish->volume_l,
                        wish->root_mass_g);
    } else if (ground->scenario != NULL) {
        status = pour_outage_lived(&answer, ground, wish, error);
    } else {
        for (size_t i = 0; i < OUTAGE_PLANTS; i++) {
            pour_outage_add(&answer, outage_plants[i].name, wish->volume_l,
                            outage_plants[i].root_mass_g);
        }
    }
    if (status == STATUS_OK && options->json) {
        status = pour_json_outage(stdout, &answer, error);
    } else if (status == STATUS_OK && !options->quiet) {
        pour_text_outage(stdout, &answer);
    }
    return status;
}

/* The scenario's units where nothing was typed in others. */
static void pour_take_display(struct pour_wish *wish, const struct scenario *scenario)
{
    const struct scenario_display *display = &scenario->display;
    wish->display.volume = wish->typed_volume ? wish->display.volume : display->volume;
    wish->display.length = wish->typed_length ? wish->display.length : display->length;
    wish->display.ec = wish->typed_ec ? wish->display.ec : display->ec;
    wish->display.temperature =
        wish->typed_temperature ? wish->display.temperature : display->temperature;
}

static enum status pour_answer_wish(struct pour_wish *wish, const char *path,
                                    const struct options *options, struct error *error)
{
    static struct scenario scenario;
    struct pour_ground ground = {0};
    enum status status = pour_wish_check(wish, path != NULL, error);
    if (status == STATUS_OK && path != NULL) {
        status = choose_scenario(&scenario, &wish->choose, path, error);
        ground.scenario = &scenario;
        ground.strategy = &scenario.strategies[0];
        pour_take_display(wish, &scenario);
    }
    if (status == STATUS_OK && path != NULL) {
        status = when_count(&wish->day, "pour", "--day", &scenario, error);
    }
    if (status == STATUS_OK && wish->bare_volume && !options->quiet) {
        (void)fputs("Volumes without a unit are taken as litres.\n", stderr);
    }
    if (status == STATUS_OK && wish->outage) {
        return pour_outage_tell(&ground, wish, options, error);
    }
    if (status == STATUS_OK) {
        status = pour_prepare(&ground, wish, error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    return isnan(wish->before_ms_cm) ? pour_visit(&ground, wish, options, error)
                                     : pour_past_tell(&ground, wish, options, error);
}

int cmd_pour(int argc, char **argv)
{
    struct pour_wish wish = pour_wish_none();
    const struct options_command command = {.name = "pour",
                                            .usage = "[SCENARIO]",
                                            .summary = cmd_pour_summary,
                                            .help = pour_wish_help,
                                            .least = 0,
                                            .most = 1,
                                            .own = pour_wish_options,
                                            .take = pour_wish_take,
                                            .context = &wish};
    struct options options;
    const enum options_outcome outcome = options_read(&options, argc, argv, &command);
    if (outcome != OPTIONS_GO) {
        return options_exit(outcome);
    }
    struct error error = {0};
    const char *path = options.operand_count > 0 ? options.operands[0] : NULL;
    const enum status status = pour_answer_wish(&wish, path, &options, &error);
    return status != STATUS_OK ? options_fail(status, &error) : options_finish();
}
