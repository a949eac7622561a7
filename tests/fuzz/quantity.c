/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text read as every kind of quantity, with and without what its unit may need. */
#include "target.h"

#include <math.h>

#include "pailcast/scenario/quantity.h"

static void parse(const char *text, enum quantity quantity,
                  const struct quantity_aid *aid)
{
    double value = NAN;
    struct error error = {0};
    const enum status status = quantity_parse(&value, text, quantity, aid, &error);
    if (status == STATUS_OK) {
        target_need(isfinite(value), "a quantity is a finite number");
        target_need(error.count == 0, "what is accepted is not complained of");
    } else {
        target_need(status == STATUS_INPUT, "a text that is no quantity is bad input");
        target_need(error.count == 1 && strchr(error.text, '\n') == NULL,
                    "a refusal is one sentence");
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const struct quantity_aid aid = {
        .molar_mass = 40.078, .charge = 2, .g_ml = 0.95};
    char *text = target_text(data, size);
    for (int i = 0; i < QUANTITY_COUNT; i++) {
        parse(text, (enum quantity)i, NULL);
        parse(text, (enum quantity)i, &aid);
    }
    free(text);
    return 0;
}
