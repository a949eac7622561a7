/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/status.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "pailcast/base/text.h"

enum {
    STATUS_LINE_SIZE = 1024
};

struct status_row {
    int exit_code;
    const char *sentence;
};

static const struct status_row status_rows[STATUS_COUNT] = {
#define STATUS_ROW(code, exit_code, sentence) [code] = {exit_code, sentence},
    STATUS_LIST(STATUS_ROW)
#undef STATUS_ROW
};

const char *status_sentence(enum status code)
{
    return status_rows[code].sentence;
}

int status_exit_code(enum status code)
{
    return status_rows[code].exit_code;
}

enum status status_error(struct error *error, enum status code, const char *format, ...)
{
    if (error == NULL) {
        return code;
    }
    char raw[STATUS_LINE_SIZE];
    char line[STATUS_LINE_SIZE];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(raw, sizeof raw, format, arguments);
    va_end(arguments);
    text_copy(line, sizeof line, raw);
    size_t used = strlen(error->text);
    size_t length = strlen(line);
    if (used + length + 2 <= sizeof error->text) {
        if (used > 0) {
            error->text[used++] = '\n';
        }
        memcpy(error->text + used, line, length + 1);
    }
    error->count++;
    return code;
}
