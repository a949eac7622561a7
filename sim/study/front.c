/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/study/front.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "pailcast/base/hash.h"
#include "pailcast/base/number.h"

/* Of differential evolution, as usual: weight of a difference, and the chance that a
 * setting comes from the mutant; and how often a setting is drawn anew (chosen). */
static const double front_weight = 0.5;
static const double front_crossover = 0.7;
static const double front_anew = 0.08;

/* Tries to breed a child that was not evaluated before. */
static const int front_tries = 20;

bool front_beats(const struct front_point *a, const struct front_point *b, size_t aims)
{
    if (a->violation != b->violation) {
        return a->violation < b->violation;
    }
    bool better = false;
    for (size_t i = 0; i < aims; i++) {
        if (a->aim[i] > b->aim[i]) {
            return false;
        }
        better |= a->aim[i] < b->aim[i];
    }
    return better;
}

bool front_holds(const struct front *front, size_t index, size_t aims)
{
    for (size_t i = 0; i < front->count; i++) {
        if (front_beats(&front->points[i], &front->points[index], aims)) {
            return false;
        }
    }
    return true;
}

void front_free(struct front *front)
{
    if (front != NULL) {
        free(front->points);
        *front = (struct front){0};
    }
}

/* A search in progress: the living are indices into front->points. */
struct front_search {
    const struct front_problem *problem;
    struct front *front;
    size_t *living; /* [2 population]: parents, then children */
    size_t living_count;
    size_t *rank;  /* [2 population] */
    double *alone; /* [2 population] */
    uint64_t turn; /* of the stream of chance */
};

static double front_chance(struct front_search *search)
{
    return hash_unit(search->problem->seed, 0, search->turn++);
}

static const struct front_point *front_anyone(struct front_search *search, size_t count)
{
    const size_t k = (size_t)(front_chance(search) * (double)count);
    return &search->front->points[search->living[k]];
}

static void front_tidy(struct front_point *point, const struct front_problem *problem)
{
    for (size_t i = 0; i < problem->settings; i++) {
        point->setting[i] = number_clamp(point->setting[i], 0, 1);
    }
    if (problem->tidy != NULL) {
        problem->tidy(point->setting, problem->context);
    }
}

static bool front_is_known(const struct front_search *search,
                           const struct front_point *point, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const double *other = search->front->points[i].setting;
        bool same = true;
        for (size_t k = 0; k < search->problem->settings; k++) {
            same &= fabs(other[k] - point->setting[k]) < 1e-12;
        }
        if (same) {
            return true;
        }
    }
    return false;
}

static struct front_point front_stranger(struct front_search *search)
{
    struct front_point point = {0};
    for (size_t i = 0; i < search->problem->settings; i++) {
        point.setting[i] = front_chance(search);
    }
    return point;
}

static struct front_point front_child(struct front_search *search, size_t parents)
{
    struct front_point child = *front_anyone(search, parents);
    const struct front_point *a = front_anyone(search, parents);
    const struct front_point *b = front_anyone(search, parents);
    const struct front_point *c = front_anyone(search, parents);
    for (size_t i = 0; i < search->problem->settings; i++) {
        if (front_chance(search) < front_crossover) {
            child.setting[i] =
                a->setting[i] + front_weight * (b->setting[i] - c->setting[i]);
        }
        if (front_chance(search) < front_anew) {
            child.setting[i] = front_chance(search);
        }
    }
    return child;
}

/* Breeds (or at first draws) up to population new points behind those there are;
 * returns how many. */
static size_t front_breed(struct front_search *search, const double first[])
{
    const size_t parents = search->living_count;
    const size_t before = search->front->count;
    size_t made = 0;
    for (size_t k = 0; k < search->problem->population; k++) {
        for (int tried = 0; tried < front_tries; tried++) {
            struct front_point point =
                parents > 0 ? front_child(search, parents) : front_stranger(search);
            if (parents == 0 && k == 0 && tried == 0 && first != NULL) {
                memcpy(point.setting, first,
                       search->problem->settings * sizeof *point.setting);
            }
            front_tidy(&point, search->problem);
            if (!front_is_known(search, &point, before + made)) {
                search->front->points[before + made] = point;
                made++;
                break;
            }
        }
    }
    return made;
}

/* Ranks of the living: how many layers of unbeaten points lie in front of each. */
static void front_rank(struct front_search *search)
{
    const struct front_point *points = search->front->points;
    const size_t none = SIZE_MAX;
    size_t left = search->living_count;
    for (size_t i = 0; i < search->living_count; i++) {
        search->rank[i] = none;
    }
    for (size_t rank = 0; left > 0; rank++) {
        for (size_t i = 0; i < search->living_count; i++) {
            bool beaten = search->rank[i] != none;
            for (size_t k = 0; k < search->living_count && !beaten; k++) {
                beaten = search->rank[k] >= rank &&
                         front_beats(&points[search->living[k]],
                                     &points[search->living[i]], search->problem->aims);
            }
            if (!beaten) {
                search->rank[i] = rank;
                left--;
            }
        }
    }
}

/* How alone the i-th of the living stands: for each aim the gap between its neighbours of
 * the same rank over the whole range, at an end infinite. */
static double front_crowding(const struct front_search *search, size_t i)
{
    const struct front_point *points = search->front->points;
    double sum = 0;
    for (size_t a = 0; a < search->problem->aims; a++) {
        const double mine = points[search->living[i]].aim[a];
        double below = -INFINITY;
        double above = INFINITY;
        double low = mine;
        double high = mine;
        for (size_t k = 0; k < search->living_count; k++) {
            if (k == i || search->rank[k] != search->rank[i]) {
                continue;
            }
            const double other = points[search->living[k]].aim[a];
            low = fmin(low, other);
            high = fmax(high, other);
            below = other <= mine ? fmax(below, other) : below;
            above = other >= mine ? fmin(above, other) : above;
        }
        sum += high > low ? (above - below) / (high - low) : 0;
    }
    return sum;
}

/* Keeps the population: first the lower ranks, then the more alone, then the older. */
static void front_survive(struct front_search *search)
{
    const size_t keep = search->problem->population;
    front_rank(search);
    for (size_t i = 0; i < search->living_count; i++) {
        search->alone[i] = front_crowding(search, i);
    }
    for (size_t i = 0; i < keep && i < search->living_count; i++) {
        size_t best = i;
        for (size_t k = i + 1; k < search->living_count; k++) {
            if (search->rank[k] < search->rank[best] ||
                (search->rank[k] == search->rank[best] &&
                 search->alone[k] > search->alone[best])) {
                best = k;
            }
        }
        const size_t index = search->living[best];
        const size_t rank = search->rank[best];
        const double alone = search->alone[best];
        search->living[best] = search->living[i];
        search->rank[best] = search->rank[i];
        search->alone[best] = search->alone[i];
        search->living[i] = index;
        search->rank[i] = rank;
        search->alone[i] = alone;
    }
    search->living_count = keep < search->living_count ? keep : search->living_count;
}

static enum status front_generation(struct front_search *search, const double first[],
                                    struct error *error)
{
    const struct front_problem *problem = search->problem;
    struct front *front = search->front;
    const size_t made = front_breed(search, first);
    enum status status = STATUS_OK;
    if (made > 0) {
        status = problem->evaluate(front->points + front->count, made, problem->context,
                                   error);
    }
    if (status != STATUS_OK) {
        return status;
    }
    for (size_t i = 0; i < made; i++) {
        search->living[search->living_count++] = front->count++;
    }
    front_survive(search);
    return STATUS_OK;
}

enum status front_search(struct front *front, const struct front_problem *problem,
                         const double first[], struct error *error)
{
    const size_t most = problem->population * problem->generations;
    const size_t pool = 2 * problem->population;
    struct front_search search = {.problem = problem, .front = front};
    enum status status = STATUS_OK;
    front->points = calloc(most, sizeof *front->points);
    search.living = calloc(pool, sizeof *search.living);
    search.rank = calloc(pool, sizeof *search.rank);
    search.alone = calloc(pool, sizeof *search.alone);
    if (front->points == NULL || search.living == NULL || search.rank == NULL ||
        search.alone == NULL) {
        status = status_error(error, STATUS_MEMORY, "no memory for %zu candidates", most);
    }
    for (size_t g = 0; g < problem->generations && status == STATUS_OK; g++) {
        status = front_generation(&search, first, error);
    }
    free(search.living);
    free(search.rank);
    free(search.alone);
    return status;
}
