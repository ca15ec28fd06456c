/* The section told back in words, in the units of its file. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/buffer.h"
#include "model/check.h"
#include "model/conductivity.h"
#include "model/explain.h"
#include "model/oddities.h"

enum { MOST_ZONES = 40 };            /* told one by one */
static const double ROUNDING = 1e-9; /* of an area */

#define LENGTH(value_m) (usi_words_length(section, (value_m)).text)

enum { MOST_POINTS = 12 }; /* of a line told point by point */

/* A line of many points in short. */
static void tell_course(us_buffer *text, const us_section *section, const usi_line *line)
{
    const usi_point *first = &line->points[0];
    const usi_point *last = &line->points[line->count - 1];
    usi_buffer_print(text, "%zu points, from %s at x = %s", line->count, LENGTH(first->z_m),
                     LENGTH(first->x_m));
    usi_buffer_print(text, " to %s at x = %s", LENGTH(last->z_m), LENGTH(last->x_m));
    usi_buffer_print(text, ", between %s", LENGTH(usi_line_lowest(line, -HUGE_VAL, HUGE_VAL)));
    usi_buffer_print(text, " and %s", LENGTH(usi_line_highest(line, -HUGE_VAL, HUGE_VAL)));
}

/* "100 m", or "100 m up to x = 5 m, then 99 m", or "100 m up to x = 5 m, sloping to
 * 99 m at x = 8 m". */
void usi_tell_levels(us_buffer *text, const us_section *section, const usi_line *line)
{
    if (line->count > MOST_POINTS) {
        tell_course(text, section, line);
        return;
    }
    bool told = false; /* where the line is at this point */
    usi_buffer_print(text, "%s", LENGTH(line->points[0].z_m));
    for (size_t i = 1; i < line->count; i++) {
        const usi_point *before = &line->points[i - 1];
        const usi_point *point = &line->points[i];
        if (point->x_m != before->x_m && point->z_m == before->z_m) {
            told = false;
            continue;
        }
        if (!told) {
            usi_buffer_print(text, " up to x = %s", LENGTH(before->x_m));
        }
        usi_buffer_print(text, point->x_m == before->x_m ? ", then %s" : ", sloping to %s",
                         LENGTH(point->z_m));
        told = point->x_m != before->x_m;
        if (told) {
            usi_buffer_print(text, " at x = %s", LENGTH(point->x_m));
        }
    }
}

static void tell_ground(us_buffer *text, const us_section *section)
{
    usi_buffer_print(text, "Ground\n  water runs to the %s\n  upstream bed: ",
                     section->flows_left ? "left" : "right");
    usi_tell_levels(text, section, usi_section_upstream_bed(section));
    usi_buffer_print(
        text, "; it ends at x = %s\n  downstream bed: ", LENGTH(usi_section_heel_x(section)));
    usi_tell_levels(text, section, usi_section_downstream_bed(section));
    usi_buffer_print(text, "; it begins at x = %s\n  base: ", LENGTH(usi_section_toe_x(section)));
    if (section->has_base) {
        usi_tell_levels(text, section, &section->base);
    } else {
        usi_buffer_add_text(text, "none; the soil has no bottom, so no flow can be given");
    }
    usi_buffer_add_text(text, "\n");
    usi_tell_regional(text, section);
    if (section->width_m > 0.0) {
        usi_buffer_print(text, "  width of the channel: %s\n", LENGTH(section->width_m));
    }
    usi_buffer_print(text, "  unit weight of water: %s\n",
                     usi_words_unit_weight(section, section->water_unit_weight_n_m3).text);
}

static void tell_structure(us_buffer *text, const us_section *section)
{
    if (!section->has_structure) {
        usi_buffer_add_text(text, "\nStructure\n  none: a bare wall\n");
        return;
    }
    usi_buffer_print(text, "\nStructure\n  from x = %s to x = %s\n  underside: ",
                     LENGTH(section->left_end_m), LENGTH(section->right_end_m));
    usi_tell_levels(text, section, &section->underside);
    if (section->structure_top.count > 0) {
        usi_buffer_add_text(text, "\n  top: ");
        usi_tell_levels(text, section, &section->structure_top);
    }
    if (section->structure_weighs) {
        usi_buffer_print(text, "\n  unit weight: %s",
                         usi_words_unit_weight(section, section->structure_unit_weight_n_m3).text);
    }
    usi_buffer_add_text(text, "\n");
    usi_tell_joints(text, section);
    usi_tell_leaks(text, section);
}

/* How far a wall reaches into the structure above it. */
static double cap_embedment(const us_section *section, const usi_wall *wall)
{
    bool under = section->has_structure && wall->x_m >= section->left_end_m &&
                 wall->x_m <= section->right_end_m;
    if (!under) {
        return 0.0;
    }
    double underside_m = HUGE_VAL;
    if (wall->x_m > section->left_end_m) {
        underside_m = usi_line_level(&section->underside, wall->x_m, false);
    }
    if (wall->x_m < section->right_end_m) {
        underside_m = fmin(underside_m, usi_line_level(&section->underside, wall->x_m, true));
    }
    return fmax(wall->top_m - underside_m, 0.0);
}

static void tell_walls(us_buffer *text, const us_section *section)
{
    usi_buffer_add_text(text, section->wall_count > 0 ? "\nWalls\n" : "\nWalls\n  none\n");
    for (size_t i = 0; i < section->wall_count; i++) {
        const usi_wall *wall = &section->walls[i];
        usi_buffer_print(text, "  %s: at x = %s from %s down to %s", wall->name, LENGTH(wall->x_m),
                         LENGTH(wall->top_m), LENGTH(wall->tip_m));
        double embedment_m = cap_embedment(section, wall);
        if (embedment_m > 0.0) {
            usi_buffer_print(text, ", its top %s inside the structure", LENGTH(embedment_m));
        }
        if (wall->keyed) {
            usi_buffer_add_text(text, ", sealed into the base");
        } else if (wall->open_contact) {
            usi_buffer_print(text, ", on the base with an open contact of %s",
                             LENGTH(wall->solved_tip_m - wall->base_m));
        }
        usi_buffer_add_text(text, "\n");
        usi_tell_passages(text, section, wall);
    }
}

/* Index of the layer after `index`, or the number of soils. */
static size_t next_layer(const us_section *section, size_t index)
{
    size_t next = index + 1;
    while (next < section->soil_count && !section->soils[next].layer) {
        next++;
    }
    return next;
}

static void tell_layer(us_buffer *text, const us_section *section, size_t index)
{
    const usi_soil *soil = &section->soils[index];
    if (!soil->layer) {
        usi_buffer_print(text, "  %s: no layer", soil->name);
        return;
    }
    size_t next = next_layer(section, index);
    usi_buffer_print(text, "  %s: from ", soil->name);
    if (index == 0) {
        usi_buffer_add_text(text, "the soil surface");
    } else {
        usi_tell_levels(text, section, &soil->top);
    }
    if (next < section->soil_count && section->soils[next].top.count == 1) {
        usi_buffer_print(text, " down to %s", LENGTH(usi_soil_top(&section->soils[next])));
    } else if (next < section->soil_count) {
        usi_buffer_print(text, " down to the top of %s", section->soils[next].name);
    } else {
        usi_buffer_add_text(text, section->has_base ? " down to the base" : " down without end");
    }
}

/* " (Hazen, d10 0.2 mm)" */
static void tell_kh_source(us_buffer *text, const us_section *section, const usi_soil *soil)
{
    const usi_conductivity *from = &soil->conductivity;
    char number[USI_NUMBER_ROOM];
    switch (from->kh_from) {
    case USI_KH_GIVEN:
        break;
    case USI_KH_HAZEN:
        usi_buffer_print(text, " (Hazen, d10 %s)", usi_words_grain(from->d10_m).text);
        break;
    case USI_KH_KOZENY_CARMAN:
        usi_buffer_print(text, " (Kozeny-Carman, d10 %s, porosity %s",
                         usi_words_grain(from->d10_m).text,
                         usi_number_write(number, from->porosity, 7));
        usi_buffer_print(text, ", water of %s degC)",
                         usi_number_write(number, from->temperature_c, 3));
        break;
    case USI_KH_CLASS: {
        usi_conductivity_range range = usi_conductivity_class_range(from->class_index);
        usi_buffer_print(text, " (class %s, %s", usi_conductivity_classes[from->class_index],
                         usi_words_conductivity(section, range.least_m_s).text);
        usi_buffer_print(text, " to %s)", usi_words_conductivity(section, range.most_m_s).text);
        break;
    }
    }
}

/* As given, or roughly where it was worked out. */
static usi_words tell_conductivity(const us_section *section, double value_m_s, bool given)
{
    return given ? usi_words_conductivity(section, value_m_s)
                 : usi_words_roughly(section, value_m_s);
}

static void tell_area(us_buffer *text, const us_section *section, double area_m2)
{
    double unit_m = section->units.length->factor;
    char number[USI_NUMBER_ROOM];
    usi_buffer_print(text, "%s %s^2", usi_number_write(number, area_m2 / (unit_m * unit_m), 4),
                     section->units.length->name);
}

static void tell_friction(us_buffer *text, const usi_soil *soil)
{
    const usi_unit *degree = usi_unit_find("deg", strlen("deg"));
    char number[USI_NUMBER_ROOM];
    if (soil->friction_rad > 0.0) {
        usi_buffer_print(text, ", angle of friction %s deg",
                         usi_number_write(number, soil->friction_rad / degree->factor, 7));
    }
}

static void tell_soils(us_buffer *text, const us_section *section, const usi_survey *survey)
{
    usi_buffer_add_text(text, "\nSoils\n");
    double whole_m2 = 0.0;
    for (size_t i = 0; i < section->soil_count; i++) {
        whole_m2 += fmax(survey->soil_areas_m2[i], 0.0);
    }
    for (size_t i = 0; i < section->soil_count; i++) {
        const usi_soil *soil = &section->soils[i];
        double area_m2 = survey->soil_areas_m2[i];
        char ratio[USI_NUMBER_ROOM];
        tell_layer(text, section, i);
        bool given = soil->conductivity.kh_from == USI_KH_GIVEN;
        usi_buffer_print(text, "; kh %s", tell_conductivity(section, soil->kh_m_s, given).text);
        tell_kh_source(text, section, soil);
        given = given || soil->conductivity.kv_from == USI_KV_GIVEN;
        usi_buffer_print(text, ", kv %s", tell_conductivity(section, soil->kv_m_s, given).text);
        if (soil->conductivity.kv_from == USI_KV_RATIO) {
            usi_buffer_print(text, " (kh / %s)",
                             usi_number_write(ratio, soil->conductivity.anisotropy, 7));
        }
        usi_buffer_print(text, ", saturated unit weight %s",
                         soil->weighs ? usi_words_unit_weight(section, soil->unit_weight_n_m3).text
                                      : "not given");
        tell_friction(text, soil);
        usi_tell_storage(text, section, soil);
        usi_buffer_add_text(text, "; area ");
        tell_area(text, section, area_m2 > ROUNDING * whole_m2 ? area_m2 : 0.0);
        usi_buffer_add_text(text, "\n");
    }
    usi_plan_window window = usi_survey_around(section);
    usi_buffer_print(text, "  areas from x = %s to x = %s", LENGTH(window.left_m),
                     LENGTH(window.right_m));
    if (!section->has_base) {
        usi_buffer_print(text, ", down to %s", LENGTH(window.floor_m));
    }
    usi_buffer_add_text(text, "\n");
}

static void tell_zones(us_buffer *text, const us_section *section, const usi_survey *survey)
{
    if (section->zone_count > 0) {
        usi_buffer_add_text(text, "\nZones\n");
    }
    for (size_t i = 0; i < section->zone_count && i < MOST_ZONES; i++) {
        const usi_zone *zone = &section->zones[i];
        usi_buffer_print(text, "  zone %zu: %s, %zu corners, from x = %s", i + 1,
                         section->soils[zone->soil].name, zone->count, LENGTH(zone->low.x_m));
        usi_buffer_print(text, " to x = %s", LENGTH(zone->high.x_m));
        usi_buffer_print(text, " and from %s", LENGTH(zone->low.z_m));
        usi_buffer_print(text, " to %s; ", LENGTH(zone->high.z_m));
        double held_m2 = survey->zone_areas_m2[i];
        tell_area(text, section, held_m2 > ROUNDING * usi_zone_area(zone) ? held_m2 : 0.0);
        usi_buffer_add_text(text, " of it in the soil\n");
    }
    if (section->zone_count > MOST_ZONES) {
        usi_buffer_print(text, "  and %zu more\n", section->zone_count - MOST_ZONES);
    }
}

static void tell_piezometers(us_buffer *text, const us_section *section)
{
    static const char *const faces[] = {
        [USI_FACE_NONE] = "",
        [USI_FACE_LEFT] = ", on the left face of the wall",
        [USI_FACE_RIGHT] = ", on the right face of the wall",
    };
    if (section->piezometer_count > 0) {
        usi_buffer_add_text(text, "\nPiezometers\n");
    }
    for (size_t i = 0; i < section->piezometer_count; i++) {
        const usi_piezometer *piezometer = &section->piezometers[i];
        usi_buffer_print(text, "  %s: at x = %s, level %s%s\n", piezometer->name,
                         LENGTH(piezometer->at.x_m), LENGTH(piezometer->at.z_m),
                         faces[piezometer->side]);
    }
}

static void tell_rest(us_buffer *text, const us_section *section)
{
    usi_tell_requirements(text, section);
    if (section->note_count > 0) {
        usi_buffer_add_text(text, "\nNotes\n");
    }
    for (size_t i = 0; i < section->note_count; i++) {
        usi_buffer_print(text, "  %s\n", section->notes[i]);
    }
}

us_status us_section_explain(us_context *context, const us_section *section, us_buffer **text)
{
    if (context == NULL || section == NULL || text == NULL) {
        return US_ERROR_ARGUMENT;
    }
    usi_plan_window window = usi_survey_around(section);
    usi_survey survey;
    us_status status = usi_survey_make(context, section, &window, &survey);
    if (status != US_OK) {
        return status;
    }
    us_buffer *told = usi_buffer_create(context);
    const char *title = section->title[0] != '\0' ? section->title : "Section without a title";
    usi_buffer_print(told, "%s\nbare numbers are in %s, %s and %s\n\n", title,
                     section->units.length->name, section->units.conductivity->name,
                     section->units.unit_weight->name);
    tell_ground(told, section);
    tell_structure(told, section);
    tell_walls(told, section);
    tell_soils(told, section, &survey);
    tell_zones(told, section, &survey);
    usi_tell_drains(told, section);
    usi_tell_waters(told, section);
    tell_piezometers(told, section);
    usi_tell_works(told, section);
    usi_tell_as_built(told, section);
    tell_rest(told, section);
    usi_oddities_tell(told, section, &survey);
    usi_survey_clear(&survey);
    return usi_buffer_finish(told, text);
}
