/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmocka with doubles compared as doubles. Include first in every test. */
#ifndef TESTS_SUPPORT_CLOSE_H
#define TESTS_SUPPORT_CLOSE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* Fails, printing 17 digits, unless |actual - expected| <= rtol |expected| + atol. */
#define assert_close(actual, expected, rtol, atol)                                       \
    close_assert((actual), (expected), (rtol), (atol), #actual, __FILE__, __LINE__)

void close_assert(double actual, double expected, double rtol, double atol,
                  const char *expression, const char *file, int line);

#endif
