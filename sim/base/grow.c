/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/base/grow.h"

#include <stdlib.h>

void *grow_array(void *array, size_t count, size_t *room, size_t size)
{
    if (count < *room) {
        return array;
    }
    const size_t wider = *room == 0 ? 64 : 2 * *room;
    void *grown = realloc(array, wider * size);
    if (grown != NULL) {
        *room = wider;
    }
    return grown;
}
