/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plots through a pipe to gnuplot; the only place that opens one. */
#ifndef PAILCAST_REPORT_PLOT_H
#define PAILCAST_REPORT_PLOT_H

#include <stdio.h>

#include "pailcast/study/compare.h"

/* The larger data blocks a plot of one strategy may ask for; see plots/style.gp. */
enum plot_blocks {
    PLOT_SAMPLES = 1, /* $samples */
    PLOT_MAKEUP = 2,  /* $makeup */
    PLOT_GROWTH = 4   /* $daily and $reference */
};

/* One plot, drawn by plots/<name>.gp, or by plots/compare-<name>.gp when it is over all
 * strategies, into <slug>-<name>.svg or compare-<name>.svg. */
struct plot_kind {
    const char *name;    /* at most 15 letters */
    bool overall;        /* over all strategies, else one a strategy */
    bool needs_plant;    /* nothing to draw without one */
    unsigned blocks;     /* of enum plot_blocks */
    const char *heading; /* for people */
    const char *caption; /* what to look at, one sentence */
};

/* All plots, in the order of the page. A new plot is a script and a line here. */
extern const struct plot_kind plot_kinds[];
extern const size_t plot_kind_count;

/* Whether a plot has anything to show for this comparison. */
bool plot_applies(const struct plot_kind *kind, const struct compare *compare);

/* Draws every plot of the comparison as SVG files into folder. STATUS_PLOT names the
 * package when gnuplot is missing, or says that it died or took too long; SVGs finished
 * before stay. */
enum status plot_draw(const char *folder, const struct compare *compare,
                      struct error *error) STATUS_MUST_CHECK;

/* Draws EC over time of all strategies in the terminal, as text, to stdout. */
enum status plot_show(const struct compare *compare,
                      struct error *error) STATUS_MUST_CHECK;

/* A picture to be drawn: `write` puts its data, plots/<name>.gp draws them. Borrowed. */
struct plot_sketch {
    const char *name;
    void (*write)(FILE *out, const void *context);
    const void *context;
};

/* What gnuplot left: a picture, and what it said. Zero-initialise; owns both. */
struct plot_drawn {
    FILE *picture, *complaints;
};

/* Draws one as SVG, as gnuplot leaves it. Errors as plot_draw's. */
enum status plot_sketch_draw(struct plot_drawn *drawn, const struct plot_sketch *sketch,
                             struct error *error) STATUS_MUST_CHECK;

/* Takes a zeroed one too. */
void plot_drawn_close(struct plot_drawn *drawn);

/* One run of gnuplot: what it is fed and where its output goes. Borrowed. */
struct plot_job {
    const char *script; /* script_size bytes for its standard input */
    size_t script_size;
    int out, complaints; /* descriptors for its standard output and error */
    double limit_s;      /* it is ended after this long */
};

/* Runs gnuplot as found in PATH. STATUS_PLOT when it is missing, fails or overstays; its
 * own words stay in job->complaints. */
enum status plot_feed(const struct plot_job *job, struct error *error) STATUS_MUST_CHECK;

#endif
