/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plant behind one interface: state, rates, stage, start and cut. A further kind is
 * one file and one line in plant.c. */
#ifndef PAILCAST_PLANT_PLANT_H
#define PAILCAST_PLANT_PLANT_H

#include <stdbool.h>
#include <stddef.h>

#include "pailcast/chem/ion.h"
#include "pailcast/plant/crop.h"
#include "pailcast/plant/room.h"
#include "pailcast/plant/transpiration.h"

/* Layout of the plant's part of the state vector. Tissue contents follow PLANT_TISSUE in
 * nutrient order, then sodium and chloride. */
enum plant_state {
    PLANT_DRY_MASS,     /* g, roots included */
    PLANT_ROOT_MASS,    /* g */
    PLANT_LEAF_AREA,    /* m2 */
    PLANT_ROOT_DEPTH,   /* cm below the net pot */
    PLANT_THERMAL_TIME, /* degC d */
    PLANT_THIRST,       /* d without water at the roots, recovering with water */
    PLANT_TISSUE,       /* mmol: N P K Ca Mg S Na Cl */
    PLANT_STATE_COUNT = PLANT_TISSUE + NUTRIENT_COUNT + 2
};

/* Where in the plant's state an ion taken up is stored. */
extern const size_t plant_tissue_of[ION_COUNT];

/* What the lamp state fixes, computed once at each switch. */
struct plant_setting {
    struct transpiration_air air;
    double radiation_w_m2; /* net radiation of a closed canopy */
    double stomatal_s_m;   /* before salinity */
    double boundary_s_m;
    double photon_mol_m2_d; /* light while this state lasts, per day of it */
    double
        light_use_g_mol;   /* dry mass per mol of light taken in, at this light and CO2 */
    double leaf_area_m2_g; /* specific leaf area at this light */
    double warmth;         /* air-temperature factor on growth, 0-1 */
    double root_warmth;    /* water-temperature factor on growth, 0-1 */
    double oxygen;         /* dissolved-oxygen factor on growth, 0-1 */
    double kinetics;       /* water-temperature factor on uptake capacity */
    double thermal_c;      /* degC d of thermal time per day */
};

/* What the plant meets in the bucket at this moment. Concentrations >= 0. */
struct plant_medium {
    double mmol_l[ION_COUNT];
    double ec_ms_cm;     /* explicit estimate */
    double hydrogen;     /* activity, mol/L, explicit estimate */
    double wet;          /* share of full water supply that the roots reach, 0-1 */
    double root_room_cm; /* depth roots may still grow into: net pot to floor */
};

/* What passes between plant and bucket, per day. */
struct plant_exchange {
    double drunk_l_d;
    double uptake_mmol_d[ION_COUNT];
    double grown_g_d; /* dry mass made, before turnover */
};

struct plant_kind {
    bool feels_solution; /* rates use ec_ms_cm and hydrogen of the medium */
    bool feels_lamp;     /* rates differ by the setting */
    void (*start)(double state[PLANT_STATE_COUNT], const struct crop *crop);
    void (*prepare)(struct plant_setting *setting, const struct crop *crop,
                    const struct room *room, bool lamp_on);
    /* Writes all rates and the exchange, stage being the index into crop->stages since
     * the last stop. ideal: no stress and nothing runs short - the unstressed plant that
     * growth is measured against. Pure: no memory between calls. */
    void (*rates)(double rate[PLANT_STATE_COUNT], struct plant_exchange *exchange,
                  const double state[PLANT_STATE_COUNT], size_t stage,
                  const struct crop *crop, const struct plant_setting *setting,
                  const struct plant_medium *medium, bool ideal);
    /* Index into crop->stages. */
    size_t (*stage)(const struct crop *crop, const double state[PLANT_STATE_COUNT],
                    double day_d);
    /* Day of the next change of the rates that is known beforehand (a table's stage),
     * later than day_d; INFINITY when there is none. */
    double (*next_change)(const struct crop *crop, double day_d);
};

/* The kind of a crop; static. */
const struct plant_kind *plant_kind_of(enum crop_kind kind);

/* Takes away `share` of everything above the roots, with its leaves and tissue content.
 * Returns the dry mass removed, g. */
double plant_cut(double state[PLANT_STATE_COUNT], double share);

/* Days without water after which the plant is lost (chosen; docs/sources.md). */
extern const double plant_thirst_limit_d;

#endif
