/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture.h"

#include <stdlib.h>
#include <string.h>

#include "pailcast/base/file.h"
#include "pailcast/scenario/catalog.h"
#include "series.h"
#include "slurp.h"
#include "svg.h"

const char picture_panel_word[] = "panel ";

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

/* The stamp, then the lines by which the script reported its panels. */
static char *picture_metadata(FILE *complaints, const char *stamp)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (out == NULL) {
        return NULL;
    }
    char line[256];
    fputs(stamp, out);
    rewind(complaints);
    while (fgets(line, sizeof line, complaints) != NULL) {
        if (strncmp(line, picture_panel_word, strlen(picture_panel_word)) == 0) {
            fputs(line, out);
        }
    }
    if (fclose(out) != 0) {
        free(text);
        text = NULL;
    }
    return text;
}

static enum status picture_write(const char *folder, const char *stem, const char *drawn,
                                 size_t length, const struct svg_extras *extras,
                                 struct error *error)
{
    char name[PICTURE_NAME_SIZE + 8];
    struct file file = {0};
    (void)snprintf(name, sizeof name, "%s.svg", stem);
    enum status status = file_open(&file, folder, name, error);
    if (status != STATUS_OK) {
        return status;
    }
    svg_finish(file.stream, drawn, length, extras);
    return file_close(&file, error);
}

enum status picture_keep(const struct picture_album *album, const struct plot_kind *kind,
                         size_t row, FILE *drawn, FILE *complaints, struct error *error)
{
    const struct compare *compare = album->compare;
    char stem[PICTURE_NAME_SIZE];
    char prefix[PICTURE_NAME_SIZE + 8];
    char title[TEXT_NAME_SIZE + 64];
    char *text = NULL;
    size_t length = 0;
    char *script = NULL;
    size_t script_length = 0;
    picture_stem(stem, kind, compare, row);
    (void)snprintf(prefix, sizeof prefix, "of-%s-", stem);
    (void)snprintf(title, sizeof title, "%s%s%s", kind->heading,
                   kind->overall ? "" : ": ",
                   kind->overall ? "" : compare->rows[row].strategy->name);
    char *metadata = picture_metadata(complaints, album->stamp);
    enum status status = STATUS_MEMORY;
    if (metadata == NULL || !slurp_stream(&text, &length, drawn)) {
        status = status_error(error, STATUS_MEMORY, "no memory for the plot %s", stem);
    } else if (!svg_is_whole(text, length)) {
        status =
            status_error(error, STATUS_PLOT, "gnuplot left the plot %s unfinished", stem);
    } else {
        /* Without its script the picture is a plain one. */
        (void)picture_part(&script, &script_length, "readout.js");
        const struct svg_extras extras = {prefix, title, metadata,
                                          script != NULL ? script : ""};
        status = picture_write(album->folder, stem, text, length, &extras, error);
    }
    free(script);
    free(text);
    free(metadata);
    return status;
}
