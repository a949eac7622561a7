/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/slug.h"

#include <stdio.h>
#include <string.h>

#include "pailcast/base/text.h"

const char slug_visits[] = "-visits";

/* Whether a slug is the other with the ending of a list of visits. */
static bool slug_lists(const char *slug, const char *of)
{
    const size_t length = strlen(of);
    return strncmp(slug, of, length) == 0 && strcmp(slug + length, slug_visits) == 0;
}

static bool slug_taken(const char *slug, char earlier[][SLUG_SIZE], size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (strcmp(earlier[i], slug) == 0 || slug_lists(earlier[i], slug) ||
            slug_lists(slug, earlier[i])) {
            return true;
        }
    }
    return strcmp(slug, "compare") == 0;
}

void slug_of_row(char to[SLUG_SIZE], const struct compare *compare, size_t row)
{
    char slugs[SCENARIO_STRATEGIES_MAX][SLUG_SIZE] = {{0}};
    for (size_t i = 0; i <= row; i++) {
        char base[SLUG_SIZE - 8];
        text_slug(base, sizeof base, compare->rows[i].strategy->name);
        (void)snprintf(slugs[i], SLUG_SIZE, "%s", base);
        for (unsigned n = 2; slug_taken(slugs[i], slugs, i); n++) {
            (void)snprintf(slugs[i], SLUG_SIZE, "%s-%u", base, n);
        }
    }
    memcpy(to, slugs[row], SLUG_SIZE);
}
