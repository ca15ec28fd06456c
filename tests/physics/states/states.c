/* States of the walls from one factorisation, each held against the same state solved afresh on
 * the same grid. Arguments: how many states, and which one to begin with. */
#include "states/afresh.h"
#include "states/scenes.h"

#include "quantity/bed_profile.h"
#include "study/reading.h"
#include "study/view.h"

static const double SAME = 1e-9;
static int strips = 0;
static double worst = 0.0; /* difference over what it may be a share of */

/* `scale` is what a value that may vanish is a share of. */
static void compare(const char *what, double one, double other, double scale)
{
    double size = fmax(fabs(other), scale);
    double apart = one == other ? 0.0 : fabs(one - other) / size;
    worst = fmax(worst, apart);
    if (!(apart <= SAME)) {
        fprintf(stderr, "%s: %.15g is not %.15g (%.2e)\n", what, one, other, apart);
        fail();
    }
}

static void compare_fields(const usi_field *one, const usi_field *other)
{
    compare("flow", one->flow_m_s, other->flow_m_s, 0.0);
    compare("upper", one->upper_m_s, other->upper_m_s, 0.0);
    compare("lower", one->lower_m_s, other->lower_m_s, 0.0);
    compare("unit", one->stream_unit_m_s, other->stream_unit_m_s, 0.0);
    assert_int_equal(one->certified, other->certified);
    assert_int_equal(one->outflow_count, other->outflow_count);
    for (size_t k = 0; k < one->outflow_count; k++) {
        compare("outflow", one->outflows[k].value_m_s, other->outflows[k].value_m_s, one->flow_m_s);
        compare("outflow, lower", one->outflows[k].lower_m_s, other->outflows[k].lower_m_s,
                one->flow_m_s);
        compare("outflow, upper", one->outflows[k].upper_m_s, other->outflows[k].upper_m_s,
                one->flow_m_s);
        compare("face", one->outflows[k].face, other->outflows[k].face, 1.0);
    }
    const usi_grid *grid = one->grid;
    for (size_t cell = 0; cell < grid->rows * grid->columns; cell++) {
        size_t i = cell % grid->columns;
        size_t j = cell / grid->columns;
        for (int c = 0; grid->soil[cell] >= 0 && c < 4; c++) {
            compare("head", usi_field_head(one, i, j, (usi_corner)c),
                    usi_field_head(other, i, j, (usi_corner)c), 1.0);
        }
    }
    for (size_t t = 0; t < grid->triangle_count; t++) {
        for (int c = 0; c < 3; c++) {
            compare("head in a triangle", one->reduced[grid->triangles[t].unknown[c]],
                    other->reduced[other->grid->triangles[t].unknown[c]], 1.0);
        }
    }
    assert_true((one->stream != NULL) == (other->stream != NULL));
    for (size_t n = 0; one->stream != NULL && n < usi_grid_place_count(grid); n++) {
        compare("stream", one->stream[n], other->stream[n], 1.0);
    }
}

static void compare_exits(us_context *context, const usi_field *one, const usi_field *other)
{
    usi_exit *exits = NULL;
    size_t count = 0;
    assert_int_equal(usi_exits_list(context, one->grid->section, &exits, &count), US_OK);
    for (size_t e = 0; e < count; e++) {
        usi_exit_reading a = usi_exit_read(one, &exits[e]);
        usi_exit_reading b = usi_exit_read(other, &exits[e]);
        assert_int_equal(a.bounded, b.bounded);
        compare("exit gradient", a.gradient_1_m, b.gradient_1_m, 1e-3);
        compare("its second", a.second_1_m, b.second_1_m, 1e-3);
        compare("its mean", a.mean_1_m, b.mean_1_m, 1e-3);
    }
    free(exits);
}

static void compare_uplift(us_context *context, const usi_field *one, const usi_field *other)
{
    const us_section *section = one->grid->section;
    usi_underside a;
    usi_underside b;
    usi_datum datum = usi_datum_of(section, 0);
    assert_int_equal(usi_underside_read(context, one, &a), US_OK);
    assert_int_equal(usi_underside_read(context, other, &b), US_OK);
    for (size_t p = 0; p <= usi_uplift_panel_count(section); p++) {
        usi_stretch over = p == 0 ? usi_uplift_whole(section) : usi_uplift_panel(section, p - 1);
        usi_uplift_reading x = usi_uplift_read(&a, over, datum);
        usi_uplift_reading y = usi_uplift_read(&b, over, datum);
        compare("uplift", x.force_n_m, y.force_n_m, 1.0);
        compare("its moment", x.moment_n, y.moment_n, 1.0);
    }
    usi_underside_free(&a);
    usi_underside_free(&b);
}

static void compare_rest(us_context *context, const usi_field *one, const usi_field *other)
{
    const us_section *section = one->grid->section;
    usi_exit *exits = NULL;
    usi_prism *prisms = NULL;
    size_t exit_count = 0;
    size_t count = 0;
    for (size_t p = 0; p < section->piezometer_count; p++) {
        const usi_piezometer *at = &section->piezometers[p];
        compare("piezometer", usi_head_at(one, at->at, at->side).value,
                usi_head_at(other, at->at, at->side).value, 1.0);
    }
    for (size_t w = 0; w < section->wall_count; w++) {
        usi_wall_reading a = usi_wall_read(one, &section->walls[w]);
        usi_wall_reading b = usi_wall_read(other, &section->walls[w]);
        compare("left face", a.left_face_top.value, b.left_face_top.value, 1.0);
        compare("right face", a.right_face_top.value, b.right_face_top.value, 1.0);
        compare("tip", a.tip.value, b.tip.value, 1.0);
    }
    assert_int_equal(usi_exits_list(context, section, &exits, &exit_count), US_OK);
    assert_int_equal(usi_prisms_list(context, section, exits, exit_count, &prisms, &count), US_OK);
    for (size_t k = 0; k < count; k++) {
        usi_prism_reading a = usi_prism_read(one, &prisms[k]);
        usi_prism_reading b = usi_prism_read(other, &prisms[k]);
        compare("prism", a.mean.value, b.mean.value, 1.0);
        compare("its corner", a.corner.value, b.corner.value, 1.0);
    }
    free(exits);
    free(prisms);
}

/* Tips somewhere, and now and then slots, leaky stretches and a leaky wall. */
static void draw_state(scene_random *random, const us_section *section,
                       const usi_segments *segments, double *pass_m_s)
{
    double tip_m[2];
    bool leaky = scene_pick(random, 4) == 0;
    bool holes = scene_pick(random, 3) == 0;
    for (size_t w = 0; w < 2; w++) {
        tip_m[w] = scene_between(random, section->walls[w].tip_m, -1.3);
    }
    for (size_t k = 0; k < segments->count; k++) {
        const usi_segment *of = &segments->list[k];
        double middle_m = 0.5 * (of->low_m + of->high_m);
        pass_m_s[k] = 0.0;
        if (middle_m < tip_m[of->wall]) {
            pass_m_s[k] = HUGE_VAL;
        } else if (leaky && middle_m < -1.4) {
            pass_m_s[k] = (of->high_m - of->low_m) * pow(10.0, scene_between(random, -9.0, -4.0));
        } else if (holes && middle_m < -1.4 && scene_pick(random, 5) == 0) {
            pass_m_s[k] = HUGE_VAL;
        }
    }
    /* Pieces that share a row of cells are open or not as one. */
    for (size_t k = 1; k < segments->count; k++) {
        if (segments->list[k].wall == segments->list[k - 1].wall &&
            segments->list[k].row == segments->list[k - 1].row) {
            pass_m_s[k] = isfinite(pass_m_s[k]) && isfinite(pass_m_s[k - 1]) ? 0.0 : HUGE_VAL;
            pass_m_s[k - 1] = pass_m_s[k];
        }
    }
}

/* Where the whole strip is wall, now and then lets it act, closed wall next to it; says
 * whether. */
static bool draw_strip(scene_random *random, const usi_segments *segments,
                       const usi_wall_span *spans, double *pass_m_s)
{
    bool acts = scene_pick(random, 3) > 0;
    size_t first = segments->count;
    size_t end = 0;
    for (size_t k = 0; k < segments->count; k++) {
        if (spans[segments->list[k].span].strip) {
            first = k < first ? k : first;
            end = k + 1;
        }
    }
    acts = acts && first > 0 && first < end && end < segments->count && isfinite(pass_m_s[first]);
    for (size_t k = first; acts && k < end; k++) {
        pass_m_s[k] = -1.0;
    }
    if (acts) {
        pass_m_s[first - 1] = 0.0;
        pass_m_s[end] = 0.0;
    }
    return acts;
}

/* The section of a grid with a strip in the toe wall, from `walls` and `panes`. */
static void add_strip(const usi_wall_span *span, const us_section *from, usi_wall walls[2],
                      usi_pane panes[4], us_section *to)
{
    *to = *from;
    memcpy(walls, from->walls, 2 * sizeof *walls);
    usi_wall *wall = &walls[1];
    size_t count = wall->cap_void ? 1 : 0;
    if (count > 0) {
        panes[0] = wall->panes[0];
    }
    panes[count++] = (usi_pane){USI_PANE_TIGHT, span->high_m, wall->top_m, 0.0, false};
    panes[count++] = (usi_pane){USI_PANE_STRIP, span->low_m, span->high_m, span->series_s_m, false};
    panes[count++] = (usi_pane){USI_PANE_TIGHT, wall->solved_tip_m, span->low_m, 0.0, false};
    wall->panes = panes;
    wall->pane_count = count;
    to->walls = walls;
}

/* `strip`: one that acts, or NULL. */
static void compare_state(us_context *context, usi_engine *engine, const usi_grid *grid,
                          const double *pass_m_s, const usi_wall_span *strip)
{
    const usi_segments *segments = usi_engine_segments(engine);
    us_section with = *grid->section;
    usi_wall walls[2];
    usi_pane panes[4];
    if (strip != NULL) {
        add_strip(strip, grid->section, walls, panes, &with);
    }
    usi_grid lines = *grid;
    lines.section = &with;
    usi_grid *tight = afresh_grid(context, &lines, segments, pass_m_s, true);
    usi_grid *loose = afresh_grid(context, &lines, segments, pass_m_s, false);
    usi_field *afresh = NULL;
    usi_wall_state *found = NULL;
    assert_int_equal(afresh_solve(context, tight, loose, segments, pass_m_s, &afresh), US_OK);
    assert_int_equal(usi_engine_state(context, engine, grid->section, pass_m_s, &found), US_OK);
    compare_fields(found->field, afresh);
    compare_exits(context, found->field, afresh);
    compare_uplift(context, found->field, afresh);
    compare_rest(context, found->field, afresh);
    usi_wall_state_free(found);
    usi_field_free(afresh);
    usi_grid_free(tight);
    usi_grid_free(loose);
}

/* The crest wall's own panes stand where it leaks; then the toe wall has a strip. */
static size_t lay_spans(scene_random *random, scene_kind kind, const usi_grid *grid,
                        usi_wall_span spans[3])
{
    if (!kind.leaks) {
        spans[0] = (usi_wall_span){.wall = 0, .low_m = -20.0, .high_m = 5.0};
        spans[1] = (usi_wall_span){.wall = 1, .low_m = -20.0, .high_m = 5.0};
        return 2;
    }
    double top_m = grid->section->walls[1].top_m;
    size_t row = usi_grid_z_line(grid, scene_between(random, -2.8, -1.8));
    size_t end = row + 1 + (size_t)scene_pick(random, 3);
    double kh_m_s = grid->section->soils[0].kh_m_s;
    double series_s_m = scene_pick(random, 3) == 0 ? 0.0 : scene_between(random, 0.1, 9.0) / kh_m_s;
    spans[0] = (usi_wall_span){.wall = 1, .low_m = -20.0, .high_m = grid->z_m[row]};
    spans[1] = (usi_wall_span){1, grid->z_m[row], grid->z_m[end], true, series_s_m};
    spans[2] = (usi_wall_span){.wall = 1, .low_m = grid->z_m[end], .high_m = top_m};
    return 3;
}

enum { STATES_A_SECTION = 6, KINDS = 6 };

static void try_section(scene_random *random, int number)
{
    char text[SCENE_ROOM];
    scene_kind kind = {.slopes = number % 3 == 1,
                       .drains = number % 3 == 2,
                       .dry = number % 6 == 1,
                       .leaks = number % KINDS >= KINDS / 2};
    us_context *context = us_context_create();
    scene_write(random, kind, text);
    us_section *section = support_read(context, text);
    usi_view view;
    assert_int_equal(usi_view_make(context, section, 0, USI_VARIANT_NONE, 0.01, &view), US_OK);
    assert_true(view.situation != NULL || !kind.drains);
    usi_grid_options options = {.cells = 4.0};
    usi_grid *grid = NULL;
    usi_engine *engine = NULL;
    usi_wall_span spans[3];
    assert_int_equal(usi_grid_build(context, &view.section, &options, &grid), US_OK);
    grid->local_count = 0; /* a grid of another state has other ones */
    size_t span_count = lay_spans(random, kind, grid, spans);
    assert_int_equal(usi_engine_make(context, grid, spans, span_count, &engine), US_OK);
    const usi_segments *segments = usi_engine_segments(engine);
    double *pass_m_s = malloc((segments->count + 1) * sizeof *pass_m_s);
    for (int k = 0; k < STATES_A_SECTION; k++) {
        draw_state(random, section, segments, pass_m_s);
        bool strip = kind.leaks && draw_strip(random, segments, spans, pass_m_s);
        strips += strip ? 1 : 0;
        compare_state(context, engine, grid, pass_m_s, strip ? &spans[1] : NULL);
    }
    free(pass_m_s);
    usi_engine_free(engine);
    usi_grid_free(grid);
    usi_view_free(&view);
    us_section_free(section);
    us_context_free(context);
}

static int state_count = 36;
static uint64_t seed = 1;

static void states_are_as_solved_afresh(void **state)
{
    (void)state;
    scene_random random = {seed};
    for (int k = 0; k * STATES_A_SECTION < state_count; k++) {
        try_section(&random, k);
    }
    printf("%d states, %d with a strip, %zu gates closed: largest difference %.1e\n", state_count,
           strips, afresh_gates_closed(), worst);
    assert_true(afresh_gates_closed() > 0);
    assert_true(strips > 0);
}

int main(int count, char **arguments)
{
    state_count = count > 1 ? (int)strtol(arguments[1], NULL, 10) : state_count;
    seed = count > 2 ? strtoull(arguments[2], NULL, 10) : seed;
    const struct CMUnitTest tests[] = {cmocka_unit_test(states_are_as_solved_afresh)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
