/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pailcast/report/visits.h"

#include "pailcast/scenario/display.h"
#include "visits_parts.h"

void visits_csv_name(char to[VISITS_NAME_SIZE], const struct compare *compare, size_t row)
{
    char slug[SLUG_SIZE];
    slug_of_row(slug, compare, row);
    (void)snprintf(to, VISITS_NAME_SIZE, "%s%s.csv", slug, slug_visits);
}

void visits_csv_write(FILE *out, const struct compare *compare, size_t row)
{
    const struct compare_row *told = &compare->rows[row];
    const struct trajectory *path = &told->life.trajectory;
    const struct shape *bucket = &compare->scenario->bucket;
    fputs("day,ec_before_mS_cm,ph_before,volume_before_L,water_poured_L,stock_poured_L,"
          "drained_L,adjust_mmol,adjust_g,ec_after_mS_cm,ph_after,volume_after_L,"
          "level_before_cm,level_after_cm,weekday,date\n",
          out);
    for (size_t i = 0; i < path->visit_count; i++) {
        const struct visit_record *visit = &path->visits[i];
        const struct date date = display_date_of(compare->scenario, visit->day_d);
        const double cells[] = {visit->day_d,
                                visit->ec_before_ms_cm,
                                visit->ph_before,
                                visit->volume_before_l,
                                visit->water_l,
                                visit->stock_l,
                                visit->drained_l,
                                visit->adjust_mmol,
                                visits_dose_g(visit, told->strategy),
                                visit->ec_after_ms_cm,
                                visit->ph_after,
                                visit->volume_after_l,
                                shape_level_cm(bucket, visit->volume_before_l),
                                shape_level_cm(bucket, visit->volume_after_l)};
        for (size_t k = 0; k < sizeof cells / sizeof *cells; k++) {
            fprintf(out, "%.12g,", cells[k]);
        }
        fprintf(out, "%s,%s\n", date.weekday, date.iso);
    }
}
