/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "keep.h"

#include <stdlib.h>
#include <string.h>

#include "pailcast/base/file.h"
#include "picture.h"
#include "slurp.h"
#include "svg.h"

const char keep_panel_word[] = "panel ";

/* The stamp, then the lines by which the script reported its panels. */
static char *keep_metadata(FILE *complaints, const char *stamp)
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
        if (strncmp(line, keep_panel_word, strlen(keep_panel_word)) == 0) {
            fputs(line, out);
        }
    }
    if (fclose(out) != 0) {
        free(text);
        text = NULL;
    }
    return text;
}

static enum status keep_write(const char *folder, const struct keep_label *label,
                              const char *drawn, size_t length, const char *metadata,
                              struct error *error)
{
    char name[PICTURE_NAME_SIZE + 8];
    char prefix[PICTURE_NAME_SIZE + 8];
    char *script = NULL;
    size_t script_length = 0;
    struct file file = {0};
    (void)snprintf(name, sizeof name, "%s.svg", label->stem);
    (void)snprintf(prefix, sizeof prefix, "of-%s-", label->stem);
    enum status status = file_open(&file, folder, name, error);
    if (status != STATUS_OK) {
        return status;
    }
    if (metadata[0] != '\0') {
        /* Without its script the picture is a plain one. */
        (void)picture_part(&script, &script_length, "readout.js");
    }
    const struct svg_extras extras = {prefix, label->title, metadata,
                                      script != NULL ? script : ""};
    svg_finish(file.stream, drawn, length, &extras);
    free(script);
    return file_close(&file, error);
}

/* The SVG with the "panel" lines among the complaints. */
static enum status keep_drawn(const char *folder, const struct keep_label *label,
                              const struct plot_drawn *drawn, struct error *error)
{
    char *text = NULL;
    size_t length = 0;
    char *metadata = keep_metadata(drawn->complaints, label->stamp);
    enum status status = STATUS_OK;
    if (metadata == NULL || !slurp_stream(&text, &length, drawn->picture)) {
        status =
            status_error(error, STATUS_MEMORY, "no memory for the plot %s", label->stem);
    } else if (!svg_is_whole(text, length)) {
        status = status_error(error, STATUS_PLOT, "gnuplot left the plot %s unfinished",
                              label->stem);
    } else {
        status = keep_write(folder, label, text, length, metadata, error);
    }
    free(text);
    free(metadata);
    return status;
}

enum status keep_sketch(const char *folder, const struct keep_label *label,
                        const struct plot_sketch *sketch, struct error *error)
{
    struct plot_drawn drawn = {0};
    enum status status = plot_sketch_draw(&drawn, sketch, error);
    if (status == STATUS_OK) {
        status = keep_drawn(folder, label, &drawn, error);
    }
    plot_drawn_close(&drawn);
    return status;
}

void keep_none(const char *folder, const char *name)
{
    char path[FILE_PATH_SIZE];
    (void)snprintf(path, sizeof path, "%s/%s.svg", folder, name);
    (void)remove(path);
}
