/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a scenario file says arrives in the struct, in internal units; what it leaves out
 * gets the default of docs/scenario.md. */
#include "support/close.h"

#include <math.h>

#include "folder.h"

#include "pailcast/chem/pen.h"
#include "pailcast/scenario/reader.h"
#include "pailcast/visit/fill.h"

static const double exact = 1e-13;
static const double gallon_l = 3.785411784; /* 231 cubic inches */

static struct folder folder;
static struct scenario scenario;

static int make_folder(void **state)
{
    (void)state;
    folder_make(&folder);
    return 0;
}

static int remove_folder(void **state)
{
    (void)state;
    folder_remove(&folder);
    return 0;
}

static void read_text(const char *text)
{
    struct error error = {0};
    const char *path = folder_write(&folder, "My Pail_2.cfg", text);
    if (reader_scenario(&scenario, path, &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
    assert_int_equal(error.count, 0);
}

static const char smallest[] =
    "title = \"t\"; duration = \"3 d\"; crop = { kind = \"none\"; };"
    "bucket = { full = \"18.5 L\"; }; water = { };"
    "strategies = ( { name = \"s\"; } );";

static void what_is_left_out_has_the_documented_default(void **state)
{
    (void)state;
    read_text(smallest);
    const struct scenario *s = &scenario;
    assert_string_equal(s->stem, "My Pail_2");
    assert_string_equal(s->start, "");
    assert_close(s->sample_every_d, 0.25, 0, 0);
    assert_close(s->start_l, 18.5, 0, 0);
    assert_close(s->evaporation_l_d, 0, 0, 0);
    assert_close(shape_rim_l(&s->bucket), 1.2 * 18.5, 1e-12, 0);
    assert_close(s->bucket.height_cm / s->bucket.top_diameter_cm, 37. / 30, exact, 0);
    assert_close(s->bucket.bottom_diameter_cm / s->bucket.top_diameter_cm, 26. / 30,
                 exact, 0);
    assert_close(s->bucket.net_pot_depth_cm / s->bucket.height_cm, 9. / 37, exact, 0);
    assert_false(s->room.given);
    assert_close(s->room.ppfd_umol_m2_s, 350, 0, 0);
    assert_close(s->room.umol_per_j, 5, 0, 0);
    assert_close(s->room.lamp_hours, 14, 0, 0);
    assert_close(s->room.lamp_on_h, 6, 0, 0);
    assert_close(s->room.day.temperature_c, 25, 0, 0);
    assert_close(s->room.night.temperature_c, 21, 0, 0);
    assert_close(s->room.day.humidity, 0.45, 0, 0);
    assert_close(s->room.night.humidity, 0.55, 0, 0);
    assert_close(s->room.water_temperature_c, 22, 0, 0);
    assert_close(s->room.co2_ppm, 420, 0, 0);
    assert_close(s->room.root_co2_ppm, 1000, 0, 0);
    assert_close(s->room.boundary_s_m, 100, 0, 0);
    assert_close(s->start_stock_share, 1, 0, 0);
    assert_int_equal(s->numerics.method, METHOD_ADAMS);
    assert_close(s->numerics.rtol, 1e-6, 0, 0);
    assert_int_equal(s->display.volume, DISPLAY_LITRE);
    assert_int_equal(s->display.temperature, DISPLAY_CELSIUS);
    assert_int_equal(s->display.ec, DISPLAY_MS_CM);
    assert_int_equal(s->display.length, DISPLAY_CM);
    assert_int_equal(s->warning_count, 0);
}

static void a_strategy_left_bare_waters_every_third_day(void **state)
{
    (void)state;
    read_text(smallest);
    const struct strategy *strategy = &scenario.strategies[0];
    assert_int_equal(scenario.strategy_count, 1);
    assert_string_equal(strategy->fill.rule->name, "water");
    assert_close(strategy->visit_every_d, 3, 0, 0);
    assert_close(strategy->visit_at_h, 0, 0, 0);
    assert_true(isinf(strategy->fill.pour_l));
    assert_true(isinf(strategy->renew_every_d));
    assert_true(isinf(strategy->renew_above_ec_ms_cm));
    assert_true(isinf(strategy->renew_above_mmol_l[ION_NA]));
    assert_close(strategy->renew_share, 1, 0, 0);
    assert_true(isnan(strategy->renew_stock_share));
    assert_null(strategy->adjust.with);
}

static void limits_left_out_never_bind_where_nothing_eats(void **state)
{
    (void)state;
    read_text(smallest);
    const struct scenario_limits *limits = &scenario.limits;
    assert_true(isinf(limits->ec_high_ms_cm));
    assert_close(limits->ec_low_ms_cm, 0, 0, 0);
    assert_true(isinf(limits->ph_high));
    assert_close(limits->ph_low, 0, 0, 0);
    for (int i = 0; i < ION_COUNT; i++) {
        assert_true(isinf(limits->high_mmol_l[i]));
        assert_close(limits->low_mmol_l[i], 0, 0, 0);
    }
}

static const char fullest[] =
    "title = \"A <b>title</b> `x`\"; start = \"2028-02-29\"; duration = \"26 weeks\";\n"
    "sample_every = \"90 min\";\n"
    "bucket = { full = \"5 gal\"; height = \"14.5 inch\"; top_diameter = \"31.5 cm\";\n"
    "  bottom_diameter = \"27.25 cm\"; net_pot_depth = \"88 mm\"; start = \"4 gal\";\n"
    "  evaporation = \"0.75 cup/d\"; root_co2 = \"0.15 %\"; };\n"
    "room = { lux = \"24000 lux\"; lamp = \"hps\"; lamp_hours = \"15.5 h\";\n"
    "  lamp_on = \"05:45\"; day_temperature = \"78 degF\"; night_temperature = \"19.5 "
    "C\";\n"
    "  day_humidity = \"43 %\"; night_humidity = 0.61; water_temperature = \"70 F\";\n"
    "  co2 = \"655 ppm\"; fan = true; };\n"
    "crop = { kind = \"table\"; name = \"measured\"; root_start = \"3 inch\";\n"
    "  root_rate = \"0.9 cm/d\";\n"
    "  stages = ( { name = \"young\"; lasts = \"31 d\"; drinks = \"0.31 L/d\";\n"
    "               eats = { no3 = \"7.25 mmol/L\"; ca = \"3 meq/L\"; }; },\n"
    "             { name = \"old\"; drinks = \"0.5 gal/d\"; eats = { k = \"156.392 "
    "mg/L\"; };\n"
    "               follows = { na = 0.11; cl = 0.32; }; } );\n"
    "  cuts = ( { first = \"60 d\"; every = \"4 weeks\"; share = \"35 %\"; },\n"
    "           { first = \"5 d\"; share = 0.1; } ); };\n"
    "water = { name = \"well\"; ca = \"1.1 mmol/L\"; na = \"0.5 mmol/L\"; cl = \"0.7 "
    "mmol/L\";\n"
    "  alkalinity = \"100.086 mg/L\"; };\n"
    "stock = { name = \"brew\"; k = \"7.5 mmol/L\"; no3 = \"6 mmol/L\"; ca = \"1 "
    "mmol/L\";\n"
    "  p = \"1.5 mmol/L\"; cl = \"1.5 mmol/L\"; alkalinity = \"0.5 meq/L\"; };\n"
    "start_stock_share = 0.35;\n"
    "strategies = (\n"
    "  { name = \"One\"; visit_every = \"36 h\"; visit_at = \"18:30\"; fill = \"mix\";\n"
    "    stock_share = 0.4; pour = \"0.6 gal\"; renew_every = \"30 d\";\n"
    "    renew_above_ec = \"1500 ppm500\"; renew_above = { na = \"6.5 mmol/L\"; };\n"
    "    renew_share = \"70 %\"; renew_stock_share = 0.8;\n"
    "    adjust = { with = \"HNO3\"; to_ph = 5.9; above_ph = 6.6; };\n"
    "    away = ( { from = \"12 d\"; to = \"2.5 weeks\"; } ); },\n"
    "  { name = \"Two\"; fill = \"aim\"; aim_ec = \"1.85 mS/cm\";\n"
    "    by_stage = ( { stage = \"young\"; aim_ec = \"0.9 mS/cm\"; },\n"
    "                 { stage = \"old\"; fill = \"mix\"; stock_share = 0.25; } );\n"
    "    adjust = { with = \"KHCO3\"; to_ph = 6.25; below_ph = 5.25; }; } );\n"
    "limits = { ec_high = \"2.6 mS/cm\"; ec_low = \"800 uS/cm\"; ph_high = 7.4;\n"
    "  ph_low = 5.1; na = \"6 mmol/L\"; k_low = \"0.2 mmol/L\"; };\n"
    "display = { volume = \"gal\"; temperature = \"degF\"; ec = \"ppm700\"; length = "
    "\"inch\"; };\n"
    "numerics = { method = \"one_step\"; rtol = 1e-8; };\n";

static void places_arrive_in_internal_units(void **state)
{
    (void)state;
    read_text(fullest);
    const struct scenario *s = &scenario;
    assert_string_equal(s->title, "A <b>title</b> `x`");
    assert_string_equal(s->start, "2028-02-29");
    assert_close(s->duration_d, 182, exact, 0);
    assert_close(s->sample_every_d, 0.0625, exact, 0);
    assert_close(s->bucket.full_l, 5 * gallon_l, exact, 0);
    assert_close(s->bucket.height_cm, 36.83, exact, 0);
    assert_close(s->bucket.top_diameter_cm, 31.5, exact, 0);
    assert_close(s->bucket.bottom_diameter_cm, 27.25, exact, 0);
    assert_close(s->bucket.net_pot_depth_cm, 8.8, exact, 0);
    assert_close(s->start_l, 4 * gallon_l, exact, 0);
    assert_close(s->evaporation_l_d, 0.75 * gallon_l / 16, exact, 0);
    assert_close(s->room.root_co2_ppm, 1500, exact, 0);
    /* 82 lux for 1 umol/m2/s under high-pressure sodium (lamp table of the reader) */
    assert_close(s->room.ppfd_umol_m2_s, 24000. / 82, exact, 0);
    assert_close(s->room.umol_per_j, 2.5, 0, 0);
    assert_close(s->room.lamp_hours, 15.5, exact, 0);
    assert_close(s->room.lamp_on_h, 5.75, exact, 0);
    assert_close(s->room.day.temperature_c, (78. - 32) / 1.8, exact, 0);
    assert_close(s->room.night.temperature_c, 19.5, exact, 0);
    assert_close(s->room.day.humidity, 0.43, exact, 0);
    assert_close(s->room.night.humidity, 0.61, exact, 0);
    assert_close(s->room.water_temperature_c, (70. - 32) / 1.8, exact, 0);
    assert_close(s->room.co2_ppm, 655, exact, 0);
    assert_close(s->room.boundary_s_m, 65, 0, 0);
    assert_true(s->room.given);
}

static void a_table_crop_arrives_stage_by_stage(void **state)
{
    (void)state;
    read_text(fullest);
    const struct crop *crop = &scenario.crop;
    assert_int_equal(crop->kind, CROP_TABLE);
    assert_string_equal(crop->name, "measured");
    assert_close(crop->root_start_cm, 7.62, exact, 0);
    assert_close(crop->root_rate_cm_d, 0.9, exact, 0);
    assert_int_equal(crop->stage_count, 2);
    assert_string_equal(crop->stages[0].name, "young");
    assert_close(crop->stages[0].lasts_d, 31, exact, 0);
    assert_close(crop->stages[0].drinks_l_d, 0.31, exact, 0);
    assert_close(crop->stages[0].eats_mmol_l[ION_NO3], 7.25, exact, 0);
    assert_close(crop->stages[0].eats_mmol_l[ION_CA], 1.5, exact, 0);
    assert_close(crop->stages[0].eats_mmol_l[ION_K], 0, 0, 0);
    assert_close(crop->stages[1].drinks_l_d, gallon_l / 2, exact, 0);
    /* 39.098 g/mol of potassium (IUPAC 2021 abridged) */
    assert_close(crop->stages[1].eats_mmol_l[ION_K], 4, exact, 0);
    assert_close(crop->stages[1].follows[ION_NA], 0.11, exact, 0);
    assert_close(crop->stages[1].follows[ION_CL], 0.32, exact, 0);
    assert_true(isinf(crop->stages[1].lasts_d));
    assert_int_equal(crop->cut_count, 2);
    assert_close(crop->cuts[0].first_d, 60, exact, 0);
    assert_close(crop->cuts[0].every_d, 28, exact, 0);
    assert_close(crop->cuts[0].share, 0.35, exact, 0);
    assert_close(crop->cuts[1].every_d, 0, 0, 0);
}

static void a_typed_stock_wins_and_its_salts_are_what_it_adds(void **state)
{
    (void)state;
    read_text(fullest);
    const struct scenario *s = &scenario;
    assert_string_equal(s->water_name, "well");
    assert_string_equal(s->stock_name, "brew");
    assert_close(s->water.alkalinity_meq_l, 2, exact, 0); /* CaCO3 50.043 mg/meq */
    assert_close(s->stock.mmol_l[ION_K], 7.5, exact, 0);
    assert_close(s->stock.mmol_l[ION_NA], 0, 0, 0);
    assert_close(s->recipe.mmol_l[ION_K], 7.5, exact, 0);
    assert_close(s->recipe.mmol_l[ION_CA], 0, 0, 0); /* the water holds more */
    assert_close(s->recipe.mmol_l[ION_CL], 0.8, exact, 0);
    const struct liquid start = scenario_start_liquid(s, NULL);
    assert_close(s->start_stock_share, 0.35, exact, 0);
    assert_close(start.mmol_l[ION_CA], 0.65 * 1.1 + 0.35 * 1, exact, 0);
}

static void strategies_arrive_with_every_setting(void **state)
{
    (void)state;
    read_text(fullest);
    assert_int_equal(scenario.strategy_count, 2);
    const struct strategy *one = &scenario.strategies[0];
    assert_string_equal(one->name, "One");
    assert_close(one->visit_every_d, 1.5, exact, 0);
    assert_close(one->visit_at_h, 18.5, exact, 0);
    assert_string_equal(one->fill.rule->name, "mix");
    assert_close(one->fill.stock_share, 0.4, exact, 0);
    assert_close(one->fill.pour_l, 0.6 * gallon_l, exact, 0);
    assert_close(one->renew_every_d, 30, exact, 0);
    assert_close(one->renew_above_ec_ms_cm, 3, exact, 0);
    assert_close(one->renew_above_mmol_l[ION_NA], 6.5, exact, 0);
    assert_true(isinf(one->renew_above_mmol_l[ION_CL]));
    assert_close(one->renew_share, 0.7, exact, 0);
    assert_close(one->renew_stock_share, 0.8, exact, 0);
    assert_string_equal(one->adjust.with->formula, "HNO3");
    assert_close(one->adjust.above_ph, 6.6, exact, 0);
    assert_close(one->adjust.to_ph, 5.9, exact, 0);
    assert_int_equal(one->away_count, 1);
    assert_close(one->away[0].from_d, 12, exact, 0);
    assert_close(one->away[0].to_d, 17.5, exact, 0);
    const struct strategy *two = &scenario.strategies[1];
    assert_int_equal(two->stage_count, 2);
    assert_int_equal(two->stages[0].from_stage, 0);
    assert_string_equal(two->stages[0].fill.rule->name, "aim");
    assert_close(two->stages[0].fill.aim_ec_ms_cm, 0.9, exact, 0);
    assert_int_equal(two->stages[1].from_stage, 1);
    assert_string_equal(two->stages[1].fill.rule->name, "mix");
    assert_close(two->stages[1].fill.stock_share, 0.25, exact, 0);
    assert_true(isnan(two->stages[1].fill.aim_ec_ms_cm));
    assert_close(two->adjust.above_ph, 5.25, exact, 0);
}

static void limits_display_and_numerics_arrive(void **state)
{
    (void)state;
    read_text(fullest);
    const struct scenario *s = &scenario;
    assert_close(s->limits.ec_high_ms_cm, 2.6, exact, 0);
    assert_close(s->limits.ec_low_ms_cm, 0.8, exact, 0);
    assert_close(s->limits.ph_high, 7.4, exact, 0);
    assert_close(s->limits.ph_low, 5.1, exact, 0);
    assert_close(s->limits.high_mmol_l[ION_NA], 6, exact, 0);
    assert_close(s->limits.low_mmol_l[ION_K], 0.2, exact, 0);
    assert_close(s->limits.low_mmol_l[ION_NO3], 0.05, exact, 0); /* eaten: default */
    assert_close(s->limits.low_mmol_l[ION_MG], 0, 0, 0);         /* not eaten */
    assert_int_equal(s->display.volume, DISPLAY_GALLON);
    assert_int_equal(s->display.temperature, DISPLAY_FAHRENHEIT);
    assert_int_equal(s->display.ec, DISPLAY_PPM700);
    assert_int_equal(s->display.length, DISPLAY_INCH);
    assert_int_equal(s->numerics.method, METHOD_ONE_STEP);
    assert_close(s->numerics.rtol, 1e-8, exact, 0);
}

static const char grown[] =
    "title = \"t\"; duration = \"3 d\"; bucket = { full = \"18.5 L\"; }; room = { };\n"
    "water = { }; strategies = ( { name = \"s\"; } );\n"
    "crop = { kind = \"grown\"; name = \"bush\"; root_start = \"4.5 cm\"; root_rate = "
    "\"2 cm/d\";\n"
    "stages = ( { name = \"a\"; from = \"0 degC d\"; }, { name = \"b\"; from = \"310 "
    "degC "
    "d\"; } );\n"
    "footprint = \"0.41 m2\"; extinction = 0.72; stomatal_scale = 0.93;\n"
    "light_use = \"0.81 g/mol\"; start_mass = \"1.3 g\"; leaf_share = [0.55, 0.25];\n"
    "root_share = 0.12; flowering_after = \"510 degC d\"; generative_ramp = \"290 degC "
    "d\";\n"
    "specific_leaf_area = \"266 cm2/g\"; leaf_area_index_max = 3.7;\n"
    "temperatures = { base = \"7.5 degC\"; from = \"21 degC\"; to = \"27 degC\"; ceiling "
    "= "
    "\"41 degC\"; };\n"
    "salinity = { threshold = \"2.4 mS/cm\"; slope = \"5.5 %\"; }; turnover = \"0.7 "
    "%/d\";\n"
    "tissue = { n = [\"2.91 mmol/g\", \"2.61 mmol/g\"]; p = \"0.23 mmol/g\"; };\n"
    "luxury = { n = 1.35; p = 2.4; k = 1.45; }; minimum_ratio = 0.48;\n"
    "ammonium_share = 0.22; selectivity = { ca = 0.42; cl = 0.31; };\n"
    "cap = { na = \"0.29 mmol/g\"; cl = \"0.61 mmol/g\"; }; };\n";

static void a_grown_crop_arrives_with_every_parameter(void **state)
{
    (void)state;
    read_text(grown);
    const struct crop *crop = &scenario.crop;
    const struct crop_growth *g = &crop->growth;
    const struct crop_growth standard = crop_defaults(CROP_GROWN).growth;
    assert_close(crop->root_start_cm, 4.5, exact, 0);
    assert_close(crop->root_rate_cm_d, 2, exact, 0);
    assert_int_equal(crop->stage_count, 2);
    assert_close(crop->stages[1].from_gdd, 310, exact, 0);
    assert_close(g->footprint_m2, 0.41, exact, 0);
    assert_close(g->extinction, 0.72, exact, 0);
    assert_close(g->stomatal_scale, 0.93, exact, 0);
    assert_close(g->light_use_g_mol, 0.81, exact, 0);
    assert_close(g->start_mass_g, 1.3, exact, 0);
    assert_close(g->leaf_share[0], 0.55, exact, 0);
    assert_close(g->leaf_share[1], 0.25, exact, 0);
    assert_close(g->root_share[0], 0.12, exact, 0);
    assert_close(g->root_share[1], 0.12, exact, 0);
    assert_close(g->flowering_gdd, 510, exact, 0);
    assert_close(g->ramp_gdd, 290, exact, 0);
    assert_close(g->specific_leaf_area_m2_g, 0.0266, exact, 0);
    assert_close(g->leaf_area_index_max, 3.7, exact, 0);
    assert_close(g->temperature_c[0], 7.5, exact, 0);
    assert_close(g->temperature_c[1], 21, exact, 0);
    assert_close(g->temperature_c[2], 27, exact, 0);
    assert_close(g->temperature_c[3], 41, exact, 0);
    assert_close(g->salinity_threshold_ms_cm, 2.4, exact, 0);
    assert_close(g->salinity_slope, 0.055, exact, 0);
    assert_close(g->turnover_per_d, 0.007, exact, 0);
    assert_close(g->tissue_mmol_g[NUTRIENT_N][0], 2.91, exact, 0);
    assert_close(g->tissue_mmol_g[NUTRIENT_N][1], 2.61, exact, 0);
    assert_close(g->tissue_mmol_g[NUTRIENT_P][1], 0.23, exact, 0);
    assert_close(g->tissue_mmol_g[NUTRIENT_K][0], standard.tissue_mmol_g[NUTRIENT_K][0],
                 0, 0);
    assert_close(g->luxury[0], 1.35, exact, 0);
    assert_close(g->luxury[1], 2.4, exact, 0);
    assert_close(g->luxury[2], 1.45, exact, 0);
    assert_close(g->minimum_ratio, 0.48, exact, 0);
    assert_close(g->ammonium_share, 0.22, exact, 0);
    assert_close(g->selectivity[ION_CA], 0.42, exact, 0);
    assert_close(g->selectivity[ION_CL], 0.31, exact, 0);
    assert_close(g->selectivity[ION_MG], standard.selectivity[ION_MG], 0, 0);
    assert_close(g->cap_mmol_g[ION_NA], 0.29, exact, 0);
    assert_close(g->cap_mmol_g[ION_CL], 0.61, exact, 0);
    assert_close(scenario.limits.low_mmol_l[ION_P], 0.01, exact, 0);
}

static void straight_walls_need_two_measures(void **state)
{
    (void)state;
    read_text(
        "title = \"t\"; duration = \"3 d\"; crop = { kind = \"none\"; };"
        "bucket = { full = \"15 L\"; height = \"41 cm\"; top_diameter = \"24 cm\"; };"
        "water = { }; strategies = ( { name = \"s\"; } );");
    assert_close(scenario.bucket.bottom_diameter_cm, 24, exact, 0);
    assert_close(scenario.bucket.net_pot_depth_cm, 41 * 9. / 37, exact, 0);
    /* a cylinder: pi r2 h */
    assert_close(shape_rim_l(&scenario.bucket), acos(-1) * 12 * 12 * 41 / 1000, 1e-12, 0);
}

static void a_typed_stock_is_poured_as_it_is_into_any_water(void **state)
{
    (void)state;
    read_text("title = \"t\"; duration = \"3 d\"; crop = { kind = \"none\"; };"
              "bucket = { full = \"15 L\"; }; water = { };"
              "stock = { k = \"7 mmol/L\"; no3 = \"7 mmol/L\"; };"
              "strategies = ( { name = \"hard\"; fill = \"stock\";"
              "  water = { ca = \"1.5 mmol/L\"; cl = \"3 mmol/L\"; }; } );");
    const struct strategy *hard = &scenario.strategies[0];
    assert_close(hard->water.mmol_l[ION_CA], 1.5, exact, 0);
    assert_close(hard->stock.mmol_l[ION_CA], 0, 0, 0);
    assert_close(hard->stock.mmol_l[ION_K], 7, exact, 0);
}

/* Calcium 1.5 in water and 0.5 in stock: beyond 1.5 parts of stock none would be left. */
static void a_stronger_first_filling_takes_nothing_away(void **state)
{
    (void)state;
    read_text("title = \"t\"; duration = \"3 d\"; crop = { kind = \"none\"; };"
              "bucket = { full = \"15 L\"; }; water = { ca = \"1.5 mmol/L\"; cl = \"3 "
              "mmol/L\"; }; stock = { k = \"7 mmol/L\"; ca = \"0.5 mmol/L\"; no3 = \"8 "
              "mmol/L\"; }; start_stock_share = 0.5;"
              "learned = { start_stock_share = 1.9; };"
              "strategies = ( { name = \"s\"; } );");
    const struct liquid start = scenario_start_liquid(&scenario, NULL);
    assert_close(scenario_start_share(&scenario), 1.9, exact, 0);
    assert_close(scenario.start_stock_share, 0.5, exact, 0); /* of every later filling */
    assert_close(start.mmol_l[ION_CL], 0, 0, exact);         /* gone at one part */
    assert_close(start.mmol_l[ION_K], 7, exact, 0);
    scenario.stock.mmol_l[ION_CL] = 1;
    const struct liquid third = scenario_start_liquid(&scenario, NULL);
    assert_close(third.mmol_l[ION_CL], 0, 0, exact);
    assert_close(third.mmol_l[ION_CA], 0, 0, exact);
    assert_close(third.mmol_l[ION_K], 1.5 * 7, exact, 0);
}

/* Hard water comes to 8; what acid or base does at visits it does at the first filling
 * too, where pH has left its limit. */
static void acid_is_in_the_first_filling_too(void **state)
{
    (void)state;
    read_text(
        "title = \"t\"; duration = \"3 d\"; crop = { kind = \"none\"; };"
        "bucket = { full = \"15 L\"; }; water = { ca = \"1.7 mmol/L\"; alkalinity = "
        "\"3.4 meq/L\"; }; strategies = ( { name = \"plain\"; }, { name = \"acid\"; "
        "adjust = { with = \"HNO3\"; above_ph = 6.6; to_ph = 5.9; }; }, { name = "
        "\"high\"; adjust = { with = \"HNO3\"; above_ph = 9.5; to_ph = 9; }; } );");
    const struct strategy *strategies = scenario.strategies;
    const struct pen pen =
        pen_at(scenario.room.water_temperature_c, scenario.room.root_co2_ppm);
    const struct liquid plain = scenario_start_liquid(&scenario, &strategies[0]);
    const struct liquid acid = scenario_start_liquid(&scenario, &strategies[1]);
    const struct liquid high = scenario_start_liquid(&scenario, &strategies[2]);
    assert_true(pen_read(&pen, &plain).ph > 7.5);
    assert_close(pen_read(&pen, &acid).ph, 5.9, 0, 1e-6);
    assert_close(acid.mmol_l[ION_NO3], plain.alkalinity_meq_l - acid.alkalinity_meq_l,
                 1e-9, 0);
    assert_memory_equal(&high, &plain, sizeof plain);
}

/* Half an hour is a fraction, not the first of February. */
static void a_day_of_the_life_may_be_a_date(void **state)
{
    (void)state;
    read_text(
        "title = \"t\"; duration = \"90 d\"; bucket = { full = \"9 L\"; }; water = { "
        "};\n"
        "crop = { kind = \"table\"; stages = ( { name = \"a\"; drinks = \"1 L/d\"; } "
        ");\n"
        "  cuts = ( { first = \"2028-03-11T07:30\"; share = 0.1; },\n"
        "           { first = \"1/2 d\"; share = 0.1; } ); };\n"
        "strategies = ( { name = \"a\"; away = (\n"
        "  { from = \"2028-02-28\"; to = \"2028-03-01 18:45\"; },\n"
        "  { from = \"2028-03-04\"; to = \"40 d\"; } ); } );\n"
        "start = \"2028-02-27\";\n");
    const struct strategy_away *away = scenario.strategies[0].away;
    assert_int_equal(scenario.strategies[0].away_count, 2);
    assert_close(away[0].from_d, 1, 0, 0);
    assert_close(away[0].to_d, 3 + 18.75 / 24, exact, 0);
    assert_close(away[1].from_d, 6, 0, 0);
    assert_close(away[1].to_d, 40, exact, 0);
    assert_close(scenario.crop.cuts[0].first_d, 13 + 7.5 / 24, exact, 0);
    assert_close(scenario.crop.cuts[1].first_d, 0.5, exact, 0);
}

#define in_folder(test) cmocka_unit_test_setup_teardown(test, make_folder, remove_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        in_folder(what_is_left_out_has_the_documented_default),
        in_folder(a_strategy_left_bare_waters_every_third_day),
        in_folder(limits_left_out_never_bind_where_nothing_eats),
        in_folder(places_arrive_in_internal_units),
        in_folder(a_table_crop_arrives_stage_by_stage),
        in_folder(a_typed_stock_wins_and_its_salts_are_what_it_adds),
        in_folder(strategies_arrive_with_every_setting),
        in_folder(limits_display_and_numerics_arrive),
        in_folder(a_grown_crop_arrives_with_every_parameter),
        in_folder(a_typed_stock_is_poured_as_it_is_into_any_water),
        in_folder(a_stronger_first_filling_takes_nothing_away),
        in_folder(acid_is_in_the_first_filling_too),
        in_folder(a_day_of_the_life_may_be_a_date),
        in_folder(straight_walls_need_two_measures),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
