/* What looks like a slip at the edges: none of it is wrong in itself. */
#include <math.h>

#include "model/check.h"
#include "model/oddities.h"

static const double LIFT = 1.1;  /* less weight over pressure than this is worth a word */
enum { SLICES = 200, MOST = 8 }; /* of a column of soil; lines of one kind */

#define LENGTH(value_m) (usi_words_length(section, (value_m)).text)

static bool is_shut(const us_section *section, const usi_water *water, size_t drain)
{
    const us_section *ground = water->ground != NULL ? water->ground : water->lost;
    bool bare = ground != NULL && ground->drains[drain].shut;
    return bare || (water->shut != NULL ? water->shut[drain] : section->drains[drain].shut);
}

static double highest_water(const us_section *section)
{
    double highest_m = -HUGE_VAL;
    for (size_t i = 0; i < section->water_count; i++) {
        highest_m = fmax(highest_m, section->waters[i].upstream_m);
    }
    return highest_m;
}

/* The first case in which an open drain lets out above the upstream water. */
static const usi_water *find_feeding(const us_section *section, size_t drain)
{
    const usi_drain *one = &section->drains[drain];
    for (size_t i = 0; i < section->water_count && !one->tailwater; i++) {
        const usi_water *water = &section->waters[i];
        if (!is_shut(section, water, drain) && one->outlet_m > water->upstream_m) {
            return water;
        }
    }
    return NULL;
}

/* Soil that the drain lies in, or under which it lies. */
static const usi_soil *soil_of(const us_section *section, const usi_drain *drain)
{
    return &section->soils[usi_section_soil_at(section, drain->from, true, false)];
}

static void tell_drain(usi_odd *to, size_t index)
{
    const us_section *section = to->section;
    const usi_drain *drain = &section->drains[index];
    double low_m = fmin(drain->from.z_m, drain->to.z_m);
    if (low_m > highest_water(section)) {
        usi_odd_begin(to);
        usi_buffer_print(to->text, "drain %s lies at %s, above all water: it stays dry\n",
                         drain->name, LENGTH(low_m));
        return;
    }
    const usi_water *feeding = find_feeding(section, index);
    if (feeding != NULL) {
        usi_odd_begin(to);
        usi_buffer_print(to->text,
                         "drain %s lets out at %s, above the upstream water of case %s: it would "
                         "feed the soil, not relieve it\n",
                         drain->name, LENGTH(drain->outlet_m), feeding->name);
    }
    const usi_soil *soil = soil_of(section, drain);
    double size_m = usi_odd_works_size(section);
    if (size_m > 0.0 && drain->clogging_s * fmin(soil->kh_m_s, soil->kv_m_s) > size_m) {
        usi_odd_begin(to);
        usi_buffer_print(to->text,
                         "what clogs drain %s resists more than %s of the soil there: it is as "
                         "good as shut\n",
                         drain->name, LENGTH(size_m));
    }
}

/* A bed may lie on one side or the other; sides cut it short. */
static bool touches_bed(const us_section *section, const usi_stretch *seal)
{
    double from_m = section->left.kind == USI_SIDE_ENDLESS ? -HUGE_VAL : section->left.x_m;
    double to_m = section->right.kind == USI_SIDE_ENDLESS ? HUGE_VAL : section->right.x_m;
    bool left = fmax(seal->from_m, from_m) < fmin(seal->to_m, section->left_end_m);
    bool right = fmax(seal->from_m, section->right_end_m) < fmin(seal->to_m, to_m);
    return left || right;
}

static void tell_seals(usi_odd *to)
{
    const us_section *section = to->section;
    size_t told = 0;
    for (size_t i = 0; i < section->water_count; i++) {
        const usi_water *water = &section->waters[i];
        for (size_t k = 0; k < water->seal_count && told < MOST; k++) {
            if (!touches_bed(section, &water->seals[k])) {
                usi_odd_begin(to);
                usi_buffer_print(to->text, "water case %s: the seal from x = %s to %s ",
                                 water->name, LENGTH(water->seals[k].from_m),
                                 LENGTH(water->seals[k].to_m));
                usi_buffer_add_text(to->text, "touches no bed\n");
                told++;
            }
        }
    }
}

/* Water comes out where the structure's top, or else its underside, lies lower than some
 * water. */
static void tell_leaks(usi_odd *to)
{
    const us_section *section = to->section;
    const usi_line *top =
        section->structure_top.count > 0 ? &section->structure_top : &section->underside;
    double highest_m = highest_water(section);
    for (size_t i = 0; i < section->permeable_count && i < MOST; i++) {
        const usi_stretch *leak = &section->permeable[i];
        if (usi_line_lowest(top, leak->from_m, leak->to_m) >= highest_m) {
            usi_odd_begin(to);
            usi_buffer_print(to->text,
                             "the structure is permeable from x = %s to %s, where it rises above "
                             "all water: nothing comes out there\n",
                             LENGTH(leak->from_m), LENGTH(leak->to_m));
        }
    }
}

/* Weight of what stands on the base at x, soil and water; negative where a soil has no
 * unit weight. */
static double weight_on_base(const us_section *section, double x_m, bool right, double water_m)
{
    double base_m = usi_section_base(section, x_m, right);
    double surface_m = usi_section_surface(section, x_m, right);
    double slice_m = (surface_m - base_m) / SLICES;
    double weight_n_m2 = section->water_unit_weight_n_m3 * fmax(water_m - surface_m, 0.0);
    for (int i = 0; i < SLICES; i++) {
        usi_point at = {x_m, base_m + (i + 0.5) * slice_m};
        const usi_soil *soil = &section->soils[usi_section_soil_at(section, at, right, false)];
        if (!soil->weighs) {
            return -1.0;
        }
        weight_n_m2 += soil->unit_weight_n_m3 * slice_m;
    }
    return weight_n_m2;
}

/* Where the downstream bed is lowest: x, and which side of it. */
static double find_lowest(const us_section *section, bool *right)
{
    const usi_line *bed = usi_section_downstream_bed(section);
    double toe_m = usi_section_toe_x(section);
    double lowest_m = usi_line_lowest(bed, -HUGE_VAL, HUGE_VAL);
    *right = !section->flows_left;
    if (usi_line_level(bed, toe_m, *right) <= lowest_m) {
        return toe_m;
    }
    for (size_t i = 0; i < bed->count; i++) {
        if (bed->points[i].z_m <= lowest_m) {
            *right = usi_line_level(bed, bed->points[i].x_m, true) <= lowest_m;
            return bed->points[i].x_m;
        }
    }
    return toe_m;
}

/* Weight over pressure on the base where the bed of a case is lowest, at `*x_m`; HUGE_VAL
 * where nothing can be said. */
static double lift_factor(const us_section *section, const usi_water *water, double *x_m)
{
    const us_section *ground = water->ground != NULL ? water->ground : section;
    bool right = false;
    *x_m = find_lowest(ground, &right);
    if (water->undermined != NULL || !usi_section_spans(ground, *x_m, right)) {
        return HUGE_VAL;
    }
    double pressure_n_m2 = section->water_unit_weight_n_m3 *
                           (section->artesian.head_m - usi_section_base(ground, *x_m, right));
    double weight_n_m2 = weight_on_base(ground, *x_m, right, water->downstream_m);
    return weight_n_m2 > 0.0 && pressure_n_m2 > 0.0 ? weight_n_m2 / pressure_n_m2 : HUGE_VAL;
}

/* Water under the base lifts the soil above as a whole, whatever flows. */
static void tell_lift(usi_odd *to)
{
    const us_section *section = to->section;
    const usi_water *worst = NULL;
    double worst_x_m = 0.0;
    double least = LIFT;
    for (size_t i = 0; i < section->water_count && section->artesian.acts; i++) {
        double x_m = 0.0;
        double factor = lift_factor(section, &section->waters[i], &x_m);
        if (factor < least) {
            worst = &section->waters[i];
            worst_x_m = x_m;
            least = factor;
        }
    }
    if (worst != NULL) {
        char factor[USI_NUMBER_ROOM];
        usi_odd_begin(to);
        usi_buffer_print(to->text, "water case %s: at x = %s soil and water weigh %s times ",
                         worst->name, LENGTH(worst_x_m), usi_number_write(factor, least, 3));
        usi_buffer_add_text(to->text,
                            "the pressure below the base, which may lift the whole layer; common "
                            "practice asks for 1.1 and more\n");
    }
}

void usi_odd_tell_edges(usi_odd *to)
{
    for (size_t i = 0; i < to->section->drain_count && i < MOST; i++) {
        tell_drain(to, i);
    }
    tell_seals(to);
    tell_leaks(to);
    tell_lift(to);
}
