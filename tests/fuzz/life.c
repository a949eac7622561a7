/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A scenario lived under each of its strategies for a few days at most, and told in every
 * form: CSV, list of visits, JSON, table, page, and for one in many the plots. No number
 * may be missing that the files promise. */
#include "target.h"

#include <ctype.h>
#include <math.h>
#include <string.h>
#include <strings.h>

#include <cjson/cJSON.h>

#include "pailcast/report/csv.h"
#include "pailcast/report/folder.h"
#include "pailcast/report/json.h"
#include "pailcast/report/page.h"
#include "pailcast/report/table.h"
#include "pailcast/report/visits.h"
#include "pailcast/scenario/reader.h"
#include "support/scratch.h"

enum {
    LIFE_PLOTS_EACH = 512, /* gnuplot takes longer than all else */
    LIFE_PLOTS_STRATEGIES = 2,
    LIFE_NUMBERS = 23,   /* of a CSV row, up to the stage */
    LIFE_OF_A_VISIT = 12 /* up to the weekday */
};

static const double life_most_d = 5;
static const double life_most_rows = 200;

/* Whether "nan" or "inf" stands in the text as a word. */
static bool has_no_number(const char *text)
{
    for (const char *at = text; *at != '\0'; at++) {
        if ((strncasecmp(at, "nan", 3) == 0 || strncasecmp(at, "inf", 3) == 0) &&
            (at == text || !isalnum((unsigned char)at[-1])) &&
            !isalnum((unsigned char)at[3])) {
            return true;
        }
    }
    return false;
}

/* No number missing, and no amount negative: alkalinity alone is one of either sign. */
static void check_samples(const struct life *life)
{
    const struct trajectory *path = &life->trajectory;
    for (size_t i = 0; i < path->sample_count; i++) {
        const struct sample *sample = &path->samples[i];
        target_need(isfinite(sample->ec_ms_cm) && sample->ec_ms_cm >= 0, "EC");
        target_need(isfinite(sample->ph), "pH");
        target_need(isfinite(sample->level_cm) && sample->level_cm >= 0, "level");
        for (int k = 0; k < STATE_COUNT; k++) {
            target_need(isfinite(sample->state[k]), "state");
            target_need(sample->state[k] >= 0 || k == STATE_ALKALINITY, "amount");
        }
    }
}

/* Whatever came in is still there or accounted for. */
static void check_books(const struct life *life)
{
    static const double rounding = 1e-9;
    target_need(life->balance.water_rel < rounding, "the books of water");
    target_need(life->balance.worst_ion_rel < rounding, "the books of ions");
    target_need(life->balance.charge_rel < rounding, "the books of charge");
}

/* The first `numbers` of every row: finite, and none left blank. */
static void check_csv(char *text, int numbers)
{
    for (char *line = strchr(text, '\n'); line != NULL && line[1] != '\0';
         line = strchr(line + 1, '\n')) {
        char *at = line + 1;
        for (int i = 0; i < numbers; i++) {
            char *end;
            target_need(isfinite(strtod(at, &end)) && end > at && *end == ',',
                        "a number in each cell of the CSV");
            at = end + 1;
        }
    }
}

/* Null stands only where it has a meaning: never happened, no limit, nothing to advise,
 * no roots, not within an absence. */
static void check_json_values(const cJSON *item)
{
    for (; item != NULL; item = item->next) {
        const char *key = item->string != NULL ? item->string : "";
        target_need(!cJSON_IsNull(item) || strcmp(key, "best") == 0 ||
                        strcmp(key, "outage") == 0 || strcmp(key, "absence") == 0,
                    "a value in the JSON");
        target_need(!cJSON_IsNumber(item) || isfinite(item->valuedouble),
                    "a number in the JSON");
        if (strcmp(key, "first_day") != 0 && strcmp(key, "limits") != 0 &&
            strcmp(key, "absence") != 0 && strcmp(key, "beyond") != 0) {
            check_json_values(item->child);
        }
    }
}

static void check_json(const char *text)
{
    cJSON *root = cJSON_Parse(text);
    target_need(root != NULL, "JSON that can be read");
    check_json_values(root->child);
    cJSON_Delete(root);
}

/* Names and titles are the grower's: where they say "nan" so may the answers. */
static void check_words(const char *text, bool said)
{
    target_need(text != NULL && (said || !has_no_number(text)), "a number in the text");
}

static void tell_numbers(const struct compare *compare, bool said)
{
    for (size_t row = 0; row < compare->row_count; row++) {
        struct scratch_text csv = {0};
        scratch_open(&csv);
        csv_write(csv.out, compare, row);
        char *text = scratch_close(&csv);
        check_csv(text, LIFE_NUMBERS);
        free(text);
        struct scratch_text visits = {0};
        scratch_open(&visits);
        visits_csv_write(visits.out, compare, row);
        text = scratch_close(&visits);
        target_need(scratch_occurs(text, "\n") ==
                        compare->rows[row].life.trajectory.visit_count + 1,
                    "a row for each visit");
        check_csv(text, LIFE_OF_A_VISIT);
        free(text);
        check_samples(&compare->rows[row].life);
        check_books(&compare->rows[row].life);
    }
    struct scratch_text summary = {0};
    scratch_open(&summary);
    target_need(json_write_summary(summary.out, compare, NULL) == STATUS_OK, "summary");
    char *text = scratch_close(&summary);
    check_json(text);
    free(text);
    struct scratch_text table = {0};
    scratch_open(&table);
    table_write(table.out, compare);
    text = scratch_close(&table);
    check_words(text, said);
    free(text);
}

static void tell_page(const struct compare *compare, bool said)
{
    struct scratch scratch = scratch_make();
    struct error error = {0};
    const bool plots = compare->scenario->fingerprint % LIFE_PLOTS_EACH == 0 &&
                       compare->row_count <= LIFE_PLOTS_STRATEGIES;
    const enum status status = plots ? folder_write(scratch.folder, compare, &error)
                                     : page_write(scratch.folder, compare, &error);
    target_need(status == STATUS_OK, error.text);
    char *page = scratch_read(&scratch, "report.html");
    check_words(page, said || plots); /* the pictures' script knows the word */
    free(page);
    scratch_remove(&scratch);
}

static void live(struct scenario *scenario, bool said)
{
    struct compare *compare = calloc(1, sizeof *compare);
    struct error error = {0};
    target_need(compare != NULL, "memory");
    scenario->duration_d = fmin(scenario->duration_d, life_most_d);
    scenario->sample_every_d =
        fmax(scenario->sample_every_d, scenario->duration_d / life_most_rows);
    const enum status status = compare_run(compare, scenario, &error);
    target_need(status == STATUS_OK, error.text);
    target_need(compare->row_count == scenario->strategy_count, "each strategy");
    tell_numbers(compare, said);
    tell_page(compare, said);
    compare_free(compare);
    free(compare);
}

static bool read_scenario(struct scenario *scenario, const uint8_t *data, size_t size)
{
    char path[TARGET_PATH_SIZE];
    struct error error = {0};
    target_file(path, data, size, ".cfg");
    const enum status status = reader_scenario(scenario, path, &error);
    (void)remove(path);
    return status == STATUS_OK;
}

bool target_accepts(const uint8_t *data, size_t size)
{
    static struct scenario scenario;
    return read_scenario(&scenario, data, size);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct scenario scenario;
    if (read_scenario(&scenario, data, size)) {
        char *text = target_text(data, size);
        live(&scenario, has_no_number(text));
        free(text);
    }
    return 0;
}
