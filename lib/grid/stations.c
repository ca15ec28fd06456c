#include "grid/stations.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/exits.h"

typedef struct station_bag {
    const us_section *section;
    const usi_reach *reach;
    double top_m; /* highest soil surface: levels above carry no line */
    usi_stations *out;
} station_bag;

double usi_stations_tip(const usi_wall *wall, bool sealed)
{
    return sealed && wall->open_contact ? wall->base_m : wall->solved_tip_m;
}

static void add_x(station_bag *bag, double x_m)
{
    if (x_m >= bag->reach->left_m && x_m <= bag->reach->right_m) {
        bag->out->x_m[bag->out->x_count++] = x_m;
    }
}

static void add_z(station_bag *bag, double z_m)
{
    if (z_m >= bag->reach->floor_m && z_m <= bag->top_m) {
        bag->out->z_m[bag->out->z_count++] = z_m;
    }
}

/* Vertices of a line between two x; a line of one point gives only its level. */
static void add_line(station_bag *bag, const usi_line *line, double from_m, double to_m)
{
    double low_m = fmax(from_m, bag->reach->left_m);
    double high_m = fmin(to_m, bag->reach->right_m);
    if (low_m > high_m) {
        return;
    }
    add_z(bag, usi_line_level(line, low_m, true));
    add_z(bag, usi_line_level(line, high_m, false));
    for (size_t i = 0; line->count > 1 && i < line->count; i++) {
        usi_point at = line->points[i];
        if (at.x_m > low_m && at.x_m < high_m) {
            add_x(bag, at.x_m);
            add_z(bag, at.z_m);
        }
    }
}

static void add_exits(station_bag *bag, const usi_exit *exits, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        add_z(bag, exits[i].at.z_m - exits[i].mean_depth_m);
    }
}

static void add_all(station_bag *bag, bool sealed)
{
    const us_section *section = bag->section;
    add_x(bag, bag->reach->left_m);
    add_x(bag, bag->reach->right_m);
    add_x(bag, section->left_end_m);
    add_x(bag, section->right_end_m);
    add_z(bag, bag->reach->floor_m);
    add_line(bag, &section->left_bed, -HUGE_VAL, section->left_end_m);
    add_line(bag, &section->right_bed, section->right_end_m, HUGE_VAL);
    if (section->has_structure) {
        add_line(bag, &section->underside, section->left_end_m, section->right_end_m);
    }
    if (section->has_base) {
        add_line(bag, &section->base, -HUGE_VAL, HUGE_VAL);
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        add_x(bag, section->walls[i].x_m);
        add_z(bag, section->walls[i].top_m);
        add_z(bag, usi_stations_tip(&section->walls[i], sealed));
    }
    for (size_t i = 1; i < section->soil_count; i++) {
        if (section->soils[i].layer) {
            add_z(bag, section->soils[i].top_m);
        }
    }
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

/* Room for every coordinate that add_all() may add. */
static size_t most_stations(const us_section *section, size_t exit_count)
{
    return 16 + section->left_bed.count + section->right_bed.count + section->underside.count +
           section->base.count + 2 * section->wall_count + section->soil_count + exit_count;
}

us_status usi_stations_collect(us_context *context, const us_section *section,
                               const usi_reach *reach, bool sealed, usi_stations *stations)
{
    *stations = (usi_stations){0};
    usi_exit *exits = NULL;
    size_t exit_count = 0;
    us_status status = usi_exits_list(context, section, &exits, &exit_count);
    if (status != US_OK) {
        return status;
    }
    size_t most = most_stations(section, exit_count);
    stations->x_m = usi_memory_array(context, most, sizeof(double));
    stations->z_m = usi_memory_array(context, most, sizeof(double));
    if (stations->x_m == NULL || stations->z_m == NULL) {
        free(exits);
        usi_stations_free(stations);
        return US_ERROR_MEMORY;
    }
    double left_top_m = usi_line_highest(&section->left_bed, -HUGE_VAL, section->left_end_m);
    double right_top_m = usi_line_highest(&section->right_bed, section->right_end_m, HUGE_VAL);
    station_bag bag = {section, reach, fmax(left_top_m, right_top_m), stations};
    if (section->has_structure) {
        bag.top_m = fmax(bag.top_m, usi_line_highest(&section->underside, -HUGE_VAL, HUGE_VAL));
    }
    add_all(&bag, sealed);
    add_exits(&bag, exits, exit_count);
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
