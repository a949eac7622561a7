/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fields.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "nearest.h"
#include "pailcast/base/text.h"
#include "pailcast/chem/ion.h"
#include "pailcast/scenario/date.h"
#include "pailcast/scenario/display.h"

/* What converting a bound's own text may lose: "1 min" is not below 1/1440 d. */
static const double fields_rounding = 1e-12;

void fields_refuse(struct reading *reading, const config_setting_t *at,
                   const char *format, ...)
{
    char sentence[800];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    int line;
    const char *file = source_place(
        reading->source, at != NULL ? (int)config_setting_source_line(at) : 1, &line);
    reading->status =
        status_error(reading->error, STATUS_INPUT, "%s:%d: %s", file, line, sentence);
}

void fields_warn(struct reading *reading, const char *format, ...)
{
    struct scenario *scenario = reading->scenario;
    if (scenario == NULL || scenario->warning_count == SCENARIO_WARNINGS_MAX) {
        return;
    }
    char sentence[SCENARIO_LINE_SIZE];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    text_copy(scenario->warnings[scenario->warning_count++], SCENARIO_LINE_SIZE,
              sentence);
}

struct fields fields_open(struct reading *reading, const config_setting_t *group,
                          const char *name)
{
    return (struct fields){.reading = reading, .group = group, .name = name};
}

static bool fields_is_known(const struct fields *fields, const char *key)
{
    for (size_t i = 0; i < fields->known_count; i++) {
        if (strcmp(fields->known[i], key) == 0) {
            return true;
        }
    }
    return false;
}

/* The known key of an ion that was called by its name: na for sodium. */
static void fields_consider_ions(const struct fields *fields, struct nearest *nearest)
{
    for (int i = 0; i < ION_COUNT; i++) {
        if (strcmp(nearest->wanted, ion_table[i].name) == 0 &&
            fields_is_known(fields, ion_table[i].key)) {
            nearest->found = ion_table[i].key;
        }
    }
}

/* All known keys in one phrase. */
static void fields_list_known(const struct fields *fields, char *to, size_t size)
{
    size_t used = 0;
    to[0] = '\0';
    for (size_t i = 0; i < fields->known_count && used < size; i++) {
        int length =
            snprintf(to + used, size - used, "%s%s", i > 0 ? ", " : "", fields->known[i]);
        used += length > 0 ? (size_t)length : 0;
    }
}

void fields_close(const struct fields *fields)
{
    unsigned count = (unsigned)config_setting_length(fields->group);
    for (unsigned i = 0; i < count; i++) {
        const config_setting_t *child = config_setting_get_elem(fields->group, i);
        const char *key = config_setting_name(child);
        if (key == NULL || fields_is_known(fields, key)) {
            continue;
        }
        struct nearest nearest = nearest_to(key);
        for (size_t k = 0; k < fields->known_count; k++) {
            nearest_consider(&nearest, fields->known[k]);
        }
        fields_consider_ions(fields, &nearest);
        char hint[NEAREST_HINT_SIZE];
        char known[400];
        nearest_hint(hint, &nearest);
        fields_list_known(fields, known, sizeof known);
        fields_refuse(fields->reading, child, "\"%.60s\" is not known%s%s%s%s", key,
                      fields->name[0] != '\0' ? " in " : " here", fields->name,
                      hint[0] != '\0' ? hint : "; known are ",
                      hint[0] != '\0' ? "" : known);
    }
}

const config_setting_t *fields_find(struct fields *fields, const char *key)
{
    if (!fields_is_known(fields, key) && fields->known_count < FIELDS_MAX) {
        fields->known[fields->known_count++] = key;
    }
    return config_setting_get_member(fields->group, key);
}

bool fields_need(struct fields *fields, const char *key, const char *example)
{
    if (fields_find(fields, key) != NULL) {
        return true;
    }
    const bool top = fields->name[0] == '\0';
    fields_refuse(fields->reading, top ? NULL : fields->group,
                  "%s has no %s; add for example %s = %s",
                  top ? "the file" : fields->name, key, key, example);
    return false;
}

static bool fields_in_range(struct reading *reading, const config_setting_t *at,
                            const char *key, const char *shown, enum quantity quantity,
                            double low, double high, double value)
{
    const double slack = fields_rounding * (fabs(low) + fabs(high));
    if (value >= low - slack && value <= high + slack) {
        return true;
    }
    char range[QUANTITY_RANGE_SIZE];
    static const struct scenario_display internal = {0};
    display_range(range, low, high, quantity,
                  reading->scenario != NULL ? &reading->scenario->display : &internal);
    fields_refuse(reading, at, "%s: %.64s is too %s; accepted are %s", key, shown,
                  value < low ? "little" : "much", range);
    return false;
}

/* A setting as the text that quantity_parse reads; false where it is neither text nor
 * number. */
static bool fields_as_text(char *to, size_t size, const config_setting_t *setting)
{
    switch (config_setting_type(setting)) {
    case CONFIG_TYPE_STRING:
        (void)snprintf(to, size, "%s", config_setting_get_string(setting));
        return true;
    case CONFIG_TYPE_INT:
        (void)snprintf(to, size, "%d", config_setting_get_int(setting));
        return true;
    case CONFIG_TYPE_INT64:
        (void)snprintf(to, size, "%lld", config_setting_get_int64(setting));
        return true;
    case CONFIG_TYPE_FLOAT:
        (void)snprintf(to, size, "%.17g", config_setting_get_float(setting));
        return true;
    default:
        return false;
    }
}

/* One value that stands at a setting. */
static bool fields_value(struct reading *reading, const config_setting_t *setting,
                         const char *key, enum quantity quantity, double low, double high,
                         const struct quantity_aid *aid, double *value)
{
    char text[256];
    struct error why = {0};
    double parsed;
    if (config_setting_type(setting) == CONFIG_TYPE_STRING &&
        strlen(config_setting_get_string(setting)) >= sizeof text) {
        fields_refuse(reading, setting, "%s: this text is too long for a quantity", key);
        return false;
    }
    if (!fields_as_text(text, sizeof text, setting)) {
        fields_refuse(reading, setting, "%s: one value belongs here", key);
        return false;
    }
    if (config_setting_is_number(setting) &&
        config_setting_get_format(setting) == CONFIG_FORMAT_HEX) {
        fields_refuse(reading, setting, "%s: a number is written with decimal digits",
                      key);
        return false;
    }
    if (config_setting_type(setting) == CONFIG_TYPE_FLOAT &&
        !isfinite(config_setting_get_float(setting))) {
        fields_refuse(reading, setting, "%s: this number is too large for any quantity",
                      key);
        return false;
    }
    enum status status = quantity_parse(&parsed, text, quantity, aid, &why);
    if (status != STATUS_OK) {
        fields_refuse(reading, setting, "%s: %s", key, why.text);
        reading->status = status;
        return false;
    }
    bool quoted = config_setting_type(setting) == CONFIG_TYPE_STRING;
    char shown[80];
    (void)snprintf(shown, sizeof shown, quoted ? "\"%.60s\"" : "%.60s", text);
    if (!fields_in_range(reading, setting, key, shown, quantity, low, high, parsed)) {
        return false;
    }
    *value = fmin(fmax(parsed, low), high);
    return true;
}

bool fields_quantity_aided(struct fields *fields, const char *key, enum quantity quantity,
                           double low, double high, const struct quantity_aid *aid,
                           double *value)
{
    const config_setting_t *setting = fields_find(fields, key);
    return setting != NULL &&
           fields_value(fields->reading, setting, key, quantity, low, high, aid, value);
}

bool fields_quantity(struct fields *fields, const char *key, enum quantity quantity,
                     double low, double high, double *value)
{
    return fields_quantity_aided(fields, key, quantity, low, high, NULL, value);
}

/* A date's day; false where it is refused. */
static bool fields_date(struct reading *reading, const config_setting_t *setting,
                        const char *key, const char *text, double *day_d)
{
    const char *start = reading->scenario != NULL ? reading->scenario->start : "";
    if (!date_days(day_d, start[0] != '\0' ? start : text, text)) {
        fields_refuse(reading, setting,
                      "%s: \"%.60s\" is no date; write year-month-day and perhaps the "
                      "time, such as \"2026-09-14\" or \"2026-09-14 18:30\"",
                      key, text);
        return false;
    }
    if (start[0] == '\0') {
        fields_refuse(reading, setting,
                      "%s: \"%.60s\" is counted from the scenario's start; give that, "
                      "the date of the first filling, such as start = \"2026-09-01\", or "
                      "write a time span here, such as \"60 d\"",
                      key, text);
        return false;
    }
    if (*day_d < 0) {
        fields_refuse(reading, setting,
                      "%s: \"%.60s\" is before the scenario's start, %s", key, text,
                      start);
        return false;
    }
    return true;
}

bool fields_day(struct fields *fields, const char *key, double low_d, double high_d,
                double *day_d)
{
    const config_setting_t *setting = fields_find(fields, key);
    const char *text = setting != NULL ? config_setting_get_string(setting) : NULL;
    double span_d;
    if (text == NULL || !date_is_meant(text) ||
        quantity_parse(&span_d, text, QUANTITY_TIME, NULL, NULL) == STATUS_OK) {
        return fields_quantity(fields, key, QUANTITY_TIME, low_d, high_d, day_d);
    }
    char shown[80];
    double counted_d;
    (void)snprintf(shown, sizeof shown, "\"%.60s\"", text);
    if (!fields_date(fields->reading, setting, key, text, &counted_d) ||
        !fields_in_range(fields->reading, setting, key, shown, QUANTITY_TIME, low_d,
                         high_d, counted_d)) {
        return false;
    }
    *day_d = counted_d;
    return true;
}

bool fields_pair(struct fields *fields, const char *key, enum quantity quantity,
                 double low, double high, double pair[2])
{
    const config_setting_t *setting = fields_find(fields, key);
    if (setting == NULL) {
        return false;
    }
    if (config_setting_is_scalar(setting)) {
        double value;
        if (!fields_value(fields->reading, setting, key, quantity, low, high, NULL,
                          &value)) {
            return false;
        }
        pair[0] = pair[1] = value;
        return true;
    }
    if (config_setting_is_group(setting) || config_setting_length(setting) != 2) {
        fields_refuse(fields->reading, setting, "%s: one value or two as in [a, b]", key);
        return false;
    }
    bool fine = true;
    for (unsigned i = 0; i < 2; i++) {
        fine = fields_value(fields->reading, config_setting_get_elem(setting, i), key,
                            quantity, low, high, NULL, &pair[i]) &&
               fine;
    }
    return fine;
}

/* The string of a key; NULL where absent or refused. */
static const char *fields_string(struct fields *fields, const char *key)
{
    const config_setting_t *setting = fields_find(fields, key);
    if (setting == NULL) {
        return NULL;
    }
    const char *text = config_setting_type(setting) == CONFIG_TYPE_STRING
                           ? config_setting_get_string(setting)
                           : NULL;
    if (text == NULL || text[0] == '\0') {
        fields_refuse(fields->reading, setting,
                      "%s: a text in double quotes belongs here", key);
        return NULL;
    }
    return text;
}

bool fields_text(struct fields *fields, const char *key, char *to, size_t size)
{
    const char *text = fields_string(fields, key);
    if (text == NULL) {
        return false;
    }
    text_copy(to, size, text);
    return true;
}

bool fields_flag(struct fields *fields, const char *key, bool *value)
{
    const config_setting_t *setting = fields_find(fields, key);
    if (setting == NULL) {
        return false;
    }
    if (config_setting_type(setting) != CONFIG_TYPE_BOOL) {
        fields_refuse(fields->reading, setting, "%s: true or false belongs here", key);
        return false;
    }
    *value = config_setting_get_bool(setting) != 0;
    return true;
}

bool fields_word(struct fields *fields, const char *key, const char *const words[],
                 size_t count, size_t *index)
{
    const char *text = fields_string(fields, key);
    if (text == NULL) {
        return false;
    }
    char known[400];
    char word[TEXT_NAME_SIZE]; /* as fields_text keeps names, a stage's for example */
    struct text_line line = text_line_in(known, sizeof known);
    struct nearest nearest = nearest_to(text);
    text_copy(word, sizeof word, text);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(words[i], word) == 0) {
            *index = i;
            return true;
        }
        nearest_consider(&nearest, words[i]);
        text_line_add(&line, "%s\"%s\"", i > 0 ? ", " : "", words[i]);
    }
    char hint[NEAREST_HINT_SIZE];
    nearest_hint(hint, &nearest);
    fields_refuse(fields->reading, fields_find(fields, key),
                  "%s: \"%.60s\" is not known; accepted are %s%s", key, text, known,
                  hint);
    return false;
}

void fields_ions(struct fields *fields, enum quantity quantity, double low, double high,
                 double value[])
{
    for (int i = 0; i < ION_COUNT; i++) {
        const struct quantity_aid aid = {.molar_mass = ion_table[i].molar_mass,
                                         .charge = ion_table[i].charge};
        (void)fields_quantity_aided(fields, ion_table[i].key, quantity, low, high, &aid,
                                    &value[i]);
    }
}

const config_setting_t *fields_group(struct fields *fields, const char *key)
{
    const config_setting_t *setting = fields_find(fields, key);
    if (setting != NULL && !config_setting_is_group(setting)) {
        fields_refuse(fields->reading, setting,
                      "%s: a group in curly brackets belongs here, as in %s = { … };",
                      key, key);
        return NULL;
    }
    return setting;
}

size_t fields_count(const config_setting_t *list)
{
    return list != NULL ? (size_t)config_setting_length(list) : 0;
}

const config_setting_t *fields_list(struct fields *fields, const char *key, size_t most)
{
    const config_setting_t *setting = fields_find(fields, key);
    if (setting == NULL) {
        return NULL;
    }
    if (!config_setting_is_list(setting)) {
        fields_refuse(fields->reading, setting,
                      "%s: a list in round brackets belongs here, as in %s = ( { … } );",
                      key, key);
        return NULL;
    }
    if (fields_count(setting) < 1 || fields_count(setting) > most) {
        fields_refuse(fields->reading, setting,
                      "%s: has %zu entries; accepted are 1 to %zu", key,
                      fields_count(setting), most);
        return NULL;
    }
    return setting;
}

const config_setting_t *fields_element(struct reading *reading,
                                       const config_setting_t *list, size_t index)
{
    const config_setting_t *element = config_setting_get_elem(list, (unsigned)index);
    if (element == NULL || !config_setting_is_group(element)) {
        fields_refuse(reading, element != NULL ? element : list,
                      "entry %zu: a group in curly brackets belongs here", index + 1);
        return NULL;
    }
    return element;
}
