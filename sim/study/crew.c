/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "crew.h"

#ifdef _OPENMP
#include <omp.h>
#endif

static int crew_threads(const struct crew *crew)
{
#ifdef _OPENMP
    return crew->threads > 0 ? crew->threads : omp_get_max_threads();
#else
    return crew->threads;
#endif
}

enum status crew_work(const struct crew *crew, struct error *error)
{
    enum status status = STATUS_OK;
    const int threads = crew_threads(crew);
    (void)threads; /* not used where there are none */
#pragma omp parallel for schedule(dynamic) num_threads(threads) default(shared)
    for (size_t number = 0; number < crew->count; number++) {
        enum status seen;
#pragma omp atomic read
        seen = status;
        if (seen != STATUS_OK) {
            continue;
        }
        struct error own = {0};
        enum status mine = crew->work(crew->context, number, &own);
#pragma omp critical
        {
            if (mine == STATUS_OK && status == STATUS_OK) {
                mine = crew->done(crew->context, number, &own);
            }
            if (mine != STATUS_OK && status == STATUS_OK) {
                (void)status_error(error, mine, "%s", own.text);
#pragma omp atomic write
                status = mine;
            }
        }
    }
    return status;
}
