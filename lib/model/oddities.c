#include "model/oddities.h"

#include <math.h>
#include <stdio.h>

#include "model/check.h"

/* What counts as odd. Each is far beyond what sections that mean it have. */
static const double THIN = 1e-3;    /* a gap, of the soil's depth there */
static const double CONTRAST = 1e6; /* between conductivities of two soils */
static const double HEAD = 20.0;    /* water over the bed, in sizes of the works */
static const double BURIED = 10.0;  /* a wall under the surface, in its own lengths */
static const double DEPTH = 100.0;  /* the base under the bed, in sizes of the works */
enum { MOST_GAPS = 8 };

#define LENGTH(value_m) (usi_words_length(section, (value_m)).text)

void usi_odd_begin(usi_odd *to)
{
    usi_buffer_add_text(to->text, to->begun ? "  " : "\nWorth a second look\n  ");
    to->begun = true;
}

static double lower_surface(const us_section *section, double x_m)
{
    return fmin(usi_section_surface(section, x_m, false), usi_section_surface(section, x_m, true));
}

/* The highest level below a wall where soil ends or another wall begins; `*other`
 * is that wall, or NULL. */
static double find_stop(const us_section *section, const usi_wall *wall, const usi_wall **other)
{
    double stop_m = section->has_base ? fmax(usi_section_base(section, wall->x_m, false),
                                             usi_section_base(section, wall->x_m, true))
                                      : -HUGE_VAL;
    *other = NULL;
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *below = &section->walls[i];
        if (below != wall && below->x_m == wall->x_m && below->top_m <= wall->solved_tip_m &&
            below->top_m > stop_m) {
            stop_m = below->top_m;
            *other = below;
        }
    }
    return stop_m;
}

static void tell_gaps(usi_odd *to)
{
    const us_section *section = to->section;
    size_t told = 0;
    for (size_t i = 0; i < section->wall_count && told < MOST_GAPS; i++) {
        const usi_wall *wall = &section->walls[i];
        const usi_wall *other = NULL;
        double surface_m = lower_surface(section, wall->x_m);
        double gap_m = wall->solved_tip_m - find_stop(section, wall, &other);
        double depth_m = section->has_base ? surface_m - usi_section_base(section, wall->x_m, true)
                                           : usi_section_size(section);
        if (gap_m > 0.0 && gap_m < THIN * depth_m) {
            usi_odd_begin(to);
            usi_buffer_print(
                to->text,
                "gap of %s under wall %s, above %s%s: it is solved, but less than a "
                "thousandth of the soil's depth says more about the drawing than about "
                "the ground\n",
                LENGTH(gap_m), wall->name, other != NULL ? "wall " : "the base",
                other != NULL ? other->name : "");
            told++;
        }
        gap_m = surface_m - wall->top_m;
        if (gap_m > 0.0 && gap_m < THIN * depth_m && !wall->cap_gap.given) {
            usi_odd_begin(to);
            usi_buffer_print(to->text,
                             "gap of %s over the top of wall %s: should the wall reach the soil "
                             "surface?\n",
                             LENGTH(gap_m), wall->name);
            told++;
        }
    }
}

static void tell_contrast(usi_odd *to, const usi_survey *survey)
{
    const us_section *section = to->section;
    const usi_soil *tight = NULL;
    const usi_soil *open = NULL;
    for (size_t i = 0; i < section->soil_count; i++) {
        const usi_soil *soil = &section->soils[i];
        if (survey->soil_areas_m2[i] <= 0.0) {
            continue;
        }
        if (tight == NULL ||
            fmin(soil->kh_m_s, soil->kv_m_s) < fmin(tight->kh_m_s, tight->kv_m_s)) {
            tight = soil;
        }
        if (open == NULL || fmax(soil->kh_m_s, soil->kv_m_s) > fmax(open->kh_m_s, open->kv_m_s)) {
            open = soil;
        }
    }
    if (tight == NULL || tight == open) {
        return;
    }
    double most_m_s = fmax(open->kh_m_s, open->kv_m_s);
    double least_m_s = fmin(tight->kh_m_s, tight->kv_m_s);
    if (most_m_s > CONTRAST * least_m_s) {
        usi_odd_begin(to);
        usi_buffer_print(to->text,
                         "conductivities from %s (%s) to %s (%s), more than a factor of a million: "
                         "check the powers of ten, and the units\n",
                         usi_words_conductivity(section, least_m_s).text, tight->name,
                         usi_words_conductivity(section, most_m_s).text, open->name);
    }
}

double usi_odd_works_size(const us_section *section)
{
    double left_m = usi_line_level(&section->left_bed, section->left_end_m, false);
    double right_m = usi_line_level(&section->right_bed, section->right_end_m, true);
    double low_m = fmin(left_m, right_m);
    double high_m = fmax(left_m, right_m);
    if (section->has_structure) {
        low_m = fmin(low_m, usi_line_lowest(&section->underside, -HUGE_VAL, HUGE_VAL));
        high_m = fmax(high_m, usi_line_highest(&section->underside, -HUGE_VAL, HUGE_VAL));
    }
    double size_m = fmax(section->right_end_m - section->left_end_m, high_m - low_m);
    for (size_t i = 0; i < section->wall_count; i++) {
        size_m = fmax(size_m, section->walls[i].top_m - section->walls[i].tip_m);
    }
    return size_m;
}

void usi_odd_tell_datum(usi_odd *to)
{
    const us_section *section = to->section;
    double size_m = usi_odd_works_size(section);
    double left_m = usi_line_level(&section->left_bed, section->left_end_m, false);
    double right_m = usi_line_level(&section->right_bed, section->right_end_m, true);
    double bed_m = fmax(left_m, right_m);
    for (size_t i = 0; i < section->water_count; i++) {
        const usi_water *water = &section->waters[i];
        if (water->upstream_m - bed_m > HEAD * size_m) {
            usi_odd_begin(to);
            usi_buffer_print(to->text,
                             "water case %s stands %s over the bed: do water and ground have one "
                             "datum?\n",
                             water->name, LENGTH(water->upstream_m - bed_m));
            break;
        }
    }
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        double below_m = lower_surface(section, wall->x_m) - wall->top_m;
        if (below_m > BURIED * (wall->top_m - wall->tip_m)) {
            usi_odd_begin(to);
            usi_buffer_print(to->text,
                             "wall %s begins %s below the soil surface: do walls and ground have "
                             "one datum?\n",
                             wall->name, LENGTH(below_m));
        }
    }
    double base_m =
        section->has_base ? usi_section_base(section, section->left_end_m, true) : bed_m;
    if (size_m > 0.0 && bed_m - base_m > DEPTH * size_m) {
        usi_odd_begin(to);
        usi_buffer_print(to->text,
                         "base %s below the bed, for works of %s: do both have one datum?\n",
                         LENGTH(bed_m - base_m), LENGTH(size_m));
    }
}

void usi_oddities_tell(us_buffer *text, const us_section *section, const usi_survey *survey)
{
    usi_odd to = {text, section, false};
    tell_gaps(&to);
    tell_contrast(&to, survey);
    usi_odd_tell_datum(&to);
    usi_odd_tell_edges(&to);
}
