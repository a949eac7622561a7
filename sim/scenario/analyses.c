/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/scenario/analyses.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "columns.h"
#include "pailcast/base/grow.h"

enum {
    ANALYSES_ROWS_MAX = 1000000
};

/* The columns: the ions, then these. */
enum analyses_column {
    ANALYSES_ALKALINITY = ION_COUNT,
    ANALYSES_LABEL,
    ANALYSES_PH,
    ANALYSES_EC,
    ANALYSES_DAY,
    ANALYSES_DATE,
    ANALYSES_NOTE,
    ANALYSES_COLUMNS
};

/* From which value on a cell is no analysis any more; acids have negative alkalinity. */
static const double analyses_most = 1e4;

static const char analyses_left_out[] = "the row is left out";

/* Names of columns that follow from the ions. */
struct analyses_names {
    char of[ION_COUNT][32];
};

static void analyses_columns(struct columns_kind kinds[ANALYSES_COLUMNS],
                             struct analyses_names *names)
{
    for (int i = 0; i < ION_COUNT; i++) {
        (void)snprintf(names->of[i], sizeof names->of[i], "%s_mmol_L", ion_table[i].key);
        kinds[i] = (struct columns_kind){names->of[i], COLUMNS_NUMBER, 0, analyses_most,
                                         analyses_left_out};
    }
    kinds[ANALYSES_ALKALINITY] =
        (struct columns_kind){"alkalinity_meq_L", COLUMNS_NUMBER, -analyses_most,
                              analyses_most, analyses_left_out};
    kinds[ANALYSES_LABEL] = (struct columns_kind){"label", COLUMNS_TEXT, 0, 0, ""};
    kinds[ANALYSES_PH] =
        (struct columns_kind){"ph", COLUMNS_NUMBER, 0, 14, analyses_left_out};
    kinds[ANALYSES_EC] = (struct columns_kind){"measured_ec_mS_cm", COLUMNS_NUMBER, 0,
                                               INFINITY, analyses_left_out};
    kinds[ANALYSES_DAY] = (struct columns_kind){"day", COLUMNS_UNREAD, 0, 0, ""};
    kinds[ANALYSES_DATE] = (struct columns_kind){"date", COLUMNS_UNREAD, 0, 0, ""};
    kinds[ANALYSES_NOTE] = (struct columns_kind){"note", COLUMNS_UNREAD, 0, 0, ""};
}

/* Once the header is read: which columns of the charge are not there. */
static void analyses_headed(struct columns *own)
{
    char names[256];
    struct text_line line = text_line_in(names, sizeof names);
    int missing = 0;
    for (int column = 0; column <= ANALYSES_ALKALINITY; column++) {
        if (!own->present[column]) {
            text_line_add(&line, "%s%s", missing > 0 ? ", " : "",
                          own->kinds[column].name);
            missing++;
        }
    }
    if (missing == ANALYSES_ALKALINITY + 1) {
        columns_tell(own, "no column holds an ion; the first line must name its columns, "
                          "such as label,no3_mmol_L,k_mmol_L");
        own->status = STATUS_INPUT;
    } else if (missing > 0) {
        columns_tell(own, "without column%s %s: counted as 0", missing > 1 ? "s" : "",
                     names);
    }
}

static void analyses_keep(struct columns *own, const struct analysis *row)
{
    struct analyses *analyses = own->context;
    struct analysis *rows =
        grow_array(analyses->rows, analyses->count, &analyses->room, sizeof *rows);
    if (rows == NULL) {
        own->status =
            status_error(own->error, STATUS_MEMORY, "no memory for the analyses");
        return;
    }
    analyses->rows = rows;
    analyses->usable_count += row->usable;
    analyses->rows[analyses->count++] = *row;
}

static void analyses_row(struct columns *own)
{
    struct analyses *analyses = own->context;
    struct analysis row = {.ph = own->value[ANALYSES_PH],
                           .measured_ec_ms_cm = own->value[ANALYSES_EC],
                           .line = own->line};
    if (analyses->count == ANALYSES_ROWS_MAX) {
        columns_tell(own, "is past a million rows");
        own->status = STATUS_INPUT;
        return;
    }
    (void)snprintf(row.label, sizeof row.label, "line %zu", own->line);
    if (own->text[0] != '\0') {
        text_copy(row.label, sizeof row.label, own->text);
    }
    columns_check_ec(own, ANALYSES_EC);
    bool filled = false;
    for (int i = 0; i <= ANALYSES_ALKALINITY; i++) {
        filled = filled || !isnan(own->value[i]);
    }
    if (!own->spoilt && !filled) {
        columns_spoil(
            own,
            "\"%.40s\" holds no ion and is left out; write 0 where a laboratory "
            "found none",
            row.label);
    } else if (!own->spoilt && own->curt) {
        columns_tell(
            own,
            "\"%.40s\" has fewer cells than the first line; what is missing counts as 0",
            row.label);
    }
    row.usable = !own->spoilt;
    for (int i = 0; i < ION_COUNT; i++) {
        row.liquid.mmol_l[i] = columns_amount(own, (size_t)i);
    }
    row.liquid.alkalinity_meq_l = columns_amount(own, ANALYSES_ALKALINITY);
    analyses_keep(own, &row);
}

enum status analyses_read(struct analyses *analyses, const char *path,
                          struct error *error)
{
    struct analyses_names names;
    struct columns_kind kinds[ANALYSES_COLUMNS];
    analyses_columns(kinds, &names);
    struct columns columns = {.path = path,
                              .kinds = kinds,
                              .count = ANALYSES_COLUMNS,
                              .headed = analyses_headed,
                              .row = analyses_row,
                              .context = analyses,
                              .error = error};
    const enum status status = columns_read(&columns);
    if (status == STATUS_OK && analyses->count == 0) {
        return status_error(error, STATUS_INPUT, "%s:1: holds no analysis", path);
    }
    if (status == STATUS_OK && analyses->usable_count == 0) {
        return STATUS_INPUT; /* each row's own mistake is told */
    }
    return status;
}

void analyses_free(struct analyses *analyses)
{
    free(analyses->rows);
    *analyses = (struct analyses){0};
}
