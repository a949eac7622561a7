/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A root of one equation in one unknown (Brent's method, GSL). */
#ifndef PAILCAST_BASE_ROOT_H
#define PAILCAST_BASE_ROOT_H

/* x in [low, high] where residual(x, context) changes sign, to `tolerance` in x. When it
 * does not change sign over the interval, the end with the smaller residual is returned.
 */
double root_find(double (*residual)(double x, void *context), void *context, double low,
                 double high, double tolerance);

#endif
