/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arrays that grow as they are filled. */
#ifndef PAILCAST_BASE_GROW_H
#define PAILCAST_BASE_GROW_H

#include <stddef.h>

/* Room for one element of `size` bytes more: the array, perhaps moved, or NULL when there
 * is no memory (array and *room are then as they were). */
void *grow_array(void *array, size_t count, size_t *room, size_t size);

#endif
