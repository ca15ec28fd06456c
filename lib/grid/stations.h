/* Coordinates that must carry a grid line: every vertex of the section. */
#ifndef USI_GRID_STATIONS_H
#define USI_GRID_STATIONS_H

#include "grid/grid.h"
#include "model/plan.h"

typedef struct usi_stations {
    size_t x_count;
    double *x_m; /* growing */
    size_t z_count;
    double *z_m; /* growing */
} usi_stations;

/* Collects, sorts and merges the coordinates; free with usi_stations_free(). */
us_status usi_stations_collect(us_context *context, const us_section *section, const usi_plan *plan,
                               bool sealed, usi_stations *stations);
void usi_stations_free(usi_stations *stations);

/* Level where a wall ends on this grid. */
double usi_stations_tip(const usi_wall *wall, bool sealed);

/* A pane of a wall, down to that tip where it is the lowest. */
usi_pane usi_stations_pane(const usi_wall *wall, size_t index, bool sealed);
size_t usi_stations_pane_count(const usi_wall *wall);

#endif
