/* Cells that sloping edges cut: every piece in one soil, nothing lost, nothing twice,
 * linear fields exact. */
#include <math.h>
#include <stdlib.h>

#include "grid/cut.h"
#include "grid/topology.h"
#include "solve/field.h"
#include "solve/links.h"
#include "support/support.h"

static const char TEXT[] = "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                           "walls: [{x: 5, top: 0, tip: -2}]\n"
                           "soils: [{name: a, kh: 3e-5, kv: 1e-5}, {name: b, top: -9, kh: 2e-6, "
                           "kv: 8e-6}]\n"
                           "water: [{upstream: 1, downstream: 0}]\n";

/* A box 10 by 10 whose bed falls, whose base rises, and where soil 1 is a wedge and a
 * lens. Vertices, then edges with the soil on the left and the right. */
static usi_point vertices[] = {
    {0, -10}, {0, -3.1},   {0, 0.7},   {3.2, -5.5}, {4.1, -4.2},
    {5, -2},  {6.3, -6.1}, {10, -8.3}, {10, -5},    {10, -1.9},
};
static usi_edge edges[] = {
    {0, 1, USI_EDGE_LEFT_SIDE, -1, 1, 0},  {1, 2, USI_EDGE_LEFT_SIDE, -1, 0, 0},
    {0, 7, USI_EDGE_BASE, 1, -1, 0},       {2, 9, USI_EDGE_RIGHT_BED, -1, 0, 0},
    {1, 8, USI_EDGE_INTERFACE, 0, 1, 0},   {7, 8, USI_EDGE_RIGHT_SIDE, 1, -1, 0},
    {8, 9, USI_EDGE_RIGHT_SIDE, 0, -1, 0},
};

static double *even_lines(size_t count, double low, double high, const double *more, size_t extra)
{
    double *lines = calloc(count + extra, sizeof *lines);
    for (size_t k = 0; k < count; k++) {
        /* Uneven, and nowhere on a vertex. */
        double t = ((double)k + 0.3 * sin(2.0 * (double)k)) / (double)(count - 1);
        lines[k] = k == 0 ? low : k + 1 == count ? high : low + (high - low) * t;
    }
    for (size_t k = 0; k < extra; k++) {
        lines[count + k] = more[k];
    }
    for (size_t a = 0; a < count + extra; a++) {
        for (size_t b = a + 1; b < count + extra; b++) {
            if (lines[b] < lines[a]) {
                double swap = lines[a];
                lines[a] = lines[b];
                lines[b] = swap;
            }
        }
    }
    return lines;
}

static usi_grid *make(us_context *context, const us_section *section, size_t n)
{
    static const double xs[] = {3.2, 4.1, 5.0, 6.3};
    static const double zs[] = {-8.3, -6.1, -5.5, -5.0, -4.2, -3.1, -2.0, -1.9};
    usi_plan plan = {.vertex_count = sizeof vertices / sizeof vertices[0],
                     .vertices = vertices,
                     .edge_count = sizeof edges / sizeof edges[0],
                     .edges = edges};
    usi_lines lines = {even_lines(n, 0.0, 10.0, xs, 4), n + 4, even_lines(n, -10.0, 0.7, zs, 8),
                       n + 8};
    usi_grid *grid = NULL;
    assert_int_equal(usi_topology_build(context, section, &plan, false, &lines, &grid), US_OK);
    return grid;
}

static double area(const usi_grid *grid, const usi_triangle *triangle)
{
    usi_point a = usi_grid_place(grid, triangle->place[0]);
    usi_point b = usi_grid_place(grid, triangle->place[1]);
    usi_point c = usi_grid_place(grid, triangle->place[2]);
    return 0.5 * ((b.x_m - a.x_m) * (c.z_m - a.z_m) - (c.x_m - a.x_m) * (b.z_m - a.z_m));
}

static us_section *read_section(us_context *context)
{
    us_section *section = NULL;
    assert_int_equal(us_section_read(context, TEXT, sizeof TEXT - 1, "test", &section), US_OK);
    return section;
}

/* Triangles of each soil have the area of the cut cells' share of it; all of them are
 * counter-clockwise. */
static void pieces_fill_their_cells(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = read_section(context);
    for (size_t n = 2; n < 40; n++) {
        usi_grid *grid = make(context, section, n);
        double cut = 0.0;
        double pieces = 0.0;
        double outside = 0.0;
        for (size_t cell = 0; cell < grid->rows * grid->columns; cell++) {
            size_t i = cell % grid->columns;
            size_t j = cell / grid->columns;
            if (grid->soil[cell] == USI_CELL_CUT) {
                cut += (grid->x_m[i + 1] - grid->x_m[i]) * (grid->z_m[j + 1] - grid->z_m[j]);
                size_t count;
                const usi_triangle *found = usi_grid_triangles(grid, cell, &count);
                for (size_t t = 0; t < count; t++) {
                    assert_true(area(grid, &found[t]) > 0.0);
                    pieces += area(grid, &found[t]);
                }
            } else if (grid->soil[cell] < 0) {
                outside += (grid->x_m[i + 1] - grid->x_m[i]) * (grid->z_m[j + 1] - grid->z_m[j]);
            }
        }
        /* Void above the bed and below the base: two triangles 10 wide. */
        double empty = 0.5 * 10.0 * (2.6 + 1.7);
        assert_true(grid->triangle_count > 0);
        assert_near(cut - pieces, empty - outside, 1e-9, 1e-9);
        usi_grid_free(grid);
    }
    us_section_free(section);
    us_context_free(context);
}

static usi_coefficient coefficient(const usi_soil *soil, double scale_m_s)
{
    return (usi_coefficient){soil->kh_m_s / scale_m_s, soil->kv_m_s / scale_m_s};
}

/* h = 2 x - 3 z + 1 at every unknown. */
static double linear(usi_point at)
{
    return 2.0 * at.x_m - 3.0 * at.z_m + 1.0;
}

static void fill_linear(const usi_grid *grid, double *values)
{
    for (size_t cell = 0; cell < grid->rows * grid->columns; cell++) {
        for (int c = 0; grid->soil[cell] >= 0 && c < 4; c++) {
            size_t i = cell % grid->columns;
            size_t j = cell / grid->columns;
            usi_point at = {grid->x_m[usi_grid_node_i(i, (usi_corner)c)],
                            grid->z_m[usi_grid_node_j(j, (usi_corner)c)]};
            values[usi_grid_unknown(grid, i, j, (usi_corner)c)] = linear(at);
        }
    }
    for (size_t t = 0; t < grid->triangle_count; t++) {
        for (int k = 0; k < 3; k++) {
            values[grid->triangles[t].unknown[k]] =
                linear(usi_grid_place(grid, grid->triangles[t].place[k]));
        }
    }
}

/* Linear elements hold the energy of a linear field exactly: k |grad h|^2 times the
 * area of each soil. */
static void linear_field_is_exact(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = read_section(context);
    for (size_t n = 2; n < 30; n += 3) {
        usi_grid *grid = make(context, section, n);
        double *values = calloc(grid->unknowns, sizeof *values);
        int32_t *places = calloc(grid->unknowns, sizeof *places);
        for (size_t u = 0; u < grid->unknowns; u++) {
            places[u] = (int32_t)u;
        }
        fill_linear(grid, values);
        usi_network network = {grid, 1e-5, coefficient, usi_grid_unknown, places, false};
        /* Soil 1: between the base, the interface and the sides. */
        double below = 10.0 * (0.5 * (-3.1 - 5.0) - 0.5 * (-10.0 - 8.3));
        double above = 10.0 * (0.5 * (0.7 - 1.9) - 0.5 * (-3.1 - 5.0));
        double expected = above * (3.0 * 4.0 + 1.0 * 9.0) + below * (0.2 * 4.0 + 0.8 * 9.0);
        assert_near(usi_links_energy(&network, values), expected, 1e-9, 0.0);
        free(values);
        free(places);
        usi_grid_free(grid);
    }
    us_section_free(section);
    us_context_free(context);
}

/* A strip 6 long and 2 wide, turned by any angle: uniform flow, exact in both
 * problems, as linear elements hold linear fields. One more line of either kind
 * crosses the other on its lower edge, but for `off` in level. */
static usi_grid *turned_strip(us_context *context, const us_section *section, double angle,
                              size_t n, double off)
{
    usi_point corners[4] = {{0, 0}, {6, 0}, {6, 2}, {0, 2}};
    static const usi_edge_kind kinds[4] = {USI_EDGE_BASE, USI_EDGE_RIGHT_BED, USI_EDGE_STRUCTURE,
                                           USI_EDGE_LEFT_BED};
    usi_edge sides[4];
    double xs[5] = {[4] = 2.3 * cos(angle)};
    double zs[5] = {[4] = 2.3 * sin(angle) + off};
    double low_x = HUGE_VAL;
    double high_x = -HUGE_VAL;
    double low_z = HUGE_VAL;
    double high_z = -HUGE_VAL;
    for (int k = 0; k < 4; k++) {
        usi_point c = corners[k];
        corners[k] = (usi_point){c.x_m * cos(angle) - c.z_m * sin(angle),
                                 c.x_m * sin(angle) + c.z_m * cos(angle)};
        xs[k] = corners[k].x_m;
        zs[k] = corners[k].z_m;
        low_x = fmin(low_x, xs[k]);
        high_x = fmax(high_x, xs[k]);
        low_z = fmin(low_z, zs[k]);
        high_z = fmax(high_z, zs[k]);
    }
    for (int k = 0; k < 4; k++) {
        int next = (k + 1) % 4;
        bool rightwards = xs[k] < xs[next];
        /* Soil lies on the left going round. */
        sides[k] = rightwards ? (usi_edge){k, next, kinds[k], 0, -1, 0}
                              : (usi_edge){next, k, kinds[k], -1, 0, 0};
    }
    double margin = 0.5;
    usi_plan plan = {.vertex_count = 4, .vertices = corners, .edge_count = 4, .edges = sides};
    usi_lines lines = {even_lines(n, low_x - margin, high_x + margin, xs, 5), n + 5,
                       even_lines(n + 3, low_z - margin, high_z + margin, zs, 5), n + 8};
    usi_grid *grid = NULL;
    assert_int_equal(usi_topology_build(context, section, &plan, false, &lines, &grid), US_OK);
    return grid;
}

static void check_strip(us_context *context, const us_section *section, double angle, size_t n,
                        double off, double allowed)
{
    usi_grid *grid = turned_strip(context, section, angle, n, off);
    usi_field *field = NULL;
    assert_int_equal(usi_field_solve(context, grid, &field), US_OK);
    double exact = 2e-5 * 2.0 / 6.0;
    assert_near(field->upper_m_s, exact, allowed, 0.0);
    assert_near(field->lower_m_s, exact, allowed, 0.0);
    for (size_t t = 0; t < grid->triangle_count; t++) {
        usi_point at = usi_grid_place(grid, grid->triangles[t].place[0]);
        double along = at.x_m * cos(angle) + at.z_m * sin(angle);
        double head = field->reduced[grid->triangles[t].unknown[0]];
        assert_near(head, 1.0 - along / 6.0, 0.0, allowed);
    }
    usi_field_free(field);
    usi_grid_free(grid);
}

static us_section *strip_section(us_context *context)
{
    static const char text[] = "bed: {upstream: 0, downstream: 0}\nbase: -10\n"
                               "walls: [{x: 500, top: 0, tip: -2}]\n"
                               "soils: [{kh: 2e-5, kv: 2e-5}]\n"
                               "water: [{upstream: 1, downstream: 0}]\n";
    us_section *section = NULL;
    assert_int_equal(us_section_read(context, text, sizeof text - 1, "test", &section), US_OK);
    return section;
}

static void uniform_flow_is_exact(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = strip_section(context);
    for (int k = 0; k < 60; k++) {
        check_strip(context, section, 0.0137 + k * 0.1047, 7 + (size_t)k % 17, 0.01, 1e-10);
    }
    us_section_free(section);
    us_context_free(context);
}

/* An edge that passes a node as closely as can be told: where it is taken to pass
 * through on one line and beside on the other, no piece of border may get lost. What is taken to
 * pass through moves by 1e-9 of a cell. */
static void near_nodes_nothing_is_lost(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = strip_section(context);
    for (int k = 0; k < 480; k++) {
        double off = pow(10.0, -11.5 + 0.0125 * (k / 2)) * (k % 2 == 0 ? 1.0 : -1.0);
        check_strip(context, section, 0.0137 + k * 0.1047, 7 + (size_t)k % 17, off, 1e-8);
    }
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_fill_their_cells),
        cmocka_unit_test(linear_field_is_exact),
        cmocka_unit_test(uniform_flow_is_exact),
        cmocka_unit_test(near_nodes_nothing_is_lost),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
