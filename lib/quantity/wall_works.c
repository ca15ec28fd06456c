#include "quantity/wall_works.h"

#include <math.h>

#include "quantity/creep.h"
#include "quantity/soils_along.h"

/* The underside above a wall: the lower side of a step, as far as the structure reaches. */
static double underside_at(const us_section *section, double x_m)
{
    double level_m = HUGE_VAL;
    if (x_m > section->left_end_m) {
        level_m = usi_line_level(&section->underside, x_m, false);
    }
    if (x_m < section->right_end_m) {
        level_m = fmin(level_m, usi_line_level(&section->underside, x_m, true));
    }
    return level_m;
}

/* The top of the structure there, likewise. */
static double top_at(const us_section *section, double x_m)
{
    double level_m = HUGE_VAL;
    if (x_m > section->left_end_m) {
        level_m = usi_line_level(&section->structure_top, x_m, false);
    }
    if (x_m < section->right_end_m) {
        level_m = fmin(level_m, usi_line_level(&section->structure_top, x_m, true));
    }
    return level_m;
}

usi_wall_cap usi_wall_in_cap(const us_section *section, const usi_wall *wall)
{
    usi_wall_cap cap = {0};
    cap.under = section->has_structure && wall->x_m >= section->left_end_m &&
                wall->x_m <= section->right_end_m;
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *other = &section->walls[i];
        bool higher = other->x_m == wall->x_m && other->tip_m >= wall->top_m;
        cap.under = cap.under && !higher;
    }
    if (!cap.under) {
        return cap;
    }
    double slack_m = usi_section_tolerance(section);
    double above_m = wall->top_m - underside_at(section, wall->x_m);
    cap.embedment_m = above_m > slack_m ? above_m : 0.0;
    cap.gap_m = above_m < -slack_m ? -above_m : 0.0;
    if (section->structure_top.count > 0) {
        cap.thickness_m = top_at(section, wall->x_m) - underside_at(section, wall->x_m);
        cap.has_thickness = cap.thickness_m > slack_m;
    }
    return cap;
}

/* Of c alpha over the overburden s: alpha = 0.5 (c/s)^-0.5 where c <= s, 0.5 (c/s)^-0.25 above, at
 * most 1. The integral from 0 to s. */
static double alpha_integral(double c_pa, double s_pa)
{
    const double half = 0.5;
    double low_pa = fmin(s_pa, c_pa); /* c >= s: 0.5 c^0.75 s^0.25 */
    double sum = half * 0.8 * pow(c_pa, 0.75) * pow(low_pa, 1.25);
    if (s_pa > c_pa) { /* 0.5 sqrt(c s) */
        double middle_pa = fmin(s_pa, 4.0 * c_pa);
        sum += half * (2.0 / 3.0) * sqrt(c_pa) * (pow(middle_pa, 1.5) - pow(c_pa, 1.5));
    }
    if (s_pa > 4.0 * c_pa) { /* alpha is 1 */
        sum += c_pa * (s_pa - 4.0 * c_pa);
    }
    return sum;
}

double usi_shaft_friction(const usi_shaft *shaft, double from_pa, double to_pa, double growth_n_m3)
{
    if (shaft->by_beta) {
        return shaft->beta * (to_pa * to_pa - from_pa * from_pa) / (2.0 * growth_n_m3);
    }
    double c_pa = shaft->strength_pa;
    return (alpha_integral(c_pa, to_pa) - alpha_integral(c_pa, from_pa)) / growth_n_m3;
}

/* One run of soil on a face. */
static void take_run(const us_section *section, const usi_soil_run *run, double bare_m,
                     double *overburden_pa, usi_wall_friction *friction)
{
    const usi_soil *soil = &section->soils[run->soil];
    bool held = run->to_m > bare_m;
    if (friction->lack != USI_SHAFT_KNOWN) {
        return;
    }
    if (!soil->weighs || (held && !soil->shaft.by_beta && !soil->shaft.by_strength)) {
        friction->lack = soil->weighs ? USI_SHAFT_NO_FRICTION : USI_SHAFT_NO_WEIGHT;
        friction->soil = run->soil;
        return;
    }
    double growth_n_m3 = soil->unit_weight_n_m3 - section->water_unit_weight_n_m3;
    double from_m = fmax(run->from_m, bare_m);
    if (held) {
        friction->friction_n_m += usi_shaft_friction(
            &soil->shaft, *overburden_pa + growth_n_m3 * (from_m - run->from_m),
            *overburden_pa + growth_n_m3 * (run->to_m - run->from_m), growth_n_m3);
    }
    *overburden_pa += growth_n_m3 * (run->to_m - run->from_m);
}

static us_status hold_face(us_context *context, const us_section *section, const usi_wall *wall,
                           bool right, usi_wall_friction *friction)
{
    double surface_m = usi_section_surface(section, wall->x_m, right);
    double bare_m = fmax(surface_m - wall->top_m, 0.0);
    usi_course_line line = {{wall->x_m, surface_m}, {wall->x_m, wall->tip_m}, right, false};
    usi_soil_runs runs = {0, NULL};
    us_status status = usi_soils_along(context, section, &line, &runs);
    double overburden_pa = 0.0;
    for (size_t k = 0; k < runs.count; k++) {
        take_run(section, &runs.items[k], bare_m, &overburden_pa, friction);
    }
    usi_soil_runs_clear(&runs);
    return status;
}

us_status usi_wall_hold(us_context *context, const us_section *section, const usi_wall *wall,
                        usi_wall_friction *friction)
{
    *friction = (usi_wall_friction){USI_SHAFT_KNOWN, 0, 0.0};
    us_status status = hold_face(context, section, wall, false, friction);
    if (status == US_OK) {
        status = hold_face(context, section, wall, true, friction);
    }
    const usi_sheeting *sheet = &wall->sheet;
    if (sheet->perimeter_m > 0.0 && sheet->width_m > 0.0) {
        friction->friction_n_m *= sheet->perimeter_m / (2.0 * sheet->width_m);
    }
    return status;
}
