/* Columns of soil, prisms below the bed, points of tight layers, mean heads along a line. */
#include "support/support.h"

#include "model/column.h"
#include "model/prisms.h"
#include "model/tights.h"
#include "quantity/piezometer.h"
#include "quantity/prism.h"
#include "solve/field.h"

/* Slopes everywhere: bed, base, layer, lens, a second wall downstream. */
static const char SLOPES[] =
    "bed: {upstream: 1, downstream: [[2, 0], [6, -1], [9, -0.5]]}\n"
    "base: [[-5, -8], [3, -7], [12, -5]]\n"
    "structure: {underside: [[0, 0], [2, -0.5]]}\n"
    "walls: [{x: 0, top: 1, tip: -3}, {x: 2, top: -0.5, tip: -4}, {x: 7, top: 0, tip: -2}]\n"
    "soils:\n  - {name: silt, kh: 1e-6, kv: 1e-6, unit_weight: 18}\n"
    "  - {name: sand, top: [[0, -3], [10, -4.5]], kh: 1e-4, kv: 1e-4, unit_weight: 21}\n"
    "  - {name: lens, kh: 1e-5, kv: 1e-5, unit_weight: 20}\n"
    "zones: [{soil: lens, outline: [[3, -1], [5, -1.5], [5, -2.5], [3, -3.5]]}]\n"
    "water: [{upstream: 3, downstream: 0.5}]\n";

typedef struct bench {
    us_context *context;
    us_section *section;
    usi_exit *exits;
    size_t exit_count;
    usi_prism *prisms;
    size_t prism_count;
    usi_tight *tights;
    size_t tight_count;
} bench;

static bench read(const char *text)
{
    bench made = {.context = us_context_create()};
    made.section = support_read(made.context, text);
    assert_int_equal(usi_exits_list(made.context, made.section, &made.exits, &made.exit_count),
                     US_OK);
    assert_int_equal(usi_prisms_list(made.context, made.section, made.exits, made.exit_count,
                                     &made.prisms, &made.prism_count),
                     US_OK);
    assert_int_equal(usi_tights_list(made.context, made.section, made.exits, made.exit_count,
                                     &made.tights, &made.tight_count),
                     US_OK);
    return made;
}

static void release(bench *made)
{
    free(made->exits);
    free(made->prisms);
    free(made->tights);
    us_section_free(made->section);
    us_context_free(made->context);
}

static void a_column_is_cut_at_every_border(void **state)
{
    (void)state;
    bench made = read(SLOPES);
    /* At x = 4: bed -0.5, lens from -1.25 to -3, sand from -3.6, base -7 + 2 / 9. */
    static const double bottoms[] = {-1.25, -3.0, -3.6, -7.0 + 2.0 / 9.0};
    static const size_t soils[] = {0, 2, 0, 1};
    usi_column column;
    assert_int_equal(usi_column_open(made.context, made.section, &column), US_OK);
    usi_column_take(made.section, 4.0, true, 0.0, &column);
    assert_int_equal(column.count, 4);
    double top_m = -0.5;
    for (size_t k = 0; k < 4; k++) {
        assert_near(column.slices[k].top_m, top_m, 1e-12, 0.0);
        assert_near(column.slices[k].bottom_m, bottoms[k], 1e-12, 0.0);
        assert_int_equal(column.slices[k].soil, soils[k]);
        top_m = bottoms[k];
    }
    /* The lens ends at x = 5: it is there on the left side alone. */
    for (int right = 0; right < 2; right++) {
        usi_column_take(made.section, 5.0, right, 0.0, &column);
        assert_int_equal(column.count, right ? 2 : 4);
    }
    usi_column_close(&column);
    release(&made);
}

static void prisms_stay_in_their_soil(void **state)
{
    (void)state;
    bench made = read(SLOPES);
    const us_section *section = made.section;
    assert_true(made.prism_count > 100);
    assert_int_equal(made.prisms[0].kind, USI_PRISM_TOE);
    assert_near(made.prisms[0].depth_m, 4.0, 1e-12, 0.0);
    assert_near(made.prisms[0].to_m, 4.0, 1e-12, 0.0);
    for (size_t k = 0; k < made.prism_count; k++) {
        const usi_prism *prism = &made.prisms[k];
        double width_m = prism->to_m - prism->from_m;
        assert_true(prism->from_m >= 2.0 && width_m > 0.0);
        /* Raised off the base it is wider than half of what is left. */
        assert_true(width_m <= 0.5 * prism->depth_m + 1.0);
        assert_true(prism->level_m >=
                    usi_line_highest(&section->base, prism->from_m, prism->to_m) - 1e-9);
        assert_true(prism->level_m <
                    usi_line_lowest(&section->right_bed, prism->from_m, prism->to_m));
        bool deep = prism->level_m < 0.0;
        assert_true(!deep || prism->to_m <= 7.0 + 1e-9 || prism->from_m >= 7.0 - 1e-9 ||
                    prism->level_m >= 0.0);
    }
    release(&made);
}

/* By many thin strips. */
static void prisms_weigh_what_they_hold(void **state)
{
    (void)state;
    enum { STRIPS = 4000 };
    bench made = read(SLOPES);
    usi_column column;
    assert_int_equal(usi_column_open(made.context, made.section, &column), US_OK);
    for (size_t k = 0; k < made.prism_count; k += 7) {
        const usi_prism *prism = &made.prisms[k];
        double step_m = (prism->to_m - prism->from_m) / STRIPS;
        double weight_n_m = 0.0;
        for (int i = 0; i < STRIPS; i++) {
            double x_m = prism->from_m + (i + 0.5) * step_m;
            usi_column_take(made.section, x_m, true, 0.0, &column);
            for (size_t s = 0; s < column.count; s++) {
                double bottom_m = fmax(column.slices[s].bottom_m, prism->level_m);
                double height_m = fmax(column.slices[s].top_m - bottom_m, 0.0);
                weight_n_m +=
                    step_m * height_m * made.section->soils[column.slices[s].soil].unit_weight_n_m3;
            }
        }
        assert_int_equal(prism->unweighed, -1);
        assert_near(prism->weight_n_m, weight_n_m, 2e-5, 0.0);
    }
    usi_column_close(&column);
    release(&made);
}

static void tight_points_lie_on_borders(void **state)
{
    (void)state;
    bench made = read(SLOPES);
    assert_true(made.tight_count > 10);
    for (size_t k = 0; k < made.tight_count; k++) {
        const usi_tight *tight = &made.tights[k];
        bool right = tight->side == USI_FACE_RIGHT;
        usi_point at = {tight->x_m, tight->level_m};
        size_t below = usi_section_soil_at(made.section, at, right, false);
        assert_int_equal(tight->lower, below);
        assert_true(made.section->soils[below].kv_m_s >=
                    10.0 * made.section->soils[tight->upper].kv_m_s);
        assert_true(tight->x_m >= 2.0);
        assert_near(tight->bed_m, usi_section_surface(made.section, tight->x_m, right), 1e-12, 0.0);
    }
    release(&made);
}

/* Against heads at many points of the line, across whole and cut cells. */
static void a_mean_is_that_of_its_points(void **state)
{
    (void)state;
    enum { POINTS = 20000 };
    bench made = read(SLOPES);
    usi_grid_options options = {.cells = 7.0, .halvings = 1};
    usi_grid *grid = NULL;
    usi_field *field = NULL;
    assert_int_equal(usi_grid_build(made.context, made.section, &options, &grid), US_OK);
    assert_int_equal(usi_field_solve(made.context, grid, &field), US_OK);
    size_t cut = 0;
    for (size_t k = 0; k < made.prism_count; k += 5) {
        const usi_prism *prism = &made.prisms[k];
        usi_prism_reading reading = usi_prism_read(field, prism);
        assert_true(reading.mean.present && reading.corner.present);
        double sum = 0.0;
        for (int i = 0; i < POINTS; i++) {
            double share = (i + 0.5) / POINTS;
            usi_point at = {prism->from_m + share * (prism->to_m - prism->from_m), prism->level_m};
            usi_reduced head = usi_head_at(field, at, USI_FACE_NONE);
            assert_true(head.present);
            sum += head.value / POINTS;
        }
        assert_near(reading.mean.value, sum, 0.0, 2e-4);
        size_t row = usi_grid_row(grid, prism->level_m);
        for (size_t i = 0; i < grid->columns; i++) {
            cut += grid->soil[row * grid->columns + i] == USI_CELL_CUT ? 1 : 0;
        }
    }
    assert_true(cut > 0);
    assert_false(usi_head_mean(field, 3.0, 1e6, -3.0).present);
    assert_false(usi_head_mean(field, 3.0, 4.0, 3.0).present);
    usi_field_free(field);
    usi_grid_free(grid);
    release(&made);
}

static void no_bed_no_prisms(void **state)
{
    (void)state;
    bench made = read("bed: {upstream: 1, downstream: 0}\nbase: -5\n"
                      "structure: {underside: [[0, 0], [4, 0]]}\n"
                      "walls: [{x: 0, top: 1, tip: -2}]\n"
                      "sides: {right: {x: 4, kind: fixed_head}}\n"
                      "soils: [{kh: 1e-5, kv: 1e-5}]\nwater: [{upstream: 2, downstream: 1}]\n");
    assert_int_equal(made.prism_count, 0);
    assert_int_equal(made.tight_count, 0);
    release(&made);
}

static void soil_without_end_has_prisms_too(void **state)
{
    (void)state;
    bench made = read("bed: {upstream: 0, downstream: 0}\nbase: none\n"
                      "walls: [{x: 0, top: 1, tip: -2}]\n"
                      "soils: [{kh: 1e-5, kv: 1e-5, unit_weight: 20}]\n"
                      "water: [{upstream: 2, downstream: 1}]\n");
    double deepest_m = 0.0;
    for (size_t k = 0; k < made.prism_count; k++) {
        deepest_m = fmax(deepest_m, made.prisms[k].depth_m);
        double width_m = made.prisms[k].to_m - made.prisms[k].from_m;
        assert_near(width_m, 0.5 * made.prisms[k].depth_m, 1e-12, 0.0);
        assert_near(made.prisms[k].weight_n_m, 20000.0 * width_m * made.prisms[k].depth_m, 1e-9,
                    0.0);
    }
    assert_near(deepest_m, 8.0, 1e-12, 0.0);
    release(&made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_column_is_cut_at_every_border),
        cmocka_unit_test(prisms_stay_in_their_soil),
        cmocka_unit_test(prisms_weigh_what_they_hold),
        cmocka_unit_test(tight_points_lie_on_borders),
        cmocka_unit_test(a_mean_is_that_of_its_points),
        cmocka_unit_test(no_bed_no_prisms),
        cmocka_unit_test(soil_without_end_has_prisms_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
