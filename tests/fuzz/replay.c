/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs a target once over each file named, where no fuzzer drives it. */
#include "target.h"

enum {
    REPLAY_MOST = 1 << 21
};

int main(int argc, char **argv)
{
    uint8_t *data = malloc(REPLAY_MOST);
    target_need(data != NULL && argc > 1, "usage: TARGET FILE...");
    for (int i = 1; i < argc; i++) {
        FILE *file = fopen(argv[i], "rb");
        target_need(file != NULL, argv[i]);
        const size_t size = fread(data, 1, REPLAY_MOST, file);
        (void)fclose(file);
        (void)LLVMFuzzerTestOneInput(data, size);
    }
    free(data);
    return 0;
}
