/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "headings.h"

#include <stdio.h>
#include <string.h>

#include "nearest.h"
#include "pailcast/base/text.h"

/* The unit in a heading that begins with the column's stem, "gal" of "volume_gal"; NULL.
 */
static const char *headings_unit(const struct columns *own, size_t column,
                                 const char *name)
{
    const char *stem = own->stems != NULL ? own->stems[column].text : NULL;
    const size_t length = stem != NULL ? strlen(stem) : 0;
    return length > 0 && strncmp(name, stem, length) == 0 && name[length] == '_'
               ? name + length + 1
               : NULL;
}

/* The column of exactly this name or, with its unit, of this stem; else own->count. */
static size_t headings_find(const char **unit, const struct columns *own,
                            const char *name)
{
    *unit = NULL;
    for (size_t i = 0; i < own->count; i++) {
        if (strcmp(name, own->kinds[i].name) == 0) {
            return i;
        }
    }
    size_t column = 0;
    while (column < own->count && (*unit = headings_unit(own, column, name)) == NULL) {
        column++;
    }
    return column;
}

static void headings_refuse(struct columns *own, const char *name)
{
    char list[320];
    struct text_line known = text_line_in(list, sizeof list);
    struct nearest nearest = nearest_to(name);
    char hint[NEAREST_HINT_SIZE];
    for (size_t i = 0; i < own->count; i++) {
        nearest_consider(&nearest, own->kinds[i].name);
        text_line_add(&known, "%s%s", i > 0 ? ", " : "", own->kinds[i].name);
    }
    nearest_hint(hint, &nearest);
    if (strpbrk(name, ";\t") != NULL) {
        (void)snprintf(hint, sizeof hint, "; write commas between the columns, not %s",
                       strchr(name, ';') != NULL ? "semicolons" : "tabs");
    }
    columns_tell(
        own, "column \"%.40s\" is not known%s%s Accepted are %s%s", name, hint,
        hint[0] != '\0' && hint[strlen(hint) - 1] == '?' ? "" : ".", list,
        own->stems != NULL ? "; units may be others, as in volume_gal or ec_ppm500" : "");
    own->status = STATUS_INPUT;
}

/* How large the unit is in that of the kind; false where that was refused. */
static bool headings_size(double *size, struct columns *own, size_t column,
                          const char *name, const char *unit)
{
    char slashed[COLUMNS_TEXT_SIZE];
    struct error told = {0};
    (void)snprintf(slashed, sizeof slashed, "%s", unit);
    for (char *per = slashed; (per = strchr(per, '_')) != NULL;) {
        *per = '/';
    }
    const enum status status =
        quantity_unit(size, slashed, own->stems[column].quantity, name, &told);
    if (status == STATUS_INPUT) {
        columns_tell(own, "column %s, in a heading as in %s", told.text,
                     own->kinds[column].name);
    } else if (status != STATUS_OK) {
        (void)status_error(own->error, status, "%s", told.text);
    }
    own->status = status != STATUS_OK ? status : own->status;
    return status == STATUS_OK;
}

size_t headings_take(struct columns *own, const char *name)
{
    const char *unit;
    double size = 1;
    const size_t column = headings_find(&unit, own, name);
    if (column == own->count) {
        headings_refuse(own, name);
    } else if (unit != NULL && !headings_size(&size, own, column, name, unit)) {
        return column;
    } else if (own->present[column]) {
        const char *first = own->heading[column].name;
        const bool same = strcmp(first, name) == 0;
        columns_tell(own, "column %.40s stands here twice%s%s; keep one", name,
                     same ? "" : ", before as ", same ? "" : first);
        own->status = STATUS_INPUT;
    } else {
        own->present[column] = true;
        own->heading[column].size = size;
        text_copy(own->heading[column].name, sizeof own->heading[column].name, name);
    }
    return column;
}
