/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bucket's shape: a truncated cone, or straight walls. */
#ifndef PAILCAST_BUCKET_SHAPE_H
#define PAILCAST_BUCKET_SHAPE_H

/* Heights are measured from the floor. The fill line is where the bucket holds full_l. */
struct shape {
    double full_l;          /* litres at the fill line */
    double height_cm;       /* floor to rim */
    double top_diameter_cm; /* at the rim */
    double bottom_diameter_cm;
    double net_pot_depth_cm; /* the net pot's floor, below the rim */
};

/* Litres up to the rim. */
double shape_rim_l(const struct shape *shape);

/* Height of the water, cm, for volume_l in [0, rim]; smooth and monotonic. */
double shape_level_cm(const struct shape *shape, double volume_l);

/* Litres for a height of water, cm in [0, height]. */
double shape_volume_l(const struct shape *shape, double level_cm);

/* Height of the net pot's floor above the bucket's floor, cm, >= 0: how deep roots can
 * go. */
double shape_root_room_cm(const struct shape *shape);

#endif
