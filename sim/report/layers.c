/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "layers.h"

#include "pailcast/scenario/display.h"
#include "thin.h"

enum {
    LAYERS_POINTS = 500, /* of an outline, once there and once back */
    LAYERS_ROOM = 1000   /* with the rows of events, which come on top */
};

/* Layers of "what the EC is made of", from below. An ion without an entry in the tables
 * falls to the rest. */
enum layers_layer {
    LAYER_REST,
    LAYER_USEFUL_N,
    LAYER_USEFUL_K,
    LAYER_USEFUL_CA_MG,
    LAYER_USEFUL_P_S,
    LAYER_SALT,
    LAYER_SURPLUS_CA_MG,
    LAYER_SURPLUS_SO4,
    LAYER_COUNT
};

static const enum layers_layer layers_useful[ION_COUNT] = {
    [ION_NO3] = LAYER_USEFUL_N,    [ION_NH4] = LAYER_USEFUL_N,
    [ION_K] = LAYER_USEFUL_K,      [ION_CA] = LAYER_USEFUL_CA_MG,
    [ION_MG] = LAYER_USEFUL_CA_MG, [ION_P] = LAYER_USEFUL_P_S,
    [ION_SO4] = LAYER_USEFUL_P_S,  [ION_NA] = LAYER_SALT,
    [ION_CL] = LAYER_SALT};
static const enum layers_layer layers_ballast[ION_COUNT] = {
    [ION_CA] = LAYER_SURPLUS_CA_MG,
    [ION_MG] = LAYER_SURPLUS_CA_MG,
    [ION_SO4] = LAYER_SURPLUS_SO4,
    [ION_NA] = LAYER_SALT,
    [ION_CL] = LAYER_SALT};
static const enum layers_layer layers_stack[LAYER_COUNT] = {
    LAYER_USEFUL_N, LAYER_USEFUL_K,      LAYER_USEFUL_CA_MG, LAYER_USEFUL_P_S,
    LAYER_SALT,     LAYER_SURPLUS_CA_MG, LAYER_SURPLUS_SO4,  LAYER_REST};

/* Heights of the layers' upper edges over one sample; edge[0] is the floor. */
struct layers_edges {
    double day_d;
    double edge[LAYER_COUNT + 1];
};

static struct layers_edges layers_edges(const struct sample *sample,
                                        const struct scenario *scenario,
                                        const struct strategy *strategy,
                                        const struct pen *pen)
{
    const struct compare_makeup makeup =
        compare_makeup_of(sample, scenario, strategy, pen);
    double layer[LAYER_COUNT] = {[LAYER_REST] = makeup.carbonate};
    for (size_t i = 0; i < ION_COUNT; i++) {
        layer[layers_useful[i]] += makeup.useful_by_ion[i];
        layer[layers_ballast[i]] += makeup.ballast_by_ion[i];
    }
    struct layers_edges edges = {.day_d = sample->day_d};
    for (size_t i = 0; i < LAYER_COUNT; i++) {
        edges.edge[i + 1] =
            edges.edge[i] + display_ec(&scenario->display, layer[layers_stack[i]]);
    }
    return edges;
}

static void layers_outlines(FILE *out, const struct layers_edges *edges, size_t count)
{
    fputs("$makeup << END_OF_BLOCK\n", out);
    for (size_t layer = 0; layer < LAYER_COUNT; layer++) {
        for (size_t i = 0; i < count; i++) {
            fprintf(out, "%.7g %.5g\n", edges[i].day_d, edges[i].edge[layer + 1]);
        }
        for (size_t i = count; i > 0; i--) {
            fprintf(out, "%.7g %.5g\n", edges[i - 1].day_d, edges[i - 1].edge[layer]);
        }
        fputs("\n\n", out);
    }
    fputs("END_OF_BLOCK\n", out);
}

void layers_write(FILE *out, const struct compare_row *row,
                  const struct scenario *scenario)
{
    const struct trajectory *path = &row->life.trajectory;
    struct layers_edges edges[LAYERS_ROOM];
    const struct pen pen =
        pen_at(scenario->room.water_temperature_c, scenario->room.root_co2_ppm);
    struct thin thinning = thin_start(path, LAYERS_POINTS);
    size_t count = 0;
    for (size_t i = 0; i < path->sample_count && count < LAYERS_ROOM; i++) {
        const struct sample *sample = &path->samples[i];
        if (thin_keeps(&thinning, sample) || i + 1 == path->sample_count) {
            edges[count++] = layers_edges(sample, scenario, row->strategy, &pen);
        }
    }
    layers_outlines(out, edges, count);
}
