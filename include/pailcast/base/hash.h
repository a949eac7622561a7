/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers that look random and follow from where they stand alone: chance without a
 * memory, and fingerprints of text. */
#ifndef PAILCAST_BASE_HASH_H
#define PAILCAST_BASE_HASH_H

#include <stddef.h>
#include <stdint.h>

/* Finaliser and increment of SplitMix64 (Steele, Lea & Flood 2014, "Fast splittable
 * pseudorandom number generators"; constants from memory). */
static inline uint64_t hash_mix(uint64_t x)
{
    x += UINT64_C(0x9e3779b97f4a7c15);
    x = (x ^ (x >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    x = (x ^ (x >> 27)) * UINT64_C(0x94d049bb133111eb);
    return x ^ (x >> 31);
}

/* 2^53: the words that the digits of a double between 0 and 1 can tell apart. */
static const double hash_words = 9007199254740992;

/* Number `counter` of stream `stream` of a seed, in [0, 1): the same whenever it is asked
 * for, so that any of them can be drawn alone. */
static inline double hash_unit(uint64_t seed, uint64_t stream, uint64_t counter)
{
    const uint64_t word = hash_mix(hash_mix(hash_mix(seed) ^ stream) ^ counter);
    return (double)(word >> 11) / hash_words;
}

static const uint64_t hash_text_start = UINT64_C(0xcbf29ce484222325);

/* Goes on with `size` bytes from `hash`, at first hash_text_start: FNV-1a (Fowler, Noll &
 * Vo, RFC 9923). */
static inline uint64_t hash_text(uint64_t hash, const void *bytes, size_t size)
{
    const unsigned char *byte = bytes;
    for (size_t i = 0; i < size; i++) {
        hash = (hash ^ byte[i]) * UINT64_C(0x100000001b3);
    }
    return hash;
}

#endif
