#include "quantity/bed_runs.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/wedge.h"

static const double CURVE_COSINE = 0.93969262078590838; /* of 20 degrees */

static bool goes_on(const usi_edge_side *left, const usi_edge_side *right)
{
    if (left->unknowns[1] != right->unknowns[0] || left->soil != right->soil) {
        return false;
    }
    double dx = left->ends[1].x_m - left->ends[0].x_m;
    double dz = left->ends[1].z_m - left->ends[0].z_m;
    double next_dx = right->ends[1].x_m - right->ends[0].x_m;
    double next_dz = right->ends[1].z_m - right->ends[0].z_m;
    double lengths = usi_edge_length(left) * usi_edge_length(right);
    return dx * next_dx + dz * next_dz > CURVE_COSINE * lengths;
}

static bool coincide(usi_point a, usi_point b)
{
    return a.x_m == b.x_m && a.z_m == b.z_m;
}

/* What the soil has at an end of a run on its other side: more bed, upright or not, or
 * an upright face. False where it is but another soil. */
static bool find_other(const usi_bed *bed, const usi_bed_run *run, int end, usi_ray *other,
                       usi_wedge_side *kind)
{
    size_t side = end == 0 ? run->first : run->last - 1;
    bool last = end == 0 ? side == 0 : side + 1 == bed->sides.count;
    const usi_edge_side *here = &bed->sides.list[side];
    *other = (usi_ray){0.0, -1.0};
    *kind = USI_WEDGE_CLOSED;
    if (last) {
        return true;
    }
    const usi_edge_side *next = end == 0 ? here - 1 : here + 1;
    usi_point at = here->ends[end];
    usi_point there = next->ends[1 - end];
    if (there.x_m != at.x_m || here->soil != next->soil) {
        return false;
    }
    if (coincide(there, at)) {
        *other = (usi_ray){next->ends[end].x_m - at.x_m, next->ends[end].z_m - at.z_m};
    }
    *kind = here->unknowns[end] == next->unknowns[1 - end] || there.z_m != at.z_m
                ? USI_WEDGE_BED
                : USI_WEDGE_CLOSED;
    if (*kind == USI_WEDGE_CLOSED) {
        *other = (usi_ray){0.0, -1.0};
    }
    return there.z_m <= at.z_m;
}

/* Power of the gradient towards an end that is no exit. */
static double end_power(const usi_bed *bed, const usi_bed_run *run, int end)
{
    usi_ray other;
    usi_wedge_side kind;
    if (!find_other(bed, run, end, &other, &kind)) {
        return 0.0;
    }
    const usi_edge_side *side = &bed->sides.list[end == 0 ? run->first : run->last - 1];
    const usi_soil *soil = &bed->field->grid->section->soils[side->soil];
    usi_ray along = {side->ends[1 - end].x_m - side->ends[end].x_m,
                     side->ends[1 - end].z_m - side->ends[end].z_m};
    usi_wedge wedge = usi_wedge_between(along, other, end == 0, sqrt(soil->kv_m_s / soil->kh_m_s));
    wedge.side = kind;
    usi_growth growth = usi_wedge_growth(&wedge);
    return growth.kind == USI_GROWTH_POWER || growth.kind == USI_GROWTH_NONE ? growth.power : 0.0;
}

/* The exit at an end of a run, if there is one. */
static const usi_exit *find_exit(const usi_exit *exits, size_t count, usi_point at, int end,
                                 size_t *index)
{
    for (size_t e = 0; e < count; e++) {
        if (coincide(exits[e].at, at) &&
            exits[e].bed == (end == 0 ? USI_FACE_RIGHT : USI_FACE_LEFT)) {
            *index = e;
            return &exits[e];
        }
    }
    return NULL;
}

us_status usi_bed_split(us_context *context, const usi_exit *exits,
                        const usi_exit_reading *readings, size_t exit_count, usi_bed *bed)
{
    size_t count = bed->sides.count;
    bed->along_m = usi_memory_array(context, count, sizeof *bed->along_m);
    bed->runs = usi_memory_array(context, count, sizeof *bed->runs);
    if (bed->along_m == NULL || bed->runs == NULL) {
        return US_ERROR_MEMORY;
    }
    const usi_edge_side *sides = bed->sides.list;
    for (size_t k = 0; k < count; k++) {
        bool more = k > 0 && goes_on(&sides[k - 1], &sides[k]);
        if (!more) {
            bed->runs[bed->run_count++] = (usi_bed_run){.first = k};
        }
        bed->along_m[k] = more ? bed->along_m[k - 1] + usi_edge_length(&sides[k - 1]) : 0.0;
        bed->runs[bed->run_count - 1].last = k + 1;
    }
    for (size_t r = 0; r < bed->run_count; r++) {
        usi_bed_run *run = &bed->runs[r];
        for (int end = 0; end < 2; end++) {
            usi_point at = sides[end == 0 ? run->first : run->last - 1].ends[end];
            size_t e = 0;
            const usi_exit *exit = find_exit(exits, exit_count, at, end, &e);
            run->power[end] = end_power(bed, run, end);
            if (exit != NULL) {
                bool smooth =
                    exit->growth.kind == USI_GROWTH_FINITE || exit->growth.kind == USI_GROWTH_LOG;
                run->power[end] = smooth ? 0.0 : exit->growth.power;
            }
            run->skips[end] = run->power[end] != 0.0 || (exit != NULL && !readings[e].bounded);
        }
    }
    return US_OK;
}

/* What linear elements on a triangle let out at each corner, for heads one a corner. */
static void add_triangle(const usi_field *field, const usi_triangle *triangle, double *leaving)
{
    const usi_grid *grid = field->grid;
    const usi_soil *soil = &grid->section->soils[triangle->soil];
    usi_point at[3];
    double dx[3]; /* area times twice the slope of a corner's own function */
    double dz[3];
    double slope_x = 0.0;
    double slope_z = 0.0;
    for (int k = 0; k < 3; k++) {
        at[k] = usi_grid_place(grid, triangle->place[k]);
    }
    double twice = (at[1].x_m - at[0].x_m) * (at[2].z_m - at[0].z_m) -
                   (at[2].x_m - at[0].x_m) * (at[1].z_m - at[0].z_m);
    for (int k = 0; k < 3; k++) {
        dx[k] = at[(k + 1) % 3].z_m - at[(k + 2) % 3].z_m;
        dz[k] = at[(k + 2) % 3].x_m - at[(k + 1) % 3].x_m;
        slope_x += dx[k] * field->reduced[triangle->unknown[k]] / twice;
        slope_z += dz[k] * field->reduced[triangle->unknown[k]] / twice;
    }
    for (int k = 0; k < 3; k++) {
        leaving[triangle->unknown[k]] -=
            0.5 * (soil->kh_m_s * slope_x * dx[k] + soil->kv_m_s * slope_z * dz[k]);
    }
}

/* The same of a whole cell: two right triangles. */
static void add_cell(const usi_field *field, size_t i, size_t j, double *leaving)
{
    static const usi_corner ends[4][2] = {{USI_LOWER_LEFT, USI_LOWER_RIGHT},
                                          {USI_LOWER_RIGHT, USI_UPPER_RIGHT},
                                          {USI_UPPER_LEFT, USI_UPPER_RIGHT},
                                          {USI_LOWER_LEFT, USI_UPPER_LEFT}};
    const usi_grid *grid = field->grid;
    const usi_soil *soil = &grid->section->soils[usi_grid_soil(grid, (ptrdiff_t)i, (ptrdiff_t)j)];
    double shape = (grid->z_m[j + 1] - grid->z_m[j]) / (grid->x_m[i + 1] - grid->x_m[i]);
    for (int side = 0; side < 4; side++) {
        double half = 0.5 * (side % 2 == 0 ? soil->kh_m_s * shape : soil->kv_m_s / shape);
        int32_t a = usi_grid_unknown(grid, i, j, ends[side][0]);
        int32_t b = usi_grid_unknown(grid, i, j, ends[side][1]);
        double flow = half * (field->reduced[b] - field->reduced[a]);
        leaving[a] += flow;
        leaving[b] -= flow;
    }
}

us_status usi_bed_pass(us_context *context, usi_bed *bed)
{
    const usi_grid *grid = bed->field->grid;
    const usi_edge_side *sides = bed->sides.list;
    bool needed = false;
    for (size_t k = 0; k < bed->sides.count; k++) {
        needed = needed || !sides[k].whole;
    }
    if (!needed) {
        return US_OK;
    }
    double *leaving = usi_memory_array(context, grid->unknowns, sizeof *leaving);
    bed->passed = usi_memory_array(context, bed->sides.count, sizeof *bed->passed);
    if (leaving == NULL || bed->passed == NULL) {
        free(leaving);
        return US_ERROR_MEMORY;
    }
    for (size_t cell = 0; cell < grid->rows * grid->columns; cell++) {
        if (grid->soil[cell] >= 0) {
            add_cell(bed->field, cell % grid->columns, cell / grid->columns, leaving);
        }
    }
    for (size_t t = 0; t < grid->triangle_count; t++) {
        add_triangle(bed->field, &grid->triangles[t], leaving);
    }
    for (size_t r = 0; r < bed->run_count; r++) {
        for (size_t k = bed->runs[r].first + 1; k < bed->runs[r].last; k++) {
            bed->passed[k] = bed->passed[k - 1] + leaving[sides[k].unknowns[0]];
        }
    }
    free(leaving);
    return US_OK;
}
