/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "close.h"

#include <stdio.h>
#include <stdlib.h>

#include "pailcast/scenario/catalog.h"
#include "pailcast/scenario/reader.h"
#include "program.h"

static void bench_read(struct scenario *scenario, const char *path)
{
    struct error error = {0};
    if (reader_scenario(scenario, path, &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
}

void bench_shipped(struct scenario *scenario, const char *name)
{
    char path[1024];
    (void)snprintf(path, sizeof path, "%s/scenarios/%s.cfg", catalog_folder(), name);
    bench_read(scenario, path);
}

void bench_crop(struct scenario *scenario, const struct bench_plan *plan)
{
    char folder[256];
    char path[512];
    char text[4096];
    program_folder(folder);
    (void)snprintf(
        text, sizeof text,
        "title = \"bench\"; duration = \"%g d\";\n"
        "bucket = { full = \"%g L\"; };\n"
        "room = { ppfd = \"%g umol/m2/s\"; lamp_hours = \"%g h\";\n"
        "  day_temperature = \"25 degC\"; night_temperature = \"22 degC\";\n"
        "  day_humidity = %g; night_humidity = %g; water_temperature = \"23 degC\"; };\n"
        "@include \"crops/%s.cfg\"\n@include \"waters/%s.cfg\"\n@include "
        "\"recipes/%s.cfg\"\n"
        "start_stock_share = %g;\n"
        "strategies = ( { name = \"it\"; fill = \"aim\"; aim_ec = \"%g mS/cm\"; "
        "visit_every = \"%g d\"; } );\n",
        plan->days, plan->full_l, plan->ppfd, plan->lamp_hours, plan->humidity,
        plan->humidity, plan->crop, plan->water, plan->recipe, plan->stock_share,
        plan->aim_ec_ms_cm, plan->visit_every_d);
    program_write(folder, "bench.cfg", text);
    (void)snprintf(path, sizeof path, "%s/bench.cfg", folder);
    bench_read(scenario, path);
    program_clean(folder);
}

void bench_live(struct life *life, const struct scenario *scenario, size_t strategy)
{
    struct error error = {0};
    if (life_run(life, scenario, &scenario->strategies[strategy], &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
}

struct compare *bench_compare(const struct scenario *scenario)
{
    struct error error = {0};
    struct compare *compare = calloc(1, sizeof *compare);
    assert_non_null(compare);
    if (compare_run(compare, scenario, &error) != STATUS_OK) {
        print_error("%s\n", error.text);
        fail();
    }
    return compare;
}

void bench_let_go(struct compare *compare)
{
    compare_free(compare);
    free(compare);
}

const struct sample *bench_sample(const struct life *life, double day_d)
{
    const struct trajectory *trajectory = &life->trajectory;
    const struct sample *last = &trajectory->samples[0];
    for (size_t i = 0; i < trajectory->sample_count; i++) {
        if (trajectory->samples[i].day_d > day_d) {
            break;
        }
        last = &trajectory->samples[i];
    }
    return last;
}
