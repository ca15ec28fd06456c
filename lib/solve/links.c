#include "solve/links.h"

#include <stdlib.h>

#include "base/memory.h"
#include "solve/scaling.h"

void usi_links_corners(usi_direction direction, usi_corner corners[2])
{
    static const usi_corner sides[4][2] = {
        [USI_DOWN] = {USI_LOWER_LEFT, USI_LOWER_RIGHT},
        [USI_RIGHT] = {USI_LOWER_RIGHT, USI_UPPER_RIGHT},
        [USI_UP] = {USI_UPPER_LEFT, USI_UPPER_RIGHT},
        [USI_LEFT] = {USI_LOWER_LEFT, USI_UPPER_LEFT},
    };
    corners[0] = sides[direction][0];
    corners[1] = sides[direction][1];
}

int32_t usi_links_node(const usi_grid *grid, size_t i, size_t j, usi_corner corner)
{
    size_t row = usi_grid_node_j(j, corner) * (grid->columns + 1);
    return (int32_t)(row + usi_grid_node_i(i, corner));
}

/* Halves of a level and of an upright side. */
typedef struct halves {
    double level;
    double upright;
} halves;

static halves halves_of(const usi_network *network, size_t i, size_t j)
{
    const usi_grid *grid = network->grid;
    const usi_soil *soil = &grid->section->soils[grid->soil[j * grid->columns + i]];
    usi_coefficient coefficient = network->coefficient(soil, network->scale_m_s);
    double dx_m = grid->x_m[i + 1] - grid->x_m[i];
    double dz_m = grid->z_m[j + 1] - grid->z_m[j];
    return (halves){0.5 * coefficient.along * dz_m / dx_m, 0.5 * coefficient.up * dx_m / dz_m};
}

static bool is_level(usi_direction direction)
{
    return direction == USI_DOWN || direction == USI_UP;
}

double usi_links_half(const usi_network *network, size_t i, size_t j, usi_direction direction)
{
    halves half = halves_of(network, i, j);
    return is_level(direction) ? half.level : half.upright;
}

/* The places at the corners of a soil cell. */
static void corner_places(const usi_network *network, size_t i, size_t j, int32_t places[4])
{
    for (int c = 0; c < 4; c++) {
        places[c] = network->places[network->index(network->grid, i, j, (usi_corner)c)];
    }
}

/* Links that cells met before have made, SIZE_MAX for none: a side that two cells share is one
 * link. */
typedef struct made {
    size_t beside; /* the upright side between this cell and the one before */
    size_t *below; /* of each column, the level side last met */
} made;

/* Adds to the link that is there, or makes it. Whatever that one was made for, links side by
 * side between the same places add up. */
static void put_half(usi_problem *problem, int32_t a, int32_t b, double conductance, size_t *link)
{
    if (*link < problem->link_count && problem->links[*link].a == a &&
        problem->links[*link].b == b) {
        problem->links[*link].conductance += conductance;
        return;
    }
    size_t count = problem->link_count;
    usi_problem_link(problem, a, b, conductance);
    *link = problem->link_count > count ? count : SIZE_MAX;
}

static void link_cell(const usi_network *network, size_t cell, made *before, usi_problem *problem)
{
    /* Sides that are shared with cells met before come first. */
    static const usi_direction sides[4] = {USI_DOWN, USI_LEFT, USI_UP, USI_RIGHT};
    size_t i = cell % network->grid->columns;
    size_t j = cell / network->grid->columns;
    halves half = halves_of(network, i, j);
    int32_t places[4];
    corner_places(network, i, j, places);
    for (int k = 0; k < 4; k++) {
        usi_corner corners[2];
        usi_links_corners(sides[k], corners);
        int32_t a = places[corners[0]];
        int32_t b = places[corners[1]];
        double conductance = is_level(sides[k]) ? half.level : half.upright;
        if (network->grid->local_count > 0 && a != b) {
            usi_scaling scaling = usi_scaling_find(network, i, j, sides[k]);
            conductance *= scaling.ratio;
            problem->leaky = problem->leaky || !scaling.exact;
        }
        size_t *link = is_level(sides[k]) ? &before->below[i] : &before->beside;
        put_half(problem, a, b, conductance, link);
    }
    for (int c = 0; c < 4; c++) {
        usi_problem_touch(problem, places[c], i, j);
    }
}

size_t usi_links_count(const usi_grid *grid)
{
    return 4 * grid->rows * grid->columns + 3 * grid->triangle_count;
}

int32_t usi_links_corner(const usi_network *network, const usi_triangle *triangle, int corner)
{
    return network->stream ? triangle->place[corner] : triangle->unknown[corner];
}

/* Conductances of the sides of a triangle, from corner k to the next: those of
 * obtuse ones are negative opposite their largest angle. */
static void triangle_conductances(const usi_network *network, const usi_triangle *triangle,
                                  double conductance[3])
{
    const usi_grid *grid = network->grid;
    usi_coefficient of =
        network->coefficient(&grid->section->soils[triangle->soil], network->scale_m_s);
    usi_point at[3];
    for (int k = 0; k < 3; k++) {
        at[k] = usi_grid_place(grid, triangle->place[k]);
    }
    double twice = (at[1].x_m - at[0].x_m) * (at[2].z_m - at[0].z_m) -
                   (at[2].x_m - at[0].x_m) * (at[1].z_m - at[0].z_m);
    for (int k = 0; k < 3; k++) {
        usi_point a = at[k];
        usi_point b = at[(k + 1) % 3];
        usi_point c = at[(k + 2) % 3];
        double along = (b.z_m - c.z_m) * (c.z_m - a.z_m);
        double up = (c.x_m - b.x_m) * (a.x_m - c.x_m);
        conductance[k] = -(of.along * along + of.up * up) / (2.0 * twice);
    }
}

static void link_triangle(const usi_network *network, const usi_triangle *triangle,
                          usi_problem *problem)
{
    double conductance[3];
    triangle_conductances(network, triangle, conductance);
    for (int k = 0; k < 3; k++) {
        usi_problem_link(problem, network->places[usi_links_corner(network, triangle, k)],
                         network->places[usi_links_corner(network, triangle, (k + 1) % 3)],
                         conductance[k]);
        usi_problem_touch(problem, network->places[usi_links_corner(network, triangle, k)],
                          triangle->cell % network->grid->columns,
                          triangle->cell / network->grid->columns);
    }
}

us_status usi_links_add(us_context *context, const usi_network *network, usi_problem *problem)
{
    const usi_grid *grid = network->grid;
    made before = {SIZE_MAX, usi_memory_array(context, grid->columns, sizeof *before.below)};
    if (before.below == NULL) {
        return US_ERROR_MEMORY;
    }
    problem->placed = true;
    for (size_t t = 0; t < grid->triangle_count; t++) {
        link_triangle(network, &grid->triangles[t], problem);
    }
    for (size_t i = 0; i < grid->columns; i++) {
        before.below[i] = SIZE_MAX;
    }
    for (size_t cell = 0; cell < grid->rows * grid->columns; cell++) {
        if (grid->soil[cell] >= 0) {
            link_cell(network, cell, &before, problem);
        }
    }
    free(before.below);
    return US_OK;
}

/* Two fields on the same places. */
typedef struct field_pair {
    const double *one;
    const double *other;
} field_pair;

static double drop_product(field_pair fields, int32_t a, int32_t b)
{
    double one = usi_problem_value(fields.one, a) - usi_problem_value(fields.one, b);
    return one * (usi_problem_value(fields.other, a) - usi_problem_value(fields.other, b));
}

static double cell_product(const usi_network *network, size_t i, size_t j, field_pair fields)
{
    halves half = halves_of(network, i, j);
    int32_t places[4];
    double sum = 0.0;
    corner_places(network, i, j, places);
    for (int d = 0; d < 4; d++) {
        usi_corner corners[2];
        usi_links_corners((usi_direction)d, corners);
        double drops = drop_product(fields, places[corners[0]], places[corners[1]]);
        sum += (is_level((usi_direction)d) ? half.level : half.upright) * drops;
    }
    return sum;
}

static double triangle_product(const usi_network *network, const usi_triangle *triangle,
                               field_pair fields)
{
    double conductance[3];
    double sum = 0.0;
    triangle_conductances(network, triangle, conductance);
    for (int k = 0; k < 3; k++) {
        int32_t a = network->places[usi_links_corner(network, triangle, k)];
        int32_t b = network->places[usi_links_corner(network, triangle, (k + 1) % 3)];
        sum += conductance[k] * drop_product(fields, a, b);
    }
    return sum;
}

double usi_links_product(const usi_network *network, const double *one, const double *other)
{
    const usi_grid *grid = network->grid;
    field_pair fields = {one, other};
    double sum = 0.0;
    for (size_t t = 0; t < grid->triangle_count; t++) {
        sum += triangle_product(network, &grid->triangles[t], fields);
    }
    for (size_t cell = 0; cell < grid->rows * grid->columns; cell++) {
        if (grid->soil[cell] >= 0) {
            sum += cell_product(network, cell % grid->columns, cell / grid->columns, fields);
        }
    }
    return sum;
}

double usi_links_energy(const usi_network *network, const double *values)
{
    return usi_links_product(network, values, values);
}
