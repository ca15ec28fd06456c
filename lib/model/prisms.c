#include "model/prisms.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "model/column.h"

/* How wide a prism is that water lifts, in its depths (Terzaghi 1943). */
static const double WIDTH_SHARE = 0.5;
/* Without a base, how deep prisms go: in depths of the embedment. */
static const double DEEPEST = 4.0;
/* A prism that is all but gone, where the bed falls off beside it. */
static const double LEAST_SHARE = 0.1;
enum { DEPTHS = 24, BORDERS_MOST = 8 };

typedef struct layer {
    us_context *context;
    const us_section *section;
    double tolerance_m;
    size_t count;
    usi_prism *list;
    usi_column column;
} layer;

/* How far from x, on the side of `face`, soil between a level and the bed goes on. */
static double free_width(const layer *of, double x_m, usi_face face, double level_m)
{
    const us_section *section = of->section;
    const usi_line *bed = usi_section_downstream_bed(section);
    bool right = face == USI_FACE_RIGHT;
    double outward = right ? 1.0 : -1.0;
    double width_m = HUGE_VAL;
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        double ahead_m = outward * (wall->x_m - x_m);
        double bed_m = usi_line_level(bed, wall->x_m, !right);
        if (ahead_m > of->tolerance_m && wall->top_m > level_m + of->tolerance_m &&
            wall->solved_tip_m < bed_m - of->tolerance_m) {
            width_m = fmin(width_m, ahead_m);
        }
    }
    double works_m = outward * (usi_section_toe_x(section) - x_m);
    if (works_m > of->tolerance_m) {
        width_m = fmin(width_m, works_m);
    }
    const usi_side *side = right ? &section->right : &section->left;
    return side->kind == USI_SIDE_ENDLESS ? width_m : fmin(width_m, outward * (side->x_m - x_m));
}

/* Mean height over `least_m` of a straight line from a to b, what lies below it left out. */
static double mean_over(double a_m, double b_m, double least_m)
{
    double first_m = fmax(a_m - least_m, 0.0);
    double last_m = fmax(b_m - least_m, 0.0);
    bool crosses = (a_m < least_m) != (b_m < least_m);
    double share = crosses ? (first_m + last_m) / fabs(b_m - a_m) : 1.0;
    return 0.5 * (first_m + last_m) * share;
}

/* Mean over (from, to) of the bed, taken as `least_m` where it lies lower. */
static double mean_level(const usi_line *bed, double from_m, double to_m, double least_m)
{
    double sum = 0.0;
    double x_m = from_m;
    for (size_t k = 0; k <= bed->count; k++) {
        double next_m = k < bed->count ? fmin(bed->points[k].x_m, to_m) : to_m;
        if (next_m > x_m) {
            double a_m = usi_line_level(bed, x_m, true);
            double b_m = usi_line_level(bed, next_m, false);
            sum += mean_over(a_m, b_m, least_m) * (next_m - x_m);
            x_m = next_m;
        }
    }
    return least_m + sum / (to_m - from_m);
}

double usi_prism_water(const us_section *section, const usi_water *water, const usi_prism *prism)
{
    double level_m = water->downstream_m;
    if (water->at_bed || level_m <= prism->bed_low_m) {
        return prism->bed_mean_m;
    }
    if (level_m >= prism->bed_high_m) {
        return level_m;
    }
    return mean_level(usi_section_downstream_bed(section), prism->from_m, prism->to_m, level_m);
}

/* Raises a prism off a base that slopes; false where none is left. */
static bool settle(const layer *of, double bed_m, usi_prism *prism)
{
    const us_section *section = of->section;
    const usi_line *bed = usi_section_downstream_bed(section);
    if (section->has_base) {
        double base_m = usi_line_highest(&section->base, prism->from_m, prism->to_m);
        prism->level_m = fmax(prism->level_m, base_m);
    }
    prism->depth_m = bed_m - prism->level_m;
    prism->bed_low_m = usi_line_lowest(bed, prism->from_m, prism->to_m);
    prism->bed_high_m = usi_line_highest(bed, prism->from_m, prism->to_m);
    prism->bed_mean_m = mean_level(bed, prism->from_m, prism->to_m, prism->bed_low_m);
    return prism->depth_m > of->tolerance_m &&
           prism->bed_low_m - prism->level_m > LEAST_SHARE * prism->depth_m;
}

static void add(layer *of, const usi_bed_place *place, usi_prism_kind kind, double depth_m)
{
    bool right = place->bed == USI_FACE_RIGHT;
    double bed_m = usi_line_level(usi_section_downstream_bed(of->section), place->x_m, right);
    double wide_m = WIDTH_SHARE * depth_m;
    double free_m = free_width(of, place->x_m, place->bed, bed_m - depth_m);
    double width_m = fmin(wide_m, free_m);
    if (width_m <= of->tolerance_m) {
        return;
    }
    usi_prism prism = {.kind = kind,
                       .from_m = right ? place->x_m : place->x_m - width_m,
                       .to_m = right ? place->x_m + width_m : place->x_m,
                       .bed = place->bed,
                       .level_m = bed_m - depth_m,
                       .narrow = free_m < wide_m};
    if (settle(of, bed_m, &prism)) {
        of->list[of->count++] = prism;
    }
}

/* Prisms from one place: depths graded down to the base, and the borders of soils there. */
static void add_depths(layer *of, const usi_bed_place *place, double scale_m)
{
    const us_section *section = of->section;
    bool right = place->bed == USI_FACE_RIGHT;
    usi_prism_kind kind = place->toe ? USI_PRISM_DEPTH : USI_PRISM_ALONG;
    double bed_m = usi_line_level(usi_section_downstream_bed(section), place->x_m, right);
    usi_column *column = &of->column;
    usi_column_take(section, place->x_m, right, bed_m - DEEPEST * scale_m, column);
    double deepest_m = column->count > 0 ? bed_m - column->slices[column->count - 1].bottom_m : 0.0;
    double least_m = fmin(place->least_m, deepest_m);
    for (int k = 0; least_m > 0.0 && k < DEPTHS; k++) {
        double share = (double)k / (DEPTHS - 1);
        add(of, place, kind, least_m * pow(deepest_m / least_m, share));
    }
    for (size_t k = 0; k + 1 < column->count && k < BORDERS_MOST; k++) {
        double depth_m = bed_m - column->slices[k].bottom_m;
        if (depth_m >= least_m) {
            add(of, place, kind, depth_m);
        }
    }
}

us_status usi_prisms_list(us_context *context, const us_section *section, const usi_exit *exits,
                          size_t exit_count, usi_prism **prisms, size_t *count)
{
    usi_bed_place places[USI_BED_PLACES_MOST];
    size_t used = usi_bed_places_lay(section, exits, exit_count, places);
    layer of = {
        .context = context, .section = section, .tolerance_m = usi_section_tolerance(section)};
    of.list = usi_memory_array(context, 1 + used * (DEPTHS + BORDERS_MOST), sizeof *of.list);
    us_status status = usi_column_open(context, section, &of.column);
    if (of.list == NULL) {
        status = US_ERROR_MEMORY;
    }
    if (status == US_OK && used > 0 && exits[0].embedment_m > 0.0) {
        add(&of, &places[0], USI_PRISM_TOE, exits[0].embedment_m);
    }
    for (size_t k = 0; status == US_OK && k < used; k++) {
        add_depths(&of, &places[k], exits[0].mean_depth_m);
    }
    usi_column_close(&of.column);
    if (status == US_OK) {
        status = usi_prisms_weigh(context, section, of.list, of.count);
    }
    if (status != US_OK) {
        free(of.list);
        return status;
    }
    *prisms = of.list;
    *count = of.count;
    return US_OK;
}
