/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every mistake a grower can type gets one line that names the file and the very line,
 * says what is wrong and what is accepted. One line of a good scenario is spoilt at a
 * time. */
#include "support/close.h"

#include "folder.h"

#include "pailcast/scenario/reader.h"

enum {
    TITLE,
    DURATION,
    BUCKET,
    ROOM,
    CROP,
    WATER,
    STOCK,
    SHARE,
    STRATEGIES,
    FIRST,
    SECOND,
    END,
    LIMITS,
    DISPLAY,
    NUMERICS,
    LINES
};

static const char *const good[LINES] = {
    [TITLE] = "title = \"Cellar\";",
    [DURATION] = "duration = \"90 d\";",
    [BUCKET] = "bucket = { full = \"19 L\"; };",
    [ROOM] = "room = { ppfd = \"300 umol/m2/s\"; };",
    [CROP] = "crop = { kind = \"grown\"; };",
    [WATER] = "water = { na = \"0.5 mmol/L\"; cl = \"0.5 mmol/L\"; };",
    [STOCK] = "stock = { k = \"7.25 mmol/L\"; no3 = \"7.25 mmol/L\"; };",
    [SHARE] = "start_stock_share = 0.5;",
    [STRATEGIES] = "strategies = (",
    [FIRST] = "  { name = \"First\"; },",
    [SECOND] = "  { name = \"Second\"; }",
    [END] = ");",
    [LIMITS] = "limits = { ec_high = \"2.6 mS/cm\"; };",
    [DISPLAY] = "display = { volume = \"gal\"; };",
    [NUMERICS] = "numerics = { rtol = 1e-7; };",
};

static struct folder folder;

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

struct slip {
    int line; /* spoilt, from 0 */
    const char *text;
    const char *part; /* of the message */
};

static void write_with(char *to, size_t size, const struct slip *slip)
{
    size_t used = 0;
    for (int i = 0; i < LINES; i++) {
        const char *line = slip != NULL && slip->line == i ? slip->text : good[i];
        int length = snprintf(to + used, size - used, "%s\n", line);
        assert_in_range(length, 1, size - used - 1);
        used += (size_t)length;
    }
}

static void expect_one_line(const struct slip *slip)
{
    static struct scenario scenario;
    char text[4096];
    char start[128];
    struct error error = {0};
    write_with(text, sizeof text, slip);
    const char *path = folder_write(&folder, "a.cfg", text);
    enum status status = reader_scenario(&scenario, path, &error);
    (void)snprintf(start, sizeof start, "%s:%d: ", path, slip->line + 1);
    if (status != STATUS_INPUT || error.count != 1 ||
        strncmp(error.text, start, strlen(start)) != 0 ||
        strstr(error.text, slip->part) == NULL) {
        print_error("%s\nstatus %d, %zu lines: %s\nwanted %s…%s…\n", slip->text,
                    (int)status, error.count, error.text, start, slip->part);
        fail();
    }
    assert_int_equal(status_exit_code(status), 2);
}

static void expect_each(const struct slip *slips, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        expect_one_line(&slips[i]);
    }
}

#define expect_all(slips) expect_each(slips, sizeof(slips) / sizeof *(slips))

static void the_scenario_to_be_spoilt_is_good(void **state)
{
    (void)state;
    static struct scenario scenario;
    char text[4096];
    struct error error = {0};
    write_with(text, sizeof text, NULL);
    const char *path = folder_write(&folder, "a.cfg", text);
    if (reader_scenario(&scenario, path, &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
}

static void unknown_keys_name_the_nearest(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {TITLE, "title = \"x\"; titel = \"x\";",
         "\"titel\" is not known here; did you mean "
         "\"title\"?"},
        {BUCKET, "bucket = { full = \"19 L\"; evaporatoin = \"1 L/d\"; };",
         "\"evaporatoin\" is not known in bucket; did you mean \"evaporation\"?"},
        {ROOM, "room = { lamp_hour = \"14 h\"; };", "did you mean \"lamp_hours\"?"},
        {CROP, "crop = { kind = \"grown\"; leafshare = 0.5; };",
         "did you mean \"leaf_share\"?"},
        {CROP, "crop = { kind = \"grown\"; tissue = { nn = 3; }; };",
         "not known in tissue"},
        {WATER, "water = { n03 = \"1 mmol/L\"; };", "did you mean \"no3\"?"},
        {WATER, "water = { sodium = \"1 mmol/L\"; };", "did you mean \"na\"?"},
        {FIRST, "{ name = \"First\"; visit_evry = \"3 d\"; },",
         "did you mean \"visit_every\"?"},
        {FIRST, "{ name = \"First\"; zzzzzzzzzzzz = 1; },",
         "known are name, visit_every"},
        {LIMITS, "limits = { ec_hihg = \"2 EC\"; };", "did you mean \"ec_high\"?"},
        {DISPLAY, "display = { volumes = \"gal\"; };", "did you mean \"volume\"?"},
        {NUMERICS, "numerics = { tol = 1e-6; };", "did you mean \"rtol\"?"},
    };
    expect_all(slips);
}

static void wrong_units_say_what_is_accepted(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {DURATION, "duration = \"90 L\";", "is not a time span; accepted"},
        {DURATION, "duration = 90;", "has no unit; accepted for a time span: min, h, d"},
        {BUCKET, "bucket = { full = \"19 kg\"; };", "is not a volume; accepted"},
        {BUCKET, "bucket = { full = 19; };", "has no unit; accepted for a volume"},
        {BUCKET, "bucket = { full = \"19 bananas\"; };", "has a unit that is not known"},
        {ROOM, "room = { ppfd = \"300 lux\"; };", "is not light for plants; accepted"},
        {ROOM, "room = { co2 = 420; };", "has no unit"},
        {WATER, "water = { na = 0.5; };", "has no unit; accepted for a concentration"},
        {WATER, "water = { na = \"0.5 mS/cm\"; };", "is not a concentration"},
        {FIRST, "{ name = \"First\"; fill = \"aim\"; aim_ec = \"900 ppm\"; },",
         "does not say which ppm scale"},
        {LIMITS, "limits = { ph_high = \"7 L\"; };", "has more than a number"},
        {BUCKET, "bucket = { full = { }; };", "one value belongs here"},
        {TITLE, "title = 5;", "a text in double quotes belongs here"},
        {ROOM, "room = { fan = 1; };", "true or false belongs here"},
        {BUCKET, "bucket = \"19 L\";", "a group in curly brackets belongs here"},
        {STOCK, "stock = ( 1, 2 );", "a group in curly brackets belongs here"},
    };
    expect_all(slips);
}

static void negative_and_endless_numbers_are_refused(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {DURATION, "duration = \"-90 d\";",
         "\"-90 d\" is too little; accepted are 1 h to"},
        {DURATION, "duration = \"1e400 d\";", "too large a number"},
        {DURATION, "duration = \"nan d\";", "does not begin with a number"},
        {DURATION, "duration = \"9999 d\";", "is too much"},
        {BUCKET, "bucket = { full = \"-19 L\"; };", "is too little"},
        {BUCKET, "bucket = { full = \"19 L\"; start = \"20 L\"; };", "is too much"},
        {BUCKET, "bucket = { full = \"19 L\"; evaporation = \"-1 L/d\"; };",
         "too little"},
        {ROOM, "room = { day_humidity = 45; };", "accepted are 0.01 to 1, or \"1 %\" to"},
        {ROOM, "room = { day_temperature = \"-4 degC\"; };", "is too little"},
        {ROOM, "room = { day_temperature = \"78 degC\"; };", "is too much"},
        {WATER, "water = { na = \"-0.5 mmol/L\"; };", "is too little"},
        {SHARE, "start_stock_share = 1.5;", "is too much"},
        {SHARE, "start_stock_share = 1e400;", "too large for any quantity"},
        {SHARE, "start_stock_share = -1e400;", "too large for any quantity"},
        {SHARE, "start_stock_share = 99999999999999999999;", "more than nine digits"},
        {BUCKET, "bucket = { full = “19 L”; };", "write the plain double quote"},
        {BUCKET, "bucket = { full = “19 L\"; };", "write the plain double quote"},
        {BUCKET, "bucket = { full = \"19 L”; }; # “", "write the plain double quote"},
        {TITLE, "title = 'Cellar';", "write the plain double quote"},
        {FIRST, "  { name = \"First\"; );",
         "this ) does not close \"{ name = \"First\"\"; write }"},
        {END, "};", "this } does not close \"strategies = (\"; write )"},
        {SHARE, "start_stock_share = 4294967297;", "more than nine digits"}, /* as 1 */
        {SHARE, "start_stock_share = 0x100000001;", "decimal digits"}, /* wraps to 1 */
        {FIRST, "{ name = \"First\"; visit_every = \"0 d\"; },", "is too little"},
        {FIRST, "{ name = \"First\"; renew_share = 0; },", "is too little"},
        {NUMERICS, "numerics = { rtol = 0.1; };", "is too much"},
        {NUMERICS, "sample_every = \"1 s\";", "is too little"},
    };
    expect_all(slips);
}

static void a_lamp_cannot_shine_for_thirty_hours_a_day(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {ROOM, "room = { lamp_hours = \"30 h\"; };",
         "lamp_hours: \"30 h\" is too much; accepted are 0 h to 24 h"},
        {ROOM, "room = { lamp_on = \"24:30\"; };", "is not on the clock"},
        {ROOM, "room = { lux = \"5000 lux\"; ppfd = \"300 umol/m2/s\"; };",
         "keep ppfd or lux"},
        {ROOM, "room = { lamp = \"whiteled\"; };", "did you mean \"white led\"?"},
    };
    expect_all(slips);
}

static void strategies_that_are_none_are_refused(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {FIRST, "{ name = \"First\"; fill = \"watr\"; },", "did you mean \"water\"?"},
        {FIRST, "{ name = \"First\"; fill = \"magic\"; },",
         "accepted are \"water\", \"stock\", \"mix\", \"aim\""},
        {FIRST, "{ fill = \"water\"; },", "this strategy has no name"},
        {FIRST, "{ name = \"\"; },", "a text in double quotes belongs here"},
        {FIRST, "\"water\",", "entry 1: a group in curly brackets belongs here"},
        {FIRST, "{ name = \"First\"; fill = \"mix\"; },", "has no stock_share"},
        {FIRST, "{ name = \"First\"; fill = \"aim\"; },", "has no aim_ec"},
        {FIRST, "{ name = \"First\"; aim_ec = \"2 mS/cm\"; },",
         "has no effect with fill"},
        {FIRST, "{ name = \"First\"; stock_share = 0.5; },", "has no effect with fill"},
        {SECOND, "{ name = \"first!\"; }", "gives the same file name (first.csv)"},
        {SECOND, "{ name = \"First\"; }", "rename one"},
        {FIRST, "{ name = \"First\"; by_stage = ( { stage = \"growin\"; } ); },",
         "did you mean \"growing\"?"},
        {FIRST,
         "{ name = \"First\"; by_stage = ( { stage = \"growing\"; fill = \"water\"; "
         "aim_ec = \"1 mS/cm\"; } ); },",
         "aim_ec: has no effect with fill = \"water\""},
        {FIRST,
         "{ name = \"First\"; by_stage = ( { stage = \"growing\"; fill = \"stock\"; "
         "stock_share = 0.5; } ); },",
         "stock_share: has no effect with fill = \"stock\""},
        {FIRST, "{ name = \"First\"; by_stage = ( { fill = \"water\"; } ); },",
         "has no stage"},
        {FIRST, "{ name = \"First\"; adjust = { with = \"KCl\"; to_ph = 6.0; }; },",
         "is no acid or base"},
        {FIRST,
         "{ name = \"First\"; adjust = { with = \"HNO3\"; to_ph = 6.0; below_ph = 5.5; "
         "above_ph = 6.5; }; },",
         "does not go with HNO3"},
        {FIRST,
         "{ name = \"First\"; adjust = { with = \"HNO3\"; to_ph = 7.0; above_ph = 6.5; "
         "}; "
         "},",
         "cannot bring pH 6.5 to 7"},
        {FIRST, "{ name = \"First\"; away = ( { from = \"9 d\"; to = \"8 d\"; } ); },",
         "ends before it begins"},
    };
    expect_all(slips);
}

#define AWAY(from, to)                                                                   \
    "{ name = \"First\"; away = ( { from = " from "; to = " to "; } ); },"
#define CUT(start, first)                                                                \
    start "crop = { kind = \"grown\"; cuts = ( { first = " first "; share = 0.1; } ); "  \
          "};"

static void dates_that_cannot_be_are_refused(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {FIRST, AWAY("\"9 d\"", "\"2026-07-15\""),
         "to: \"2026-07-15\" is counted from the scenario's start; give that"},
        {FIRST, AWAY("\"2026-02-29\"", "\"12 d\""),
         "from: \"2026-02-29\" is no date; write year-month-day and perhaps the time"},
        {FIRST, AWAY("\"7/1/2026\"", "\"12 d\""), "from: \"7/1/2026\" is no date"},
        {FIRST, AWAY("\"1.7.2026\"", "\"12 d\""), "from: \"1.7.2026\" is no date"},
        {FIRST, AWAY("20260701", "\"12 d\""), "from: \"20260701\" has no unit"},
        {CROP, CUT("", "\"2026-07-15 12:00\""),
         "first: \"2026-07-15 12:00\" is counted from the scenario's start"},
        {CROP, CUT("start = \"2026-09-01\"; ", "\"2026-08-31\""),
         "first: \"2026-08-31\" is before the scenario's start, 2026-09-01"},
        {CROP, CUT("start = \"2026-09-01\"; ", "\"2026-09-01\""),
         "first: \"2026-09-01\" is too little; accepted are 1 h to 36500 d"},
        {CROP, CUT("start = \"2026-09-01\"; ", "\"2026-09-31\""),
         "first: \"2026-09-31\" is no date"},
    };
    expect_all(slips);
}

static void liquids_that_do_not_balance_are_refused(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {STOCK, "stock = { k = \"9.1 mmol/L\"; no3 = \"7 mmol/L\"; };",
         "stock does not balance: 2.1 meq/L of negative charge are missing (13 %)"},
        {STOCK, "stock = { k = \"7 mmol/L\"; no3 = \"9 mmol/L\"; };",
         "of positive charge are missing"},
        {WATER, "water = { ca = \"2.5 mmol/L\"; cl = \"2 mmol/L\"; };",
         "water does not balance: 3 meq/L of negative charge"},
    };
    expect_all(slips);
}

static void crops_that_cannot_be_are_refused(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {CROP, "crop = { kind = \"gown\"; };", "did you mean \"grown\"?"},
        {CROP, "crop = { name = \"x\"; };", "crop has no kind"},
        {CROP, "crop = { kind = \"table\"; };", "crop has no stages"},
        {CROP, "crop = { kind = \"table\"; stages = ( ); };", "has 0 entries"},
        {CROP, "crop = { kind = \"table\"; stages = ( { name = \"a\"; } ); };",
         "has no drinks"},
        {CROP,
         "crop = { kind = \"table\"; stages = ( { name = \"a\"; drinks = \"1 L/d\"; }, { "
         "name = \"b\"; drinks = \"1 L/d\"; } ); };",
         "has no lasts"},
        {CROP,
         "crop = { kind = \"table\"; stages = ( { name = \"a\"; drinks = \"1 L/d\"; eats "
         "= "
         "{ na = \"1 mmol/L\"; }; follows = { na = 0.1; }; } ); };",
         "stands in eats too"},
        {CROP,
         "crop = { kind = \"none\"; cuts = ( { first = \"3 d\"; share = 0.5; } ); };",
         "\"cuts\" is not known in crop"},
        {CROP, "crop = { kind = \"grown\"; leaf_share = 0.8; root_share = 0.4; };",
         "add up to 1.2"},
        {CROP, "crop = { kind = \"grown\"; leaf_share = [0.1, 0.2, 0.3]; };",
         "one value or two"},
        {CROP, "crop = { kind = \"grown\"; temperatures = { base = \"25 degC\"; }; };",
         "must rise in this order"},
        {CROP,
         "crop = { kind = \"grown\"; stages = ( { name = \"a\"; from = \"5 degC d\"; } "
         "); };",
         "the first stage begins at"},
        {CROP,
         "crop = { kind = \"grown\"; stages = ( { name = \"a\"; }, { name = \"b\"; from "
         "= "
         "\"0 degC d\"; } ); };",
         "begins later than the one before"},
        {CROP,
         "crop = { kind = \"grown\"; cuts = ( { first = \"0 d\"; share = 0.5; } ); };",
         "first: \"0 d\" is too little"},
        {CROP, "crop = { kind = \"grown\"; cuts = ( { first = \"3 d\"; } ); };",
         "this cut has no share"},
    };
    expect_all(slips);
}

static void buckets_that_cannot_be_are_refused(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {BUCKET, "bucket = { };", "bucket has no full"},
        {BUCKET, "bucket = { full = \"19 L\"; height = \"30 cm\"; };", "belong together"},
        {BUCKET,
         "bucket = { full = \"19 L\"; height = \"20 cm\"; top_diameter = \"20 cm\"; };",
         "lies above the rim"},
        {BUCKET,
         "bucket = { full = \"19 L\"; height = \"40 cm\"; top_diameter = \"30 cm\"; "
         "net_pot_depth = \"40 cm\"; };",
         "is too much"},
    };
    expect_all(slips);
}

static void grammar_slips_name_the_line(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {WATER, "water = = { };", "is not understood"},
        {STOCK, "stock { };", "is not understood"},
        {BUCKET, "bucket = { full = 19 L; };", "this stands in quotes: \"19 L\""},
        {SHARE, "title = \"again\";", "for the second time"},
        {CROP, "crop = { kind = \"grown\"; leaf_share = [1, 0.5]; };",
         "beside 0.5 write 1.0"},
    };
    expect_all(slips);
}

static void other_slips(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {DURATION, "duration = \"90 d\"; start = \"2026-02-30\";", "is not a date"},
        {DURATION, "duration = \"90 d\"; start = \"tomorrow\";", "is not a date"},
        {DURATION, "duration = \"3650 d\"; sample_every = \"1 min\";", "a million rows"},
        {SHARE, "recipe = { salts = ( { salt = \"KNO3\"; dose = \"1 g/L\"; } ); };",
         "the file has a stock too"},
        {LIMITS, "limits = { ec_high = \"1 mS/cm\"; ec_low = \"2 mS/cm\"; };",
         "is not below the upper one"},
        {LIMITS, "limits = { k = \"1 mmol/L\"; k_low = \"2 mmol/L\"; };",
         "is not below the upper one"},
        {DISPLAY, "display = { ec = \"ppm\"; };", "\"ppm500\", \"ppm700\""},
        {DISPLAY, "display = { length = \"ft\"; };", "accepted are \"cm\", \"inch\""},
        {BUCKET, "bucket = { full = \"1001 L\"; };",
         "accepted are 0.02642 gal to 264.2 gal (0.1 L to 1000 L)"},
        {BUCKET,
         "bucket = { full = \"9 L\"; height = \"9 cm\"; top_diameter = \"9 cm\"; };",
         "hold 0.1513 gal; accepted are 0.02642 gal to 0.1513 gal"},
        {NUMERICS, "numerics = { method = \"euler\"; };", "accepted are \"adams\""},
    };
    expect_all(slips);
}

static void recipes_that_cannot_be_are_refused(void **state)
{
    (void)state;
    static const struct slip slips[] = {
        {STOCK, "recipe = { };", "holds nothing"},
        {STOCK, "recipe = 5;", "a group, or a list"},
        {STOCK, "recipe = { salts = ( { salt = \"KN03\"; dose = \"1 g/L\"; } ); };",
         "did you mean \"KNO3\"?"},
        {STOCK, "recipe = { salts = ( { salt = \"KNO3\"; } ); };", "has no dose"},
        {STOCK, "recipe = { salts = ( { salt = \"KNO3\"; dose = \"1 tsp/gal\"; } ); };",
         "needs a density"},
        {STOCK,
         "recipe = { salts = ( { salt = \"KNO3\"; dose = \"1 tsp/gal\"; density = \"1 "
         "g/mL\"; g_per_tsp = \"5 g\"; } ); };",
         "keep one of the two"},
        {STOCK, "recipe = { label = { k2o = \"40 %\"; }; };", "recipe has no dose"},
        {STOCK, "recipe = { label = { k2o = \"40 %\"; }; dose = \"1 g/L\"; };",
         "name the ion that brings them with closes_with"},
        {STOCK,
         "recipe = { label = { k2o = \"40 %\"; }; dose = \"1 g/L\"; closes_with = "
         "\"na\"; "
         "};",
         "na has the wrong sign"},
        {STOCK,
         "recipe = { label = { k2o = \"60 %\"; n_nitrate = \"50 %\"; }; dose = \"1 "
         "g/L\"; "
         "};",
         "adds up to 110 %"},
        {STOCK,
         "recipe = { label = { ca = \"5 %\"; cao = \"5 %\"; n_nitrate = \"3.5 %\"; }; "
         "dose "
         "= \"1 g/L\"; };",
         "cao: stands beside ca"},
    };
    expect_all(slips);
}

static void what_is_required_is_missed(void **state)
{
    (void)state;
    static const struct {
        int line;
        const char *part;
    } gone[] = {{TITLE, "the file has no title"},
                {DURATION, "the file has no duration"},
                {BUCKET, "the file has no bucket"},
                {CROP, "the file has no crop"},
                {WATER, "the file has no water"}};
    for (size_t i = 0; i < sizeof gone / sizeof *gone; i++) {
        static struct scenario scenario;
        char text[4096];
        struct error error = {0};
        const struct slip blank = {gone[i].line, "# nothing", ""};
        write_with(text, sizeof text, &blank);
        const char *path = folder_write(&folder, "a.cfg", text);
        assert_int_equal(reader_scenario(&scenario, path, &error), STATUS_INPUT);
        assert_int_equal(error.count, 1);
        assert_non_null(strstr(error.text, ":1: "));
        assert_non_null(strstr(error.text, gone[i].part));
    }
    const struct slip no_room = {ROOM, "", "a grown plant needs a room"};
    static struct scenario scenario;
    char text[4096];
    struct error error = {0};
    write_with(text, sizeof text, &no_room);
    const char *path = folder_write(&folder, "a.cfg", text);
    assert_int_equal(reader_scenario(&scenario, path, &error), STATUS_INPUT);
    assert_int_equal(error.count, 1);
    assert_non_null(strstr(error.text, ":5: crop: a grown plant needs a room"));
}

static void stock_is_missed_where_it_is_poured(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct error error = {0};
    const char *path =
        folder_write(&folder, "a.cfg",
                     "title = \"t\"; duration = \"3 d\"; crop = { kind = \"none\"; };\n"
                     "bucket = { full = \"18.5 L\"; }; water = { };\nstrategies = (\n"
                     "{ name = \"s\"; fill = \"stock\"; },\n"
                     "{ name = \"r\"; renew_stock_share = 0.5; } );\n");
    assert_int_equal(reader_scenario(&scenario, path, &error), STATUS_INPUT);
    assert_int_equal(error.count, 2);
    assert_non_null(strstr(error.text,
                           "a.cfg:4: fill: \"stock\" pours stock, and the file "
                           "has none"));
    assert_non_null(strstr(error.text, "a.cfg:5: renew_stock_share"));
}

static void all_mistakes_come_at_once_each_with_its_file(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct error error = {0};
    folder_write(&folder, "w.cfg", "water = {\n  ka = \"1 mmol/L\";\n};\n");
    const char *path = folder_write(
        &folder, "a.cfg",
        "title = \"t\";\nduration = \"3 L\";\ncrop = { kind = \"none\"; };\n"
        "@include \"w.cfg\"\nbucket = {\n  full = \"18.5 L\";\n  strat = 3; };\n"
        "strategies = (\n  { name = \"s\"; fill = \"air\"; } );\n");
    assert_int_equal(reader_scenario(&scenario, path, &error), STATUS_INPUT);
    assert_int_equal(error.count, 4);
    assert_non_null(strstr(error.text, "a.cfg:2: duration"));
    assert_non_null(strstr(error.text, "w.cfg:2: \"ka\" is not known in water"));
    assert_non_null(strstr(error.text, "a.cfg:7: \"strat\""));
    assert_non_null(strstr(error.text, "a.cfg:9: fill"));
}

static void a_slip_after_an_include_keeps_its_own_line(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct error error = {0};
    folder_write(&folder, "w.cfg", "\n\n\nwater = { };\n\n");
    const char *path = folder_write(&folder, "a.cfg",
                                    "@include \"w.cfg\"\ntitle = \"t\";\nbucket = };\n");
    assert_int_equal(reader_scenario(&scenario, path, &error), STATUS_INPUT);
    assert_int_equal(error.count, 1);
    assert_non_null(strstr(error.text, "a.cfg:3: this is not understood"));
    assert_non_null(strstr(error.text, "near: bucket = };"));
}

/* In the file that holds it, be the end met in another. */
static void a_bracket_never_closed_keeps_its_own_line(void **state)
{
    (void)state;
    static struct scenario scenario;
    struct error error = {0};
    folder_write(&folder, "w.cfg", "\n\nwater = { name = \"pond\";\n\n");
    const char *path =
        folder_write(&folder, "a.cfg", "title = \"t\";\n@include \"w.cfg\"\n\n");
    assert_int_equal(reader_scenario(&scenario, path, &error), STATUS_INPUT);
    assert_int_equal(error.count, 1);
    assert_non_null(
        strstr(error.text, "w.cfg:3: \"water = {\" is never closed; write }"));
}

#define in_folder(test) cmocka_unit_test_setup_teardown(test, make_folder, remove_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        in_folder(the_scenario_to_be_spoilt_is_good),
        in_folder(unknown_keys_name_the_nearest),
        in_folder(wrong_units_say_what_is_accepted),
        in_folder(negative_and_endless_numbers_are_refused),
        in_folder(a_lamp_cannot_shine_for_thirty_hours_a_day),
        in_folder(strategies_that_are_none_are_refused),
        in_folder(dates_that_cannot_be_are_refused),
        in_folder(liquids_that_do_not_balance_are_refused),
        in_folder(crops_that_cannot_be_are_refused),
        in_folder(buckets_that_cannot_be_are_refused),
        in_folder(grammar_slips_name_the_line),
        in_folder(other_slips),
        in_folder(recipes_that_cannot_be_are_refused),
        in_folder(what_is_required_is_missed),
        in_folder(stock_is_missed_where_it_is_poured),
        in_folder(all_mistakes_come_at_once_each_with_its_file),
        in_folder(a_slip_after_an_include_keeps_its_own_line),
        in_folder(a_bracket_never_closed_keeps_its_own_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
