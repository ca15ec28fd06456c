#include "grid/stations.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/exits.h"
#include "model/panes.h"
#include "model/situation.h"

double usi_stations_tip(const usi_wall *wall, bool sealed)
{
    return sealed && wall->open_contact ? wall->base_m : wall->solved_tip_m;
}

size_t usi_stations_pane_count(const usi_wall *wall)
{
    usi_pane whole;
    size_t count;
    (void)usi_panes_of(wall, &whole, &count);
    return count;
}

usi_pane usi_stations_pane(const usi_wall *wall, size_t index, bool sealed)
{
    usi_pane whole;
    size_t count;
    usi_pane pane = usi_panes_of(wall, &whole, &count)[index];
    if (index + 1 == count) {
        pane.low_m = usi_stations_tip(wall, sealed);
    }
    return pane;
}

/* What lies inside the plan. */
typedef struct extent {
    double low_m;
    double high_m;
} extent;

static void add_within(const extent *of, double value_m, double *list, size_t *count)
{
    if (value_m >= of->low_m && value_m <= of->high_m) {
        list[(*count)++] = value_m;
    }
}

static void add_all(const us_section *section, const usi_plan *plan, bool sealed,
                    usi_stations *stations)
{
    extent x = {HUGE_VAL, -HUGE_VAL};
    extent z = {HUGE_VAL, -HUGE_VAL};
    for (size_t v = 0; v < plan->vertex_count; v++) {
        usi_point at = plan->vertices[v];
        x = (extent){fmin(x.low_m, at.x_m), fmax(x.high_m, at.x_m)};
        z = (extent){fmin(z.low_m, at.z_m), fmax(z.high_m, at.z_m)};
        stations->x_m[stations->x_count++] = at.x_m;
        stations->z_m[stations->z_count++] = at.z_m;
    }
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall *wall = &section->walls[w];
        if (wall->x_m >= x.low_m && wall->x_m <= x.high_m) {
            add_within(&x, wall->x_m, stations->x_m, &stations->x_count);
            for (size_t p = 0; p < usi_stations_pane_count(wall); p++) {
                usi_pane pane = usi_stations_pane(wall, p, sealed);
                add_within(&z, pane.high_m, stations->z_m, &stations->z_count);
                add_within(&z, pane.low_m, stations->z_m, &stations->z_count);
            }
        }
    }
}

/* The most coordinates that walls bring. */
static size_t most_of_walls(const us_section *section)
{
    size_t count = 0;
    for (size_t w = 0; w < section->wall_count; w++) {
        count += 2 * usi_stations_pane_count(&section->walls[w]);
    }
    return count;
}

static int compare(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;
    return x < y ? -1 : x > y;
}

static size_t sort_and_merge(double *values, size_t count, double tolerance_m)
{
    qsort(values, count, sizeof *values, compare);
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        if (kept == 0 || values[i] - values[kept - 1] > tolerance_m) {
            values[kept++] = values[i];
        }
    }
    return kept;
}

us_status usi_stations_collect(us_context *context, const us_section *section, const usi_plan *plan,
                               bool sealed, usi_stations *stations)
{
    *stations = (usi_stations){0};
    usi_exit *exits = NULL;
    size_t exit_count = 0;
    us_status status = usi_exits_list(context, section, &exits, &exit_count);
    if (status != US_OK) {
        return status;
    }
    size_t splits = section->situation != NULL ? section->situation->split_count : 0;
    size_t most = plan->vertex_count + most_of_walls(section) + exit_count + splits;
    stations->x_m = usi_memory_array(context, most, sizeof(double));
    stations->z_m = usi_memory_array(context, most, sizeof(double));
    if (stations->x_m == NULL || stations->z_m == NULL) {
        free(exits);
        usi_stations_free(stations);
        return US_ERROR_MEMORY;
    }
    add_all(section, plan, sealed, stations);
    for (size_t k = 0; k < splits; k++) {
        stations->x_m[stations->x_count++] = section->situation->splits[k].x_m;
        stations->z_m[stations->z_count++] = section->situation->splits[k].z_m;
    }
    for (size_t e = 0; e < exit_count; e++) {
        stations->z_m[stations->z_count++] = exits[e].at.z_m - exits[e].mean_depth_m;
    }
    free(exits);
    double tolerance_m = usi_section_tolerance(section);
    stations->x_count = sort_and_merge(stations->x_m, stations->x_count, tolerance_m);
    stations->z_count = sort_and_merge(stations->z_m, stations->z_count, tolerance_m);
    return US_OK;
}

void usi_stations_free(usi_stations *stations)
{
    free(stations->x_m);
    free(stations->z_m);
    *stations = (usi_stations){0};
}
