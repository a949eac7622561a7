/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "keep.h"
#include "pailcast/base/file.h"
#include "pailcast/base/text.h"
#include "pailcast/report/tune.h"
#include "pailcast/scenario/display.h"

static void tune_plot_point(FILE *out, const struct tune *tune,
                            const struct tune_candidate *candidate)
{
    const struct scenario_display *display = &tune->scenario->display;
    fprintf(out, "%.6g %.6g %.6g %.6g\n", candidate->aim[TUNE_SALT],
            display_volume(display, candidate->aim[TUNE_DUMPED]),
            candidate->aim[TUNE_VISITS],
            display_volume(display, candidate->aim[TUNE_WATER]));
}

/* What plots/tune-front.gp draws from. */
static void tune_plot_write(FILE *out, const void *context)
{
    const struct tune *tune = context;
    fputs("days = 1\ntitle = ", out);
    text_gnuplot(out, tune->scenario->strategies[0].name);
    fputs("\nvolume_unit = ", out);
    text_gnuplot(out, display_volume_unit(&tune->scenario->display));
    fprintf(out, "\nbest_word = '%s'\n$tried << EOD\n",
            tune->possible ? "recommended" : "nearest to the limits");
    for (size_t i = 0; i < tune->count; i++) {
        tune_plot_point(out, tune, &tune->candidates[i]);
    }
    fputs("EOD\n$front << EOD\n", out);
    for (size_t i = 0; i < tune->count; i++) {
        if (tune->candidates[i].on_front) {
            tune_plot_point(out, tune, &tune->candidates[i]);
        }
    }
    fputs("EOD\n$now << EOD\n", out);
    tune_plot_point(out, tune, &tune->candidates[0]);
    fputs("EOD\n$best << EOD\n", out);
    tune_plot_point(out, tune, &tune->candidates[tune->best]);
    fputs("EOD\n", out);
}

static enum status tune_folder_fill(const char *folder, const struct tune *tune,
                                    struct error *error)
{
    struct file file = {0};
    enum status status = file_open(&file, folder, "tune.json", error);
    if (status == STATUS_OK) {
        status = file_end(&file, tune_json_write(file.stream, tune, error), error);
    }
    const struct plot_sketch sketch = {"tune-front", tune_plot_write, tune};
    const struct keep_label label = {sketch.name, "What a search of settings found", ""};
    return status == STATUS_OK ? keep_sketch(folder, &label, &sketch, error) : status;
}

enum status tune_folder_write(const char *folder, const struct tune *tune,
                              struct error *error)
{
    struct file_claim claim = {0};
    enum status status = file_claim(&claim, folder, error);
    if (status == STATUS_OK) {
        status = tune_folder_fill(folder, tune, error);
    }
    file_release(&claim);
    return status;
}
