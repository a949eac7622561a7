/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/explain.h"

#include <math.h>
#include <string.h>

#include "pailcast/base/text.h"
#include "pailcast/chem/pen.h"
#include "pailcast/chem/saturation.h"
#include "pailcast/scenario/display.h"

/* Seconds of an hour and umol of a mol, for the light of a day. */
static const double explain_mol_per_umol_h = 3600e-6;

static void explain_volume(FILE *out, const struct scenario *scenario, double litres)
{
    const double volume = display_volume(&scenario->display, litres);
    fprintf(out,
            volume < 0.1   ? "%.2g %s"
            : volume < 100 ? "%.3g %s"
                           : "%.0f %s",
            volume, display_volume_unit(&scenario->display));
}

static void explain_bucket(FILE *out, const struct scenario *scenario)
{
    const struct shape *shape = &scenario->bucket;
    const struct scenario_display *display = &scenario->display;
    const char *unit = display_length_unit(display);
    fputs("Bucket    ", out);
    explain_volume(out, scenario, shape->full_l);
    fprintf(out,
            " at the fill line, %.3g %s high, %.3g %s wide at the top and %.3g %s at the "
            "bottom.\n          The water stands %.3g %s high when full; the net pot's "
            "floor is %.3g %s above the bucket's.\n          Day 0 begins with ",
            display_length(display, shape->height_cm), unit,
            display_length(display, shape->top_diameter_cm), unit,
            display_length(display, shape->bottom_diameter_cm), unit,
            display_length(display, shape_level_cm(shape, shape->full_l)), unit,
            display_length(display, shape_root_room_cm(shape)), unit);
    explain_volume(out, scenario, scenario->start_l);
    fputs("; ", out);
    if (scenario->evaporation_l_d > 0) {
        explain_volume(out, scenario, scenario->evaporation_l_d);
        fputs(" evaporate each day.\n", out);
    } else {
        fputs("nothing evaporates.\n", out);
    }
}

static void explain_air(FILE *out, const struct scenario *scenario,
                        const struct room_air *air)
{
    fprintf(out, "%.3g %s and %.0f %% humidity",
            display_temperature(&scenario->display, air->temperature_c),
            display_temperature_unit(&scenario->display), 100 * air->humidity);
}

static void explain_room(FILE *out, const struct scenario *scenario)
{
    const struct room *room = &scenario->room;
    if (room->given) {
        const double hour = floor(room->lamp_on_h);
        fprintf(out,
                "Room      Light of %.0f umol/m2/s for %.3g h a day from %02.0f:%02.0f "
                "(%.3g mol/m2 a day).\n          With light ",
                room->ppfd_umol_m2_s, room->lamp_hours, hour,
                60 * (room->lamp_on_h - hour),
                room->ppfd_umol_m2_s * room->lamp_hours * explain_mol_per_umol_h);
        explain_air(out, scenario, &room->day);
        fputs(", without ", out);
        explain_air(out, scenario, &room->night);
        fprintf(out, "; CO2 %.0f ppm%s.\n", room->co2_ppm,
                room->boundary_s_m < 100 ? "; a fan moves the air" : "");
    } else {
        fputs("Room      not described.\n", out);
    }
    fprintf(out, "          The solution is at %.3g %s.\n",
            display_temperature(&scenario->display, room->water_temperature_c),
            display_temperature_unit(&scenario->display));
}

static void explain_stage(FILE *out, const struct scenario *scenario, size_t index)
{
    const struct crop *crop = &scenario->crop;
    const struct crop_stage *stage = &crop->stages[index];
    fprintf(out, "          %s: ", stage->name);
    if (crop->kind == CROP_GROWN) {
        fprintf(out, "from %.4g degC d on\n", stage->from_gdd);
        return;
    }
    fputs("drinks ", out);
    explain_volume(out, scenario, stage->drinks_l_d);
    fputs(isfinite(stage->lasts_d) ? " a day" : " a day to the end", out);
    if (isfinite(stage->lasts_d)) {
        fprintf(out, " for %.4g d", stage->lasts_d);
    }
    fputc('\n', out);
}

static void explain_crop(FILE *out, const struct scenario *scenario)
{
    const struct crop *crop = &scenario->crop;
    static const char *const kinds[] = {
        [CROP_NONE] = "no plant, only evaporation and pouring",
        [CROP_TABLE] = "drinks and eats as measured, stage by stage",
        [CROP_GROWN] = "grown from light, air and the solution",
    };
    fprintf(out, "Crop      %s: %s.\n", crop->name, kinds[crop->kind]);
    for (size_t i = 0; crop->kind != CROP_NONE && i < crop->stage_count; i++) {
        explain_stage(out, scenario, i);
    }
    for (size_t i = 0; i < crop->cut_count; i++) {
        const struct crop_cut *cut = &crop->cuts[i];
        fprintf(out, "          Day %.4g%s: %.0f %% of everything above the roots is cut",
                cut->first_d, display_date_text(scenario, cut->first_d).text,
                100 * cut->share);
        if (cut->every_d > 0) {
            fprintf(out, ", and every %.4g d after", cut->every_d);
        }
        fputs(".\n", out);
    }
}

/* EC, pH, salt and the solids that may fall out, on one line. */
static void explain_liquid(FILE *out, const struct scenario *scenario, const char *label,
                           const char *name, const struct liquid *liquid)
{
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    const struct speciation species =
        speciation_solve(liquid, &pen.equilibrium, pen.co2_ppm);
    const struct pen_reading reading = pen_read(&pen, liquid);
    double index[SOLID_COUNT];
    saturation_index(index, &species, &pen.equilibrium);
    fprintf(out, "%-9s %s: EC %s, pH %.2f, %.3g g of salt in a litre", label, name,
            display_ec_text(&scenario->display, reading.ec_ms_cm).text, reading.ph,
            liquid_salt_g_l(liquid));
    bool any = false;
    for (int i = 0; i < SOLID_COUNT; i++) {
        if (index[i] > 0) {
            fprintf(out, "%s%s",
                    any ? ", " : "; may form solids: ", saturation_solid_name[i]);
            any = true;
        }
    }
    fputs(".\n", out);
}

static void explain_ions(FILE *out, const struct scenario *scenario,
                         const struct liquid *start)
{
    fprintf(out, "          %-22s%10s%10s%10s\n", "mmol/L", "water", "stock", "filling");
    for (int i = 0; i < ION_COUNT; i++) {
        fprintf(out, "          %-7s%-15s%10.3f%10.3f%10.3f\n", ion_table[i].symbol,
                ion_table[i].name, scenario->water.mmol_l[i], scenario->stock.mmol_l[i],
                start->mmol_l[i]);
    }
    fprintf(out, "          %-22s%10.3f%10.3f%10.3f\n", "alkalinity, meq/L",
            scenario->water.alkalinity_meq_l, scenario->stock.alkalinity_meq_l,
            start->alkalinity_meq_l);
}

static void explain_liquids(FILE *out, const struct scenario *scenario)
{
    const struct liquid start = scenario_start_liquid(scenario, NULL);
    char mixed[64];
    (void)snprintf(mixed, sizeof mixed, "%.0f %% stock, the rest water",
                   100 * scenario_start_share(scenario));
    explain_liquid(out, scenario, "Water", scenario->water_name, &scenario->water);
    explain_liquid(out, scenario, "Stock", scenario->stock_name, &scenario->stock);
    explain_liquid(out, scenario, "Filling", mixed, &start);
    explain_ions(out, scenario, &start);
}

static void explain_limits(FILE *out, const struct scenario *scenario)
{
    const struct scenario_limits *limits = &scenario->limits;
    const struct scenario_display *display = &scenario->display;
    fputs("Limits    ", out);
    const char *joint = "";
    if (isfinite(limits->ec_high_ms_cm)) {
        fprintf(out, "EC at most %s",
                display_ec_text(display, limits->ec_high_ms_cm).text);
        joint = "; ";
    }
    if (limits->ec_low_ms_cm > 0) {
        fprintf(out, "%sEC at least %s", joint,
                display_ec_text(display, limits->ec_low_ms_cm).text);
        joint = "; ";
    }
    if (isfinite(limits->ph_high)) {
        fprintf(out, "%spH at most %.3g", joint, limits->ph_high);
        joint = "; ";
    }
    if (limits->ph_low > 0) {
        fprintf(out, "%spH at least %.3g", joint, limits->ph_low);
        joint = "; ";
    }
    for (int i = 0; i < ION_COUNT; i++) {
        if (isfinite(limits->high_mmol_l[i])) {
            fprintf(out, "%s%s at most %.3g mmol/L", joint, ion_table[i].name,
                    limits->high_mmol_l[i]);
            joint = "; ";
        }
    }
    fputs(joint[0] != '\0' ? ".\n" : "none set.\n", out);
    joint = "          Run out below: ";
    for (int i = 0; i < ION_COUNT; i++) {
        if (limits->low_mmol_l[i] > 0) {
            fprintf(out, "%s%s %.3g", joint, ion_table[i].name, limits->low_mmol_l[i]);
            joint = ", ";
        }
    }
    fputs(joint[0] == ',' ? " mmol/L.\n" : "", out);
}

/* What a logbook has taught; the crop above is told as its file has it. */
static void explain_learned(FILE *out, const struct scenario *scenario)
{
    const struct scenario_learned *learned = &scenario->learned;
    const double offset = learned->pen_offset_ms_cm;
    if (!learned->given) {
        return;
    }
    fprintf(
        out,
        "Learned   Most likely this plant drinks %.0f %%, eats %.0f %% and grows %.0f %% "
        "of what the crop says; %.0f %% of the evaporation.\n",
        100 * learned->plant.drinking, 100 * learned->plant.eating,
        100 * learned->plant.growth, 100 * learned->evaporation);
    if (isfinite(learned->start_stock_share)) {
        fprintf(out, "          Most likely the first filling was %.0f %% stock.\n",
                100 * learned->start_stock_share);
    }
    const struct display_text off = display_ec_text(&scenario->display, fabs(offset));
    if (strcmp(off.text, display_ec_text(&scenario->display, 0).text) != 0) {
        fprintf(out, "          Most likely the pen reads %s too %s.\n", off.text,
                offset > 0 ? "high" : "low");
    }
    if (learned->entries > 0) {
        fprintf(out, "          From %zu %s of a logbook.\n", learned->entries,
                text_plural((double)learned->entries, "entry", "entries"));
    }
}

void explain_scenario(FILE *out, const struct scenario *scenario)
{
    fprintf(out, "%s\n%.5g %s", scenario->title, scenario->duration_d,
            text_plural(scenario->duration_d, "day", "days"));
    if (scenario->start[0] != '\0') {
        fprintf(out, " from %s", scenario->start);
    }
    fputs("\n\n", out);
    explain_bucket(out, scenario);
    explain_room(out, scenario);
    explain_crop(out, scenario);
    explain_liquids(out, scenario);
    explain_limits(out, scenario);
    explain_learned(out, scenario);
    fprintf(out, "\n%zu %s\n", scenario->strategy_count,
            text_plural((double)scenario->strategy_count, "strategy", "strategies"));
    for (size_t i = 0; i < scenario->strategy_count; i++) {
        fprintf(out, "  %s\n    ", scenario->strategies[i].name);
        explain_strategy(out, &scenario->strategies[i], scenario);
        fputc('\n', out);
    }
    for (size_t i = 0; i < scenario->warning_count; i++) {
        fprintf(out, "%sWarning: %s.\n", i == 0 ? "\n" : "", scenario->warnings[i]);
    }
}
