/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes read as a scenario, which may include the shipped files; what is accepted
 * keeps its promises and can be told back, as `check` does. */
#include "target.h"

#include "pailcast/scenario/explain.h"
#include "pailcast/scenario/reader.h"
#include "support/promises.h"
#include "support/scratch.h"

static void tell(const struct scenario *scenario)
{
    struct scratch_text text = {0};
    scratch_open(&text);
    explain_scenario(text.out, scenario);
    target_need(explain_json(text.out, scenario, NULL) == STATUS_OK, "told as JSON");
    free(scratch_close(&text));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct scenario scenario;
    char path[TARGET_PATH_SIZE];
    struct error error = {0};
    target_file(path, data, size, ".cfg");
    const enum status status = reader_scenario(&scenario, path, &error);
    if (status == STATUS_OK) {
        target_need(error.count == 0, "what is accepted is not complained of");
        target_need(promises_kept(&scenario), "numbers in range");
        tell(&scenario);
    } else {
        target_need(status == STATUS_INPUT, "what is no scenario is bad input");
        target_need(error.count > 0, "refused with a sentence");
        target_need(promises_line_named(&error), "refused with a line");
    }
    (void)remove(path);
    return 0;
}
