/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "slurp.h"

#include <stdlib.h>

bool slurp_stream(char **text, size_t *length, FILE *stream)
{
    char piece[4096];
    *text = NULL;
    *length = 0;
    FILE *out = open_memstream(text, length);
    if (out == NULL) {
        return false;
    }
    rewind(stream);
    size_t read = 0;
    while ((read = fread(piece, 1, sizeof piece, stream)) > 0) {
        (void)fwrite(piece, 1, read, out);
    }
    bool whole = !ferror(stream) && !ferror(out);
    whole = fclose(out) == 0 && whole;
    if (!whole) {
        free(*text);
        *text = NULL;
    }
    return whole;
}

bool slurp_path(char **text, size_t *length, const char *path)
{
    *text = NULL;
    *length = 0;
    FILE *stream = fopen(path, "r");
    if (stream == NULL) {
        return false;
    }
    const bool whole = slurp_stream(text, length, stream);
    (void)fclose(stream);
    return whole;
}
