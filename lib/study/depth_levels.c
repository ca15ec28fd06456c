#include "study/depth_levels.h"

#include <math.h>
#include <string.h>

#include "base/context.h"
#include "model/scale.h"

/* Of the soil at the wall, what stays between the base and the lowest tip of an engine, whose
 * lines do not resolve less. */
static const double BASE_SHARE = 0.03;
/* Without a base, how many times as deep as drawn. */
static const double ENDLESS_TIMES = 3.0;
/* Of the range, what the highest tip lies below the soil's edge. */
static const double TOP_SHARE = 0.03;
static const double ROWS_WANTED = 24.0;

/* "BEFORE 'NAME'AFTER" */
static us_status refuse(us_context *context, const char *hint, const char *before, const char *name,
                        const char *after)
{
    usi_context_report(context, US_ERROR, NULL, hint, "%s '%s'%s", before, name, after);
    return US_ERROR_INPUT;
}

static us_status find_wall(us_context *context, const us_section *section, const char *name,
                           size_t *found)
{
    if (section->wall_count == 0) {
        usi_context_report(context, US_ERROR, NULL, NULL, "the section has no wall");
        return US_ERROR_INPUT;
    }
    if (name == NULL && section->wall_count > 1) {
        return refuse(context, "name one of them (--wall NAME)",
                      "the section has several walls: the first is", section->walls[0].name, "");
    }
    for (size_t w = 0; w < section->wall_count; w++) {
        if (name == NULL || strcmp(section->walls[w].name, name) == 0) {
            *found = w;
            return US_OK;
        }
    }
    return refuse(context, "see `undersill check` for the names", "the section has no wall", name,
                  "");
}

/* Narrows the levels to where soil lies on both sides, above the base and other walls. */
static void narrow(const us_section *section, usi_tip_levels *levels)
{
    const usi_wall *wall = &section->walls[levels->wall];
    double tolerance_m = usi_section_tolerance(section);
    levels->high_m = fmin(levels->high_m, usi_section_surface(section, wall->x_m, false));
    levels->high_m = fmin(levels->high_m, usi_section_surface(section, wall->x_m, true));
    for (size_t w = 0; w < section->wall_count; w++) {
        const usi_wall *other = &section->walls[w];
        if (w != levels->wall && fabs(other->x_m - wall->x_m) <= tolerance_m &&
            other->top_m < wall->top_m) {
            levels->low_m = fmax(levels->low_m, other->top_m);
        }
    }
    /* A tip in an opening that begins at the soil's surface would leave no wall in soil. */
    for (size_t k = 0; k < wall->opening_count; k++) {
        bool bare = wall->openings[k].high_m > levels->high_m - tolerance_m;
        levels->high_m = bare ? fmin(levels->high_m, wall->openings[k].low_m) : levels->high_m;
    }
}

us_status usi_depth_levels_find(us_context *context, const us_section *section, const char *name,
                                usi_tip_levels *levels)
{
    size_t found = 0;
    us_status status = find_wall(context, section, name, &found);
    if (status != US_OK) {
        return status;
    }
    const usi_wall *wall = &section->walls[found];
    *levels = (usi_tip_levels){.wall = found, .high_m = wall->top_m, .low_m = -HUGE_VAL};
    narrow(section, levels);
    for (size_t w = 0; w < section->water_count; w++) {
        if (section->waters[w].ground != NULL) {
            narrow(section->waters[w].ground, levels);
        }
    }
    if (section->has_base) {
        levels->base_m = fmax(usi_section_base(section, wall->x_m, false),
                              usi_section_base(section, wall->x_m, true));
        double contact_m = usi_section_open_contact(section, wall->x_m);
        double stay_m = fmax(contact_m, BASE_SHARE * (levels->high_m - levels->base_m));
        levels->deepest_m = fmax(levels->low_m, levels->base_m + contact_m);
        levels->low_m = fmax(levels->low_m, levels->base_m + stay_m);
    } else {
        double drawn_m = levels->high_m - wall->solved_tip_m;
        levels->low_m = fmax(levels->low_m, levels->high_m - ENDLESS_TIMES * drawn_m);
        levels->deepest_m = levels->high_m; /* none below those */
    }
    double least_m = 1e-3 * usi_section_size(section);
    if (!(levels->high_m - levels->low_m > least_m) ||
        !usi_section_spans(section, wall->x_m, true) ||
        !usi_section_spans(section, wall->x_m, false)) {
        return refuse(context, NULL, "the soil on both sides of wall", wall->name,
                      " is not deep enough for its tip to vary");
    }
    return US_OK;
}

/* The least round number (1, 2, 2.5 or 5 of some power of ten) that is no less. */
static double round_up(double value)
{
    static const double steps[] = {1.0, 2.0, 2.5, 5.0, 10.0};
    double power = pow(10.0, floor(log10(value)));
    for (size_t k = 0; k < sizeof steps / sizeof steps[0]; k++) {
        if (steps[k] * power >= value * (1.0 - 1e-12)) {
            return steps[k] * power;
        }
    }
    return 10.0 * power;
}

/* Puts a level in its place; one that is there already is left out. */
static size_t insert(double *levels_m, size_t count, double level_m, double apart_m)
{
    size_t at = 0;
    while (at < count && levels_m[at] > level_m) {
        at++;
    }
    bool there = (at < count && levels_m[at] > level_m - apart_m) ||
                 (at > 0 && levels_m[at - 1] < level_m + apart_m);
    if (there || count == USI_DEPTH_ROWS_MOST) {
        return count;
    }
    memmove(levels_m + at + 1, levels_m + at, (count - at) * sizeof *levels_m);
    levels_m[at] = level_m;
    return count + 1;
}

size_t usi_depth_levels_lay(const us_section *section, size_t wall, double high_m, double low_m,
                            double levels_m[USI_DEPTH_ROWS_MOST])
{
    double unit_m = usi_scale_of(section).length_m;
    double step = round_up((high_m - low_m) / unit_m / ROWS_WANTED);
    double apart_m = 1e-6 * (high_m - low_m);
    double drawn_m = section->walls[wall].tip_m;
    size_t count = 0;
    double top_m = high_m - TOP_SHARE * (high_m - low_m);
    for (double k = floor(top_m / unit_m / step); k * step * unit_m >= low_m; k -= 1.0) {
        count = insert(levels_m, count, k * step * unit_m, apart_m);
    }
    if (drawn_m <= high_m && drawn_m >= low_m) {
        count = insert(levels_m, count, drawn_m, apart_m);
    }
    count = insert(levels_m, count, low_m, 0.25 * step * unit_m);
    return insert(levels_m, count, high_m, 0.25 * step * unit_m);
}
