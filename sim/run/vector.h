/* SPDX-License-Identifier: GPL-3.0-or-later */
/* SUNDIALS vectors with our own kernels, which the compiler may unroll and vectorise. */
#ifndef PAILCAST_RUN_VECTOR_H
#define PAILCAST_RUN_VECTOR_H

#include <nvector/nvector_serial.h>

/* A serial vector of `length` doubles, zeroed, whose clones share its operations; NULL
 * when out of memory. Freed with N_VDestroy. */
N_Vector vector_create(sunindextype length, SUNContext context);

#endif
