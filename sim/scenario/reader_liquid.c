/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "reader_parts.h"

/* What an honest analysis may miss (common practice: laboratories accept 3-5 %), and the
 * rounding of a dilute one. */
static const double liquid_fair_percent = 3;
static const double liquid_fair_meq_l = 0.1;

static const double liquid_most_mmol_l = 500;
static const double liquid_most_meq_l = 200;

static void reader_liquid_balance(struct reading *reading, const config_setting_t *group,
                                  const char *what, double refuse_percent,
                                  const struct liquid *liquid)
{
    double missing = liquid_charge_meq_l(liquid);
    double percent = fabs(liquid_charge_error_percent(liquid));
    const char *sign = missing > 0 ? "negative" : "positive";
    if (fabs(missing) <= liquid_fair_meq_l || percent <= liquid_fair_percent) {
        return;
    }
    if (percent > refuse_percent) {
        fields_refuse(
            reading, group,
            "%s does not balance: %.3g meq/L of %s charge are missing (%.0f %%); "
            "accepted is at most %.0f %%, so look for an ion or alkalinity "
            "left out",
            what, fabs(missing), sign, percent, refuse_percent);
        return;
    }
    fields_warn(reading,
                "the %s does not balance: %.3g meq/L of %s charge are missing (%.1f %%), "
                "so its pH is not to be trusted; look for an ion or alkalinity left out",
                what, fabs(missing), sign, percent);
}

void reader_liquid(struct reading *reading, const config_setting_t *group,
                   const char *what, double refuse_percent, struct liquid *liquid,
                   char *name)
{
    const size_t mistakes = reading->error->count;
    struct fields fields = fields_open(reading, group, what);
    *liquid = (struct liquid){0};
    (void)fields_text(&fields, "name", name, TEXT_NAME_SIZE);
    fields_ions(&fields, QUANTITY_ION, 0, liquid_most_mmol_l, liquid->mmol_l);
    (void)fields_quantity(&fields, "alkalinity", QUANTITY_ALKALINITY, -liquid_most_meq_l,
                          liquid_most_meq_l, &liquid->alkalinity_meq_l);
    fields_close(&fields);
    if (reading->error->count == mistakes) {
        reader_liquid_balance(reading, group, what, refuse_percent, liquid);
    }
}
