/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "pailcast/chem/carbonate.h"
#include "pailcast/study/pour.h"
#include "pailcast/visit/adjust.h"

/* EC asks for a strength and pH for an alkalinity. Each moves the other a little, so that
 * a few turns settle both far below what pens show. */
enum {
    PH_TURNS = 5
};

struct liquid pour_kit_read(const struct liquid *like, double ec_ms_cm, double ph,
                            const struct pen *pen)
{
    const bool scaled = !isnan(ec_ms_cm);
    struct liquid liquid = scaled ? pour_kit_scaled(like, ec_ms_cm, pen) : *like;
    for (int turn = 0; turn < PH_TURNS && !isnan(ph); turn++) {
        liquid.alkalinity_meq_l =
            speciation_alkalinity_at(&liquid, ph, &pen->equilibrium, pen->co2_ppm);
        liquid = scaled ? pour_kit_scaled(&liquid, ec_ms_cm, pen) : liquid;
    }
    return liquid;
}

struct pour_ph pour_ph_of(const struct pour_case *now, const struct pour_plan *plan)
{
    const struct pen *pen = &now->pen;
    struct liquid mixed =
        pour_mixed(now, plan->drain_l, plan->water_l, plan->stock_l, plan->salt_l);
    const struct speciation poured =
        speciation_solve(&mixed, &pen->equilibrium, pen->co2_ppm);
    const double all_l = now->volume_l - plan->drain_l + plan->water_l + plan->stock_l;
    const double dose_mmol_l = adjust_dose_mmol_l(&now->adjust, &mixed, pen);
    double carbonate_mol = carbonate_mol_l(&poured);
    struct pour_ph ph = {
        .before = now->volume_l > 0 ? pen_read(pen, &now->bucket).ph : NAN,
        .poured = poured.ph,
        .dose_mmol = dose_mmol_l * all_l,
    };
    if (dose_mmol_l > 0) {
        ph.dose_g = salt_g(now->adjust.with, ph.dose_mmol);
        salt_dissolve_mmol(&mixed, now->adjust.with, dose_mmol_l);
        carbonate_mol += salt_carbonate(now->adjust.with) * dose_mmol_l * 1e-3;
    }
    const struct speciation closed =
        carbonate_closed(&mixed, &pen->equilibrium, carbonate_mol);
    const struct pen_reading last = pen_read(pen, &mixed);
    ph.at_once = closed.ph;
    ph.ec_at_once_ms_cm = conductivity_ms_cm(&closed, &pen->setting);
    ph.after = last.ph;
    ph.ec_after_ms_cm = last.ec_ms_cm;
    return ph;
}
