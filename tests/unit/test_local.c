/* Local solutions at hard points, and links that follow them. */
#include <math.h>
#include <stdio.h>

#include "grid/exponent.h"
#include "solve/field.h"
#include "solve/links.h"
#include "solve/scaling.h"
#include "support/support.h"

enum { TEXT_ROOM = 512 };

static usi_grid *grid_of(us_context *context, double tip_m, double kh, double below,
                         us_section **section)
{
    char text[TEXT_ROOM];
    snprintf(text, sizeof text,
             "bed: {upstream: 0, downstream: 0}\nbase: -12\n"
             "structure: {underside: [[-4, 0], [0, 0]]}\n"
             "walls: [{x: 0, top: 0, tip: %g}]\n"
             "soils: [{name: upper, kh: %g, kv: 1e-5}, {name: lower, top: -5, kh: %g, kv: %g}]\n"
             "water: [{upstream: 1, downstream: 0}]\n",
             tip_m, kh, 3.0 * below, below);
    assert_int_equal(us_section_read(context, text, strlen(text), "test", section), US_OK);
    usi_grid_options options = {.cells = 7.0};
    usi_grid *grid = NULL;
    assert_int_equal(usi_grid_build(context, *section, &options, &grid), US_OK);
    return grid;
}

/* Exponents against tan^2(lambda pi/2) = k_below/k_above, isotropic soils: both
 * stretched alike. */
static void exponent_follows_contrast(void **state)
{
    (void)state;
    static const double contrasts[] = {1e-9, 1e-6, 1e-3, 0.01, 0.1, 0.5};
    us_context *context = us_context_create();
    for (size_t k = 0; k < sizeof contrasts / sizeof contrasts[0]; k++) {
        us_section *section = NULL;
        usi_grid *grid = grid_of(context, -5.0, 3e-5, 1e-5 * contrasts[k], &section);
        size_t i = usi_grid_x_line(grid, 0.0);
        size_t j = usi_grid_z_line(grid, -5.0);
        double lambda = usi_exponent_at(grid, i, j, USI_LOWER_LEFT);
        assert_near(lambda, atan(sqrt(contrasts[k])) / acos(0.0), 1e-9, 0.0);
        assert_int_equal(grid->local_count, lambda < 0.4 ? 1 : 0);
        usi_grid_free(grid);
        us_section_free(section);
    }
    us_context_free(context);
}

static const usi_local *local_of(const usi_grid *grid)
{
    assert_int_equal(grid->local_count, 1);
    return &grid->locals[0];
}

/* Head and flow pass every ray continuously; the flow across a small square is
 * zero; flow follows Darcy's law. */
static void local_solution_solves(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = NULL;
    usi_grid *grid = grid_of(context, -5.0, 8e-5, 1e-7, &section);
    const usi_local *local = local_of(grid);
    for (int r = 0; r < 4; r++) {
        static const double rays[4][2] = {{0.0, 1.0}, {-1.0, 0.0}, {0.0, -1.0}, {1.0, 0.0}};
        usi_local_value here = usi_local_at(local, (usi_corner)r, rays[r][0], rays[r][1]);
        usi_local_value there =
            usi_local_at(local, (usi_corner)((r + 1) % 4), rays[r][0], rays[r][1]);
        if (r == 0) {
            /* The wall: no flow along it, and the head jumps. */
            assert_near(here.flux, 0.0, 0.0, 1e-18);
            assert_near(there.flux, 0.0, 0.0, 1e-18);
            assert_near(here.head, -there.head, 1e-9, 0.0);
            continue;
        }
        assert_near(here.head, there.head, 1e-9, 1e-12);
        assert_near(here.flux, there.flux, 1e-9, 1e-18);
    }
    static const double tiny = 1e-5;
    for (int r = 0; r < 4; r++) {
        double x = r == 0 || r == 3 ? 0.3 : -0.3;
        double z = r < 2 ? 0.2 : -0.2;
        const usi_soil *soil = &section->soils[r < 2 ? 0 : 1];
        usi_local_value at[4] = {usi_local_at(local, (usi_corner)r, x - tiny, z),
                                 usi_local_at(local, (usi_corner)r, x + tiny, z),
                                 usi_local_at(local, (usi_corner)r, x, z - tiny),
                                 usi_local_at(local, (usi_corner)r, x, z + tiny)};
        /* Flow across a line is the difference of `flux` between its ends. */
        double right = soil->kh_m_s * (at[1].head - at[0].head);
        double up = soil->kv_m_s * (at[3].head - at[2].head);
        assert_near(fabs(at[3].flux - at[2].flux), fabs(right), 1e-6, 0.0);
        assert_near(fabs(at[1].flux - at[0].flux), fabs(up), 1e-6, 0.0);
    }
    usi_grid_free(grid);
    us_section_free(section);
    us_context_free(context);
}

static usi_coefficient head_coefficient(const usi_soil *soil, double scale_m_s)
{
    return (usi_coefficient){soil->kh_m_s / scale_m_s, soil->kv_m_s / scale_m_s};
}

/* Flow out of node (i, j) when every unknown follows the local solution. */
static double residual(const usi_network *network, const usi_local *local, size_t node_i,
                       size_t node_j, double *size)
{
    const usi_grid *grid = network->grid;
    double sum = 0.0;
    *size = 0.0;
    for (int c = 0; c < 4; c++) {
        usi_cell cell = usi_grid_cell_at(node_i, node_j, (usi_corner)c);
        size_t i = (size_t)cell.i;
        size_t j = (size_t)cell.j;
        usi_corner ring = j >= local->node_j
                              ? (i >= local->node_i ? USI_LOWER_LEFT : USI_LOWER_RIGHT)
                              : (i >= local->node_i ? USI_UPPER_LEFT : USI_UPPER_RIGHT);
        for (int d = 0; d < 4; d++) {
            usi_corner ends[2];
            usi_links_corners((usi_direction)d, ends);
            if (ends[0] != (usi_corner)c && ends[1] != (usi_corner)c) {
                continue;
            }
            usi_corner other = ends[0] == (usi_corner)c ? ends[1] : ends[0];
            double x_m = grid->x_m[local->node_i];
            double z_m = grid->z_m[local->node_j];
            usi_local_value here =
                usi_local_at(local, ring, grid->x_m[node_i] - x_m, grid->z_m[node_j] - z_m);
            usi_local_value there =
                usi_local_at(local, ring, grid->x_m[usi_grid_node_i(i, other)] - x_m,
                             grid->z_m[usi_grid_node_j(j, other)] - z_m);
            double conductance = usi_links_half(network, i, j, (usi_direction)d) *
                                 usi_scaling_find(network, i, j, (usi_direction)d).ratio;
            sum += conductance * (here.head - there.head);
            *size += conductance * fabs(here.head - there.head);
        }
    }
    return sum;
}

/* With links scaled the local solution satisfies the scheme at every node well
 * within reach, on a grid that is graded and uneven up and down. */
static void scaled_links_are_exact(void **state)
{
    (void)state;
    us_context *context = us_context_create();
    us_section *section = NULL;
    usi_grid *grid = grid_of(context, -5.0, 8e-5, 1e-8, &section);
    const usi_local *local = local_of(grid);
    usi_network network = {grid, 1e-5, head_coefficient, usi_grid_unknown, NULL, false};
    size_t looked_at = 0;
    double plainest = 0.0;
    for (size_t j = 1; j < grid->rows; j++) {
        for (size_t i = 1; i < grid->columns; i++) {
            double reach_x = fmax(grid->x_m[i + 1], -grid->x_m[i - 1]);
            double reach_z = fmax(grid->z_m[j + 1] + 5.0, -grid->z_m[j - 1] - 5.0);
            bool on_wall = i == local->node_i && j > local->node_j;
            /* Not the links that leave the reach. */
            if (on_wall || hypot(reach_x, reach_z) > 0.6 * local->reach_m ||
                reach_x > local->across_m) {
                continue;
            }
            double size = 0.0;
            double left = residual(&network, local, i, j, &size);
            assert_near(left, 0.0, 0.0, 1e-9 * size + 1e-15);
            looked_at++;
            plainest = fmax(plainest, fabs(usi_scaling_find(&network, i, j, USI_LEFT).ratio - 1.0));
        }
    }
    assert_true(looked_at > 60);
    assert_true(plainest > 0.01);
    usi_grid_free(grid);
    us_section_free(section);
    us_context_free(context);
}

/* Thin cells of another wall beside a tip over tighter, layered soil: drops there are
 * small, not absent, and no link may be given up. */
static void thin_cells_keep_their_links(void **state)
{
    (void)state;
    static const char text[] =
        "bed: {upstream: 10, downstream: 10}\nbase: 0\n"
        "walls: [{x: 0, top: 10, tip: 9}, {x: 3, top: 8, tip: 5}]\n"
        "soils: [{name: a, kh: 1e-4, kv: 1e-4}, {name: b, top: 5, kh: 1e-5, kv: 1e-6}]\n"
        "water: [{upstream: 13, downstream: 11}]\n";
    us_context *context = us_context_create();
    us_section *section = NULL;
    assert_int_equal(us_section_read(context, text, sizeof text - 1, "test", &section), US_OK);
    usi_grid_options options = {.cells = 14.0};
    usi_grid *grid = NULL;
    usi_field *field = NULL;
    assert_int_equal(usi_grid_build(context, section, &options, &grid), US_OK);
    assert_int_equal(usi_field_solve(context, grid, &field), US_OK);
    assert_int_equal(grid->local_count, 1);
    assert_false(field->leaky);
    usi_field_free(field);
    usi_grid_free(grid);
    us_section_free(section);
    us_context_free(context);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(exponent_follows_contrast),
        cmocka_unit_test(local_solution_solves),
        cmocka_unit_test(scaled_links_are_exact),
        cmocka_unit_test(thin_cells_keep_their_links),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
