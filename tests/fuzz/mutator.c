/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How an input is changed into the next: by the fuzzer's own means, which flip, insert
 * and join bytes, or by what mostly leaves a file readable: another number in the place
 * of one, a statement or line less. Most bytes flipped at random end in a refusal; most
 * numbers put in at random are lived. */
#include "target.h"

#include <ctype.h>
#include <math.h>

size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t most);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t most, unsigned seed);

enum {
    MUTATOR_TRIALS = 8
};

/* Linear congruential numbers (Numerical Recipes' constants), upper bits. */
static unsigned draw(unsigned *seed, size_t below)
{
    *seed = *seed * 1664525U + 1013904223U;
    return (unsigned)((*seed >> 8) % below);
}

/* Ends of ranges, or any magnitude from 1e-6 to 1e4. */
static size_t draw_number(char to[32], unsigned *seed)
{
    static const char *const ends[] = {"0",   "1",   "-1",   "0.5",  "2",    "1e-9",
                                       "100", "14",  "1000", "3650", "1e-3", "0.001",
                                       "40",  "1e5", "24",   "500",  "20",   "-0.0"};
    if (draw(seed, 3) == 0) {
        return (size_t)snprintf(to, 32, "%s",
                                ends[draw(seed, sizeof ends / sizeof *ends)]);
    }
    const double magnitude = -6 + draw(seed, 1000) / 100.;
    return (size_t)snprintf(to, 32, "%.*g", 1 + (int)draw(seed, 3), pow(10, magnitude));
}

/* Puts other[length] in the place of data[from..to). */
static size_t replace(uint8_t *data, size_t size, size_t most, size_t from, size_t to,
                      const char *other, size_t length)
{
    const size_t after = size - (to - from) + length;
    if (after > most) {
        return size;
    }
    memmove(data + from + length, data + to, size - to);
    memcpy(data + from, other, length);
    return after;
}

/* The next number at or after a place that is no part of a word; *end == *begin where
 * there is none. */
static void find_number(const uint8_t *data, size_t size, size_t at, size_t *begin,
                        size_t *end)
{
    size_t i = at;
    while (i < size && !(isdigit(data[i]) &&
                         (i == 0 || (!isalnum(data[i - 1]) && data[i - 1] != '_')))) {
        i++;
    }
    *begin = *end = i;
    while (*end < size && (isdigit(data[*end]) || data[*end] == '.')) {
        (*end)++;
    }
}

static size_t other_number(uint8_t *data, size_t size, size_t most, unsigned *seed)
{
    char number[32];
    size_t begin;
    size_t end;
    find_number(data, size, draw(seed, size), &begin, &end);
    const size_t length = draw_number(number, seed);
    return end > begin ? replace(data, size, most, begin, end, number, length) : size;
}

/* Takes out what stands between two ends of statements or lines. */
static size_t less(uint8_t *data, size_t size, size_t most, unsigned *seed)
{
    const char mark = ";\n,"[draw(seed, 3)];
    const size_t at = draw(seed, size);
    const uint8_t *begin = memchr(data + at, mark, size - at);
    if (begin == NULL) {
        return size;
    }
    const size_t from = (size_t)(begin - data) + 1;
    const uint8_t *end = memchr(data + from, mark, size - from);
    return end != NULL && size > 1
               ? replace(data, size, most, from, (size_t)(end - data) + 1, "", 0)
               : size;
}

static size_t mutate(uint8_t *data, size_t size, size_t most, unsigned *seed)
{
    const unsigned way = draw(seed, 10);
    if (size == 0 || way < 4) {
        return LLVMFuzzerMutate(data, size, most);
    }
    if (way == 9) {
        return less(data, size, most, seed);
    }
    for (unsigned times = 1 + draw(seed, 3); times > 0; times--) {
        size = other_number(data, size, most, seed);
    }
    return size;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t most, unsigned seed)
{
    if (target_accepts == NULL) {
        return mutate(data, size, most, &seed);
    }
    uint8_t *before = (uint8_t *)target_text(data, size);
    size_t after = 0;
    for (int times = 0; times < MUTATOR_TRIALS; times++) {
        memcpy(data, before, size);
        after = mutate(data, size, most, &seed);
        if (target_accepts(data, after)) {
            break;
        }
    }
    free(before);
    return after;
}
