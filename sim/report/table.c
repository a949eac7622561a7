/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/table.h"

#include <string.h>

#include "beyond_words.h"
#include "figure.h"
#include "history.h"
#include "pailcast/base/text.h"
#include "pailcast/scenario/display.h"
#include "visits_parts.h"
#include "wrap.h"

enum {
    TABLE_NAME_WIDTH = 19
};

static void table_heading(FILE *out, const struct compare *compare)
{
    static const char *const name[] = {"", "strategy", ""};
    for (int line = 0; line < 3; line++) {
        text_column(out, name[line], TABLE_NAME_WIDTH);
        for (size_t i = 0; i < figure_column_count; i++) {
            const struct figure_column *column = &figure_columns[i];
            const char *words = line == 0 ? column->top
                                : line == 1
                                    ? column->under
                                    : figure_unit(column, &compare->scenario->display);
            fprintf(out, " %*s", column->width, words);
        }
        fputc('\n', out);
    }
}

static void table_row(FILE *out, const struct compare *compare, size_t row)
{
    char name[TEXT_NAME_SIZE + 24];
    (void)snprintf(name, sizeof name, "%zu %s", row + 1,
                   compare->rows[row].strategy->name);
    text_column(out, name, TABLE_NAME_WIDTH);
    for (size_t i = 0; i < figure_column_count; i++) {
        char cell[FIGURE_CELL_SIZE];
        figure_columns[i].cell(cell, compare, row);
        fprintf(out, " %*s", figure_columns[i].width, cell);
    }
    fputc('\n', out);
}

static void table_advice(FILE *out, const struct compare *compare, size_t row)
{
    const struct compare_row *told = &compare->rows[row];
    char line[FIGURE_LINE_SIZE];
    (void)snprintf(line, sizeof line, "%zu %s%s", row + 1, told->strategy->name,
                   row == compare->best && compare->row_count > 1 ? "  <- recommended"
                                                                  : "");
    wrap_line(out, line, 0);
    if (!told->complete) {
        (void)snprintf(line, sizeof line, "Its life was computed up to day %s only.",
                       display_day_text(compare->scenario, told->life.end_d, 1).text);
        wrap_line(out, line, 4);
    }
    history_timeline(line, compare, row);
    wrap_line(out, line, 4);
    if (history_absence(line, compare, row)) {
        wrap_line(out, line, 4);
    }
    if (history_outage(line, compare, row)) {
        wrap_line(out, line, 4);
    }
    const struct beyond beyond = beyond_of(&told->life, compare->scenario);
    if (beyond_words_life(line, &beyond, compare->scenario)) {
        wrap_line(out, line, 4);
    }
    visits_sentence(line, compare, row);
    wrap_line(out, line, 4);
    for (size_t i = 0; i < told->advice_count; i++) {
        fputs("  > ", out);
        wrap_words(out, told->advice[i], 4, 4);
    }
}

void table_write(FILE *out, const struct compare *compare)
{
    wrap_line(out, compare->scenario->title, 0);
    fputc('\n', out);
    table_heading(out, compare);
    for (size_t i = 0; i < compare->row_count; i++) {
        table_row(out, compare, i);
    }
    char limits[FIGURE_LINE_SIZE];
    char days[FIGURE_LINE_SIZE];
    figure_limits(limits, compare->scenario);
    figure_days(days, compare->scenario);
    wrap_line(out, days, 0);
    if (limits[0] != '\0') {
        wrap_line(out, limits, 0);
    }
    for (size_t i = 0; i < compare->row_count; i++) {
        fputc('\n', out);
        table_advice(out, compare, i);
    }
    if (compare->verdict[0] != '\0') {
        fputc('\n', out);
        wrap_line(out, compare->verdict, 0);
    }
}
