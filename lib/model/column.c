#include "model/column.h"

#include <stdlib.h>

#include "base/memory.h"

/* Levels at which the soil may change, being gathered. */
typedef struct levels {
    double x_m;
    bool right;
    double floor_m;
    double surface_m;
    double tolerance_m;
    size_t count;
    double *list_m;
} levels;

static void add(levels *of, double level_m)
{
    if (level_m > of->floor_m + of->tolerance_m && level_m < of->surface_m - of->tolerance_m) {
        of->list_m[of->count++] = level_m;
    }
}

static void add_zone(levels *of, const usi_zone *zone)
{
    usi_point a = zone->outline[zone->count - 1];
    for (size_t i = 0; i < zone->count; i++) {
        usi_point b = zone->outline[i];
        bool passes = of->right ? (a.x_m <= of->x_m) != (b.x_m <= of->x_m)
                                : (a.x_m < of->x_m) != (b.x_m < of->x_m);
        if (passes) {
            add(of, a.z_m + (b.z_m - a.z_m) * ((of->x_m - a.x_m) / (b.x_m - a.x_m)));
        }
        a = b;
    }
}

static int from_above(const void *a, const void *b)
{
    double first = *(const double *)a;
    double second = *(const double *)b;
    return (first < second) - (first > second);
}

static void gather(const us_section *section, levels *of)
{
    for (size_t i = 1; i < section->soil_count; i++) {
        if (section->soils[i].layer) {
            add(of, usi_line_level(&section->soils[i].top, of->x_m, of->right));
        }
    }
    for (size_t i = 0; i < section->zone_count; i++) {
        add_zone(of, &section->zones[i]);
    }
    if (of->count > 1) {
        qsort(of->list_m, of->count, sizeof *of->list_m, from_above);
    }
}

/* Puts the piece between two levels below the others, or lengthens the last. */
static void append(const us_section *section, const levels *of, double bottom_m, usi_column *column)
{
    double top_m = column->count > 0 ? column->slices[column->count - 1].bottom_m : of->surface_m;
    if (top_m - bottom_m <= of->tolerance_m) {
        return;
    }
    usi_point middle = {of->x_m, 0.5 * (top_m + bottom_m)};
    size_t soil = usi_section_soil_at(section, middle, of->right, true);
    if (column->count > 0 && column->slices[column->count - 1].soil == soil) {
        column->slices[column->count - 1].bottom_m = bottom_m;
    } else {
        column->slices[column->count++] = (usi_slice){top_m, bottom_m, soil};
    }
}

us_status usi_column_open(us_context *context, const us_section *section, usi_column *column)
{
    size_t most = section->soil_count;
    for (size_t i = 0; i < section->zone_count; i++) {
        most += section->zones[i].count;
    }
    *column = (usi_column){0};
    column->levels_m = usi_memory_array(context, most, sizeof *column->levels_m);
    column->slices = usi_memory_array(context, most + 1, sizeof *column->slices);
    return column->levels_m != NULL && column->slices != NULL ? US_OK : US_ERROR_MEMORY;
}

void usi_column_close(usi_column *column)
{
    free(column->levels_m);
    free(column->slices);
    *column = (usi_column){0};
}

void usi_column_take(const us_section *section, double x_m, bool right, double floor_m,
                     usi_column *column)
{
    levels of = {.x_m = x_m,
                 .right = right,
                 .floor_m = section->has_base ? usi_section_base(section, x_m, right) : floor_m,
                 .surface_m = usi_section_surface(section, x_m, right),
                 .tolerance_m = usi_section_tolerance(section),
                 .list_m = column->levels_m};
    column->count = 0;
    gather(section, &of);
    for (size_t k = 0; k < of.count; k++) {
        append(section, &of, of.list_m[k], column);
    }
    append(section, &of, of.floor_m, column);
}
