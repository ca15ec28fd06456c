/* One number of a reading at a time, so that nested readings can be compared. */
#ifndef USI_STUDY_PICK_H
#define USI_STUDY_PICK_H

#include "study/reading.h"

/* `index` says which exit, water case, wall, ...; some picks take no notice. */
typedef double (*usi_pick)(const usi_reading *reading, size_t index);

double usi_pick_flow(const usi_reading *reading, size_t index);
double usi_pick_peak(const usi_reading *reading, size_t index);
/* By usi_bed_worst_kind. */
double usi_pick_worst(const usi_reading *reading, size_t kind);
double usi_pick_peak_mean(const usi_reading *reading, size_t index);
double usi_pick_gradient(const usi_reading *reading, size_t exit);
/* Point k of the profile of exit e: index e * USI_PROFILE_MOST + k. */
double usi_pick_profile(const usi_reading *reading, size_t index);
double usi_pick_mean(const usi_reading *reading, size_t exit);
double usi_pick_uplift(const usi_reading *reading, size_t water);
/* Line of action; only where the force is not zero. */
double usi_pick_uplift_x(const usi_reading *reading, size_t water);
/* Panel p of water case w: index w * panels + p. */
double usi_pick_panel(const usi_reading *reading, size_t index);
double usi_pick_panel_x(const usi_reading *reading, size_t index);
/* Head at a place of the underside. */
double usi_pick_floor(const usi_reading *reading, size_t place);
double usi_pick_tip(const usi_reading *reading, size_t wall);
double usi_pick_left_top(const usi_reading *reading, size_t wall);
double usi_pick_right_top(const usi_reading *reading, size_t wall);
double usi_pick_through(const usi_reading *reading, size_t wall);
double usi_pick_piezometer(const usi_reading *reading, size_t piezometer);
double usi_pick_prism(const usi_reading *reading, size_t prism);
double usi_pick_prism_corner(const usi_reading *reading, size_t prism);
double usi_pick_tight(const usi_reading *reading, size_t tight);
/* Where a situation acts: outflow and face head of a terminal, length of dry bed where
 * water comes out. */
double usi_pick_outflow(const usi_reading *reading, size_t terminal);
double usi_pick_face(const usi_reading *reading, size_t terminal);
double usi_pick_open(const usi_reading *reading, size_t index);

#endif
