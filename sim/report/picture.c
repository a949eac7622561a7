/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture.h"

#include <stdlib.h>
#include <string.h>

#include "keep.h"
#include "pailcast/base/file.h"
#include "pailcast/scenario/catalog.h"
#include "series.h"
#include "slurp.h"
#include "svg.h"

/* "<slug>-ec" */
static void picture_stem(char to[PICTURE_NAME_SIZE], const struct plot_kind *kind,
                         const struct compare *compare, size_t row)
{
    char slug[SLUG_SIZE] = "compare";
    if (!kind->overall) {
        slug_of_row(slug, compare, row);
    }
    (void)snprintf(to, PICTURE_NAME_SIZE, "%s-%.15s", slug, kind->name);
}

void picture_file_name(char to[PICTURE_NAME_SIZE], const struct plot_kind *kind,
                       const struct compare *compare, size_t row)
{
    char stem[PICTURE_NAME_SIZE];
    picture_stem(stem, kind, compare, row);
    (void)snprintf(to, PICTURE_NAME_SIZE, "%.*s.svg", PICTURE_NAME_SIZE - 5, stem);
}

struct picture_album picture_album(const char *folder, const struct compare *compare)
{
    struct picture_album album = {.folder = folder, .compare = compare};
    (void)snprintf(album.stamp, sizeof album.stamp, "stamp %016llx\n",
                   (unsigned long long)series_stamp(compare));
    return album;
}

bool picture_part(char **text, size_t *length, const char *name)
{
    char path[FILE_PATH_SIZE];
    int wrote = snprintf(path, sizeof path, "%s/plots/%s", catalog_folder(), name);
    *text = NULL;
    *length = 0;
    return wrote > 0 && (size_t)wrote < sizeof path && slurp_path(text, length, path);
}

bool picture_read(char **text, size_t *length, const struct picture_album *album,
                  const struct plot_kind *kind, size_t row)
{
    char name[PICTURE_NAME_SIZE];
    char path[FILE_PATH_SIZE];
    picture_file_name(name, kind, album->compare, row);
    *text = NULL;
    int wrote = snprintf(path, sizeof path, "%s/%s", album->folder, name);
    if (wrote < 0 || (size_t)wrote >= sizeof path || !slurp_path(text, length, path)) {
        return false;
    }
    if (svg_is_whole(*text, *length) && strstr(*text, album->stamp) != NULL) {
        return true;
    }
    free(*text);
    *text = NULL;
    return false;
}

enum status picture_keep(const struct picture_album *album, const struct plot_kind *kind,
                         size_t row, const struct plot_sketch *sketch,
                         struct error *error)
{
    const struct compare *compare = album->compare;
    char stem[PICTURE_NAME_SIZE];
    char title[TEXT_NAME_SIZE + 64];
    picture_stem(stem, kind, compare, row);
    (void)snprintf(title, sizeof title, "%s%s%s", kind->heading,
                   kind->overall ? "" : ": ",
                   kind->overall ? "" : compare->rows[row].strategy->name);
    const struct keep_label label = {stem, title, album->stamp};
    return keep_sketch(album->folder, &label, sketch, error);
}
