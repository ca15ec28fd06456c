/* A section that strangers send reaches the solver: what is read is solved
 * coarsely or refused in words, and every number that comes out is a number. */
#include <math.h>
#include <string.h>

#include "fuzz/target.h"
#include "model/section.h"

/* The highest and lowest head that anything holds; water that comes out of a dry bed
 * does so at its surface. */
typedef struct range {
    double low_m;
    double high_m;
} range;

static void widen(range *of, double level_m)
{
    of->low_m = fmin(of->low_m, level_m);
    of->high_m = fmax(of->high_m, level_m);
}

static range range_of(const us_section *section, size_t index)
{
    const usi_water *water = &section->waters[index];
    const us_section *ground = water->ground != NULL ? water->ground : section;
    range of = {fmin(water->upstream_m, water->downstream_m),
                fmax(water->upstream_m, water->downstream_m)};
    if (water->at_bed) {
        widen(&of, usi_line_lowest(usi_section_downstream_bed(ground), -HUGE_VAL, HUGE_VAL));
    }
    for (size_t i = 0; i < section->drain_count; i++) {
        if (!section->drains[i].tailwater) {
            of.high_m = fmax(of.high_m, section->drains[i].outlet_m);
        }
    }
    const usi_side *sides[] = {&section->left, &section->right};
    for (size_t i = 0; i < 2; i++) {
        if (sides[i]->has_head) {
            widen(&of, sides[i]->head_m);
        }
    }
    if (section->artesian.acts) {
        widen(&of, section->artesian.head_m);
    }
    return of;
}

/* Heads lie between those that drive the water, but for their error. */
static void require_head(const range *within, us_value head)
{
    fuzz_require_value(head);
    double slack = head.error + 1e-9 * (fabs(within->low_m) + fabs(within->high_m));
    require(!head.present ||
                (head.value <= within->high_m + slack && head.value >= within->low_m - slack),
            "a head lies between those that drive the water");
}

static void require_flow(const us_flow_result *flow)
{
    fuzz_require_value(flow->rate_m2_s);
    fuzz_require_value(flow->total_m3_s);
    require(isfinite(flow->lower_m2_s) && isfinite(flow->upper_m2_s), "bounds are finite");
    require(!flow->rate_m2_s.present || flow->bounded, "an unbounded flow is absent");
    double slack = 1e-9 * flow->upper_m2_s;
    require(!flow->rate_m2_s.present || (flow->lower_m2_s <= flow->rate_m2_s.value + slack &&
                                         flow->rate_m2_s.value <= flow->upper_m2_s + slack),
            "a flow lies within its bounds");
}

static void require_exit(const us_exit_result *exit)
{
    fuzz_require_value(exit->gradient);
    fuzz_require_value(exit->mean);
    fuzz_require_value(exit->critical);
    fuzz_require_value(exit->piping_factor);
    require(isfinite(exit->x_m) && isfinite(exit->level_m) && isfinite(exit->mean_depth_m),
            "the place of an exit is finite");
    require(exit->bounded || !exit->gradient.present, "an unbounded gradient is absent");
    require(exit->gradient.value >= 0.0, "water leaves upwards");
}

static void require_uplift(const us_uplift_result *uplift)
{
    fuzz_require_value(uplift->force_n_m);
    fuzz_require_value(uplift->x_m);
    fuzz_require_value(uplift->weight_n_m);
    fuzz_require_value(uplift->net_n_m);
    fuzz_require_value(uplift->factor);
    require(uplift->force_n_m.value >= 0.0, "suction is clipped");
}

static void require_water(const us_section *section, size_t index, const us_water_result *water)
{
    const range within = range_of(section, index);
    require_flow(&water->flow);
    require_exit(&water->exit);
    require_uplift(&water->uplift);
    for (size_t i = 0; i < water->wall_count; i++) {
        require_head(&within, water->walls[i].upstream_face_top_m);
        require_head(&within, water->walls[i].tip_m);
        require_head(&within, water->walls[i].downstream_face_top_m);
    }
    for (size_t i = 0; i < water->piezometer_count; i++) {
        require_head(&within, water->piezometers[i].head_m);
    }
    for (size_t i = 0; i < water->check_count; i++) {
        fuzz_require_value(water->checks[i].value);
        fuzz_require_value(water->checks[i].required);
    }
}

static void require_tables(us_context *context, const us_solution *solution)
{
    static const us_format forms[] = {US_FORMAT_TEXT, US_FORMAT_JSON, US_FORMAT_CSV};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        us_buffer *table = NULL;
        require(us_solution_tabulate(context, solution, forms[i], &table) == US_OK,
                "a solution can be tabulated");
        us_buffer_free(table);
    }
}

/* Uplift without a structure, exit gradients without a bed, a case without ground. */
static bool lacks_subject(const us_context *context)
{
    const us_diagnostic *said = us_context_diagnostic(context, 0);
    return said != NULL && (strncmp(said->message, "no structure", 12) == 0 ||
                            strncmp(said->message, "no downstream bed", 17) == 0 ||
                            strstr(said->message, ": undermined. ") != NULL);
}

/* Drawing takes longer than solving coarsely: of one input in eight, in a form
 * that goes by its size too. */
static void require_drawing(us_context *context, const us_section *section,
                            const us_solution *solution, size_t size)
{
    enum { DRAWN_ONE_IN = 8 };
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.width_px = 900;
    options.format = (us_draw_format)(size / DRAWN_ONE_IN % 3);
    static const us_picture pictures[] = {US_PICTURE_SECTION, US_PICTURE_NET, US_PICTURE_UPLIFT,
                                          US_PICTURE_NET, US_PICTURE_EXIT};
    options.what = pictures[size / DRAWN_ONE_IN % 5];
    us_buffer *picture = NULL;
    if (size % DRAWN_ONE_IN == 0) {
        us_status status = us_section_draw(context, section, solution, &options, &picture);
        require(status == US_OK || (status == US_ERROR_INPUT && lacks_subject(context)),
                "a solution can be drawn");
    }
    us_buffer_free(picture);
}

/* Lengths too many orders of magnitude apart: the one numerical failure that is
 * an answer. */
static bool too_fine(const us_context *context, us_status status)
{
    const us_diagnostic *said = us_context_diagnostic(context, 0);
    return status == US_ERROR_NUMERICAL && said != NULL &&
           strstr(said->message, "resolves this section within rounding") != NULL;
}

static void solve(us_context *context, const us_section *section, size_t size)
{
    us_solve_options options = US_SOLVE_OPTIONS_INIT;
    options.accuracy = 0.2;
    us_solution *solution = NULL;
    us_status status = us_section_solve(context, section, &options, &solution);
    bool solved = status == US_OK || status == US_NOT_CONVERGED;
    require(solved || status == US_ERROR_INPUT || too_fine(context, status),
            "a section is solved, its soil is sealed off, or no grid is fine enough");
    require(solved == (solution != NULL), "there is a solution when solved");
    fuzz_require_messages(context, status);
    for (size_t i = 0; solution != NULL && i < us_solution_water_count(solution); i++) {
        require_water(section, i, us_solution_water(solution, i));
    }
    if (solution != NULL) {
        require_tables(context, solution);
        require_drawing(context, section, solution, size);
    }
    us_solution_free(solution);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    us_context *context = us_context_create();
    require(context != NULL, "memory for a context");
    us_section *section = NULL;
    if (us_section_read(context, (const char *)data, size, "fuzz.yaml", &section) == US_OK) {
        solve(context, section, size);
    }
    us_section_free(section);
    us_context_free(context);
    return 0;
}
