/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the plot scripts draw from: gnuplot variables and data blocks, in display units,
 * thinned to what a picture can show. plots/style.gp lists them. */
#ifndef SIM_REPORT_SERIES_H
#define SIM_REPORT_SERIES_H

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "pailcast/report/plot.h"

/* One strategy: variables, $band, $ph_band, $visits, $renewals and $adjusts, and of the
 * larger blocks those asked for (gnuplot reads a pipe byte by byte). */
void series_write_strategy(FILE *out, const struct compare *compare, size_t row,
                           unsigned blocks);

/* All strategies: variables and the blocks $band, $ec and $result. */
void series_write_compare(FILE *out, const struct compare *compare);

/* level_tics and level_unit: what stands where at the right of a plot of water, every 5
 * cm or 2 inches, or finer every 1 cm or half inch. */
void series_write_level_tics(FILE *out, const struct scenario *scenario, bool fine);

/* A number that differs between comparisons: FNV-1a (Fowler, Noll & Vo, RFC 9923) over
 * title, names and samples. A picture carries it, so that one left by an earlier run is
 * not taken for a new one. */
uint64_t series_stamp(const struct compare *compare);

#endif
