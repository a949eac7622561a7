/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "keep.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/base/file.h"
#include "slurp.h"
#include "svg.h"

static enum status keep_drawn(const char *folder, const struct plot_sketch *sketch,
                              const char *title, FILE *drawn, struct error *error)
{
    char *text = NULL;
    size_t length = 0;
    char name[64];
    struct file file = {0};
    if (!slurp_stream(&text, &length, drawn)) {
        return status_error(error, STATUS_MEMORY, "no memory for the plot %s",
                            sketch->name);
    }
    (void)snprintf(name, sizeof name, "%s.svg", sketch->name);
    enum status status =
        svg_is_whole(text, length)
            ? file_open(&file, folder, name, error)
            : status_error(error, STATUS_PLOT, "gnuplot left the plot %s unfinished",
                           sketch->name);
    if (status == STATUS_OK) {
        const struct svg_extras extras = {"of-study-", title, "", ""};
        svg_finish(file.stream, text, length, &extras);
        status = file_close(&file, error);
    }
    free(text);
    return status;
}

enum status keep_sketch(const char *folder, const struct plot_sketch *sketch,
                        const char *title, struct error *error)
{
    FILE *drawn = tmpfile();
    if (drawn == NULL) {
        return status_error(error, STATUS_FILE, "no room for a passing file: %s",
                            strerror(errno));
    }
    enum status status = plot_sketch_draw(drawn, sketch, error);
    if (status == STATUS_OK) {
        status = keep_drawn(folder, sketch, title, drawn, error);
    }
    (void)fclose(drawn);
    return status;
}
