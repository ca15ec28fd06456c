/* A section that strangers send, and every depth of its walls: each level is solved coarsely or
 * refused in words, and what is said of levels is in order. */
#include <math.h>

#include "fuzz/target.h"
#include "model/section.h"

static void require_water(const us_water_result *water)
{
    fuzz_require_value(water->flow.rate_m2_s);
    require(!water->flow.rate_m2_s.present ||
                water->flow.lower_m2_s <= water->flow.upper_m2_s * (1.0 + 1e-9),
            "bounds of flow are in order");
    fuzz_require_value(water->exit.gradient);
    fuzz_require_value(water->exit.mean);
    require(water->exit.bounded || !water->exit.gradient.present,
            "an unbounded gradient is absent");
    fuzz_require_value(water->uplift.force_n_m);
    for (size_t c = 0; c < water->check_count; c++) {
        fuzz_require_value(water->checks[c].value);
    }
}

static void require_levels(const us_depth *depth)
{
    double above_m = HUGE_VAL;
    for (size_t k = 0; k < us_depth_row_count(depth); k++) {
        const us_depth_row *row = us_depth_row_at(depth, k);
        require(isfinite(row->tip_m) && row->tip_m < above_m, "tips go down");
        above_m = row->tip_m;
        for (size_t w = 0; w < us_solution_water_count(row->solution); w++) {
            require_water(us_solution_water(row->solution, w));
        }
    }
}

static void require_end(const us_depth_end *end)
{
    require(isfinite(end->tip_m) && isfinite(end->error_m) && end->error_m >= 0.0,
            "an end and its error are finite");
    require(end->edge == (end->check == NULL), "an end has its check, or is an edge");
}

static void require_intervals(const us_depth *depth)
{
    double above_m = HUGE_VAL;
    for (size_t k = 0; k < us_depth_interval_count(depth); k++) {
        const us_depth_interval *passing = us_depth_interval_at(depth, k);
        require_end(&passing->high);
        require_end(&passing->low);
        require(passing->high.tip_m < above_m && passing->low.tip_m <= passing->high.tip_m,
                "intervals go down");
        above_m = passing->low.tip_m;
    }
    for (size_t k = 0; k < us_depth_order_count(depth); k++) {
        fuzz_require_value(us_depth_order_at(depth, k)->area_m2);
    }
    for (size_t k = 0; k < us_depth_pair_count(depth); k++) {
        fuzz_require_value(us_depth_pair_at(depth, k)->total_length_m);
    }
}

static void require_output(us_context *context, const us_depth *depth, size_t size)
{
    enum { DRAWN_ONE_IN = 8 };
    static const us_format forms[] = {US_FORMAT_TEXT, US_FORMAT_JSON, US_FORMAT_CSV};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        us_buffer *table = NULL;
        require(us_depth_tabulate(context, depth, forms[i], &table) == US_OK,
                "a study can be tabulated");
        us_buffer_free(table);
    }
    us_draw_options options = US_DRAW_OPTIONS_INIT;
    options.format = (us_draw_format)(size / DRAWN_ONE_IN % 3);
    us_buffer *picture = NULL;
    if (size % DRAWN_ONE_IN == 0) {
        require(us_depth_draw(context, depth, &options, &picture) == US_OK, "a study can be drawn");
    }
    us_buffer_free(picture);
}

/* The first wall that the section has; beside it, of one input in four, the last one. */
static void study(us_context *context, const us_section *section, size_t size)
{
    enum { PAIRS_ONE_IN = 4 };
    us_depth_options options = US_DEPTH_OPTIONS_INIT;
    options.accuracy = 0.2;
    options.wall = section->walls[0].name;
    options.ratio = size % 2 == 0;
    if (section->wall_count > 1 && size % PAIRS_ONE_IN == 0) {
        options.with = section->walls[section->wall_count - 1].name;
    }
    us_depth *depth = NULL;
    us_status status = us_section_depth(context, section, &options, &depth);
    require(status == US_OK || status == US_ERROR_INPUT || status == US_ERROR_NUMERICAL,
            "a wall is studied, or refused");
    require((status == US_OK) == (depth != NULL), "there is a study when it went well");
    fuzz_require_messages(context, status);
    if (depth != NULL) {
        require_levels(depth);
        require_intervals(depth);
        require_output(context, depth, size);
    }
    us_depth_free(depth);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    us_context *context = us_context_create();
    require(context != NULL, "memory for a context");
    us_section *section = NULL;
    if (us_section_read(context, (const char *)data, size, "fuzz.yaml", &section) == US_OK &&
        section->wall_count > 0) {
        study(context, section, size);
    }
    us_section_free(section);
    us_context_free(context);
    return 0;
}
