/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/csv.h"

#include <math.h>

#include "pailcast/base/text.h"

/* A cell without a finite value is blank. */
static void csv_number(FILE *out, double value)
{
    if (isfinite(value)) {
        fprintf(out, "%.12g", value);
    }
    fputc(',', out);
}

static void csv_header(FILE *out)
{
    fputs("day,volume_L,level_cm,ec_mS_cm,ph,", out);
    for (size_t i = 0; i < ION_COUNT; i++) {
        fprintf(out, "%s_mmol_L,", ion_table[i].key);
    }
    fputs("alkalinity_meq_L,salt_g,dry_mass_g,leaf_area_m2,drunk_L,evaporated_L,"
          "water_poured_L,stock_poured_L,drained_L,stage,event,"
          "useful_ec_mS_cm,ballast_ec_mS_cm\n",
          out);
}

static void csv_liquid(FILE *out, const struct sample *sample)
{
    const struct liquid liquid = state_liquid(sample->state);
    csv_number(out, sample->day_d);
    csv_number(out, sample->state[STATE_VOLUME]);
    csv_number(out, sample->level_cm);
    csv_number(out, sample->ec_ms_cm);
    csv_number(out, sample->ph);
    for (size_t i = 0; i < ION_COUNT; i++) {
        csv_number(out, liquid.mmol_l[i]);
    }
    csv_number(out, liquid.alkalinity_meq_l);
    csv_number(out, state_salt_g(sample->state));
}

static void csv_plant_and_totals(FILE *out, const struct sample *sample)
{
    csv_number(out, sample->state[STATE_PLANT + PLANT_DRY_MASS]);
    csv_number(out, sample->state[STATE_PLANT + PLANT_LEAF_AREA]);
    csv_number(out, sample->state[STATE_DRUNK]);
    csv_number(out, sample->state[STATE_EVAPORATED]);
    csv_number(out, sample->water_poured_l);
    csv_number(out, sample->stock_poured_l);
    csv_number(out, sample->drained_l);
}

/* The event's word, and the key of its ion where it has one: "nutrient ran out: k". */
static void csv_words(FILE *out, const struct sample *sample, const struct crop *crop)
{
    if (sample->stage < crop->stage_count) {
        text_csv(out, crop->stages[sample->stage].name);
    }
    fprintf(out, ",%s", trajectory_event_word(sample->event));
    if (sample->ion < ION_COUNT &&
        (sample->event == EVENT_ION_HIGH || sample->event == EVENT_NUTRIENT_LOW)) {
        fprintf(out, ": %s", ion_table[sample->ion].key);
    }
    fputc(',', out);
}

static void csv_makeup(FILE *out, const struct compare_makeup *makeup)
{
    double useful = 0;
    double ballast = makeup->carbonate;
    for (size_t i = 0; i < ION_COUNT; i++) {
        useful += makeup->useful_by_ion[i];
        ballast += makeup->ballast_by_ion[i];
    }
    csv_number(out, useful);
    if (isfinite(ballast)) {
        fprintf(out, "%.12g", ballast);
    }
    fputc('\n', out);
}

void csv_write(FILE *out, const struct compare *compare, size_t row)
{
    const struct scenario *scenario = compare->scenario;
    const struct trajectory *path = &compare->rows[row].life.trajectory;
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    csv_header(out);
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *sample = &path->samples[i];
        const struct compare_makeup makeup =
            compare_makeup_of(sample, scenario, compare->rows[row].strategy, &pen);
        csv_liquid(out, sample);
        csv_plant_and_totals(out, sample);
        csv_words(out, sample, &scenario->crop);
        csv_makeup(out, &makeup);
    }
}
