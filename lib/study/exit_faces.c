/* Drains and stretches of the underside as places where water leaves the soil. Along the edges
 * of a strip that holds a head in a tight face the gradient has no bound, so that only its mean
 * over the face is a number: flow over area and conductivity. */
#include <math.h>

#include "study/exit_places.h"

static const double PI = 3.14159265358979323846;
/* Steeper faces let no water out upwards. */
static const double UPRIGHT_RAD = 3.14159265358979323846 / 4.0;
enum { SAMPLES = 8 }; /* of soils along a face */

/* A face that soil lies below. */
typedef struct face {
    usi_point from;
    usi_point to;
    double area_m; /* per unit width; through which all the water goes */
    bool follows;  /* the underside between the two ends, not the straight line */
    bool upright;  /* no water leaves upwards */
} face;

static usi_point on_face(const us_section *section, const face *of, size_t sample)
{
    double share = ((double)sample + 0.5) / SAMPLES;
    usi_point at = {of->from.x_m + share * (of->to.x_m - of->from.x_m),
                    of->from.z_m + share * (of->to.z_m - of->from.z_m)};
    if (of->follows) {
        at.z_m = usi_line_level(&section->underside, at.x_m, true);
    }
    return at;
}

/* Adds a face that `flow` leaves by: the soil along it with the largest gradient counts, and the
 * lowest critical gradient. */
static void add_face(usi_exit_list *list, us_exit_place place, const face *of, us_value flow)
{
    const us_section *section = list->section;
    double rise = of->to.x_m > of->from.x_m && !of->follows
                      ? (of->to.z_m - of->from.z_m) / (of->to.x_m - of->from.x_m)
                      : 0.0;
    double angle_rad = of->upright && rise == 0.0 ? 0.5 * PI : atan(fabs(rise));
    double sine = sin(angle_rad);
    double cosine = cos(angle_rad);
    double least_m_s = HUGE_VAL;
    usi_critical lowest = {.level = HUGE_VAL, .gradient = HUGE_VAL};
    for (size_t k = 0; k < SAMPLES; k++) {
        usi_point at = on_face(section, of, k);
        bool right = !of->upright || at.x_m > section->left_end_m;
        size_t index = usi_section_soil_at(section, at, right, false);
        const usi_soil *soil = &section->soils[index];
        double across_m_s = soil->kh_m_s * sine * sine + soil->kv_m_s * cosine * cosine;
        usi_critical here = usi_critical_of(section, soil, 0.0, false);
        if (across_m_s < least_m_s) {
            least_m_s = across_m_s;
            place.soil = soil->name;
        }
        if (here.lacks > lowest.lacks ||
            (here.lacks == lowest.lacks && here.gradient < lowest.gradient)) {
            lowest = here;
        }
    }
    double unit = least_m_s * of->area_m;
    place.mean = (us_value){flow.value / unit, flow.error / unit, true};
    lowest.slope_rad = angle_rad;
    lowest.gradient *= cosine; /* what lies on it keeps it from sliding */
    usi_exit_place_judge(&place, &lowest);
    if (of->upright || angle_rad > UPRIGHT_RAD) {
        place.critical = (us_value){0.0, 0.0, false};
        place.factor = place.critical;
        place.lacks = NULL;
    }
    list->places[list->count++] = place;
}

/* The piece of structure that a point lies on leaves it upright. */
static bool on_upright(const us_section *section, usi_point at)
{
    double tolerance_m = usi_section_tolerance(section);
    double right_m = usi_section_surface(section, at.x_m + 2.0 * tolerance_m, true);
    double left_m = usi_section_surface(section, at.x_m - 2.0 * tolerance_m, false);
    return fabs(right_m - at.z_m) > tolerance_m && fabs(left_m - at.z_m) > tolerance_m;
}

static void add_drain(usi_exit_list *list, const usi_terminal *terminal)
{
    const usi_drain *drain = &list->section->drains[terminal->index];
    us_value flow = list->result->drains[terminal->index].flow_m2_s;
    if (!flow.present || flow.value <= flow.error) {
        return;
    }
    face of = {.from = drain->from,
               .to = drain->to,
               .area_m = hypot(drain->to.x_m - drain->from.x_m, drain->to.z_m - drain->from.z_m),
               .upright = drain->to.x_m - drain->from.x_m <= usi_section_tolerance(list->section)};
    if (drain->weeps) {
        of.area_m = 0.25 * PI * drain->diameter_m * drain->diameter_m / drain->spacing_m;
        of.upright = on_upright(list->section, drain->from);
    } else if (drain->inside && of.upright) {
        of.area_m *= 2.0; /* from both sides */
    }
    us_exit_place place = {.kind = drain->weeps ? "weeps" : "drain",
                           .name = drain->name,
                           .retained = drain->retained.by != NULL,
                           .x_m = 0.5 * (drain->from.x_m + drain->to.x_m),
                           .level_m = 0.5 * (drain->from.z_m + drain->to.z_m)};
    add_face(list, place, &of, flow);
}

static void add_stretch(usi_exit_list *list, const usi_terminal *terminal, us_value flow)
{
    if (!flow.present || flow.value <= flow.error) {
        return;
    }
    face of = {.from = {terminal->from_m, 0.0},
               .to = {terminal->to_m, 0.0},
               .area_m = terminal->to_m - terminal->from_m,
               .follows = true};
    double middle_m = 0.5 * (terminal->from_m + terminal->to_m);
    us_exit_place place = {.kind = "permeable",
                           .retained = list->section->permeable_retained.by != NULL,
                           .x_m = middle_m,
                           .level_m = usi_line_level(&list->section->underside, middle_m, true)};
    add_face(list, place, &of, flow);
    if (terminal->one_way) {
        /* Part of it may let nothing out: the rest takes more than the mean. */
        us_exit_place *added = &list->places[list->count - 1];
        added->factor = (us_value){0.0, 0.0, false};
        added->critical = added->factor;
        added->lacks = NULL;
    }
}

void usi_exit_places_faces(usi_exit_list *list)
{
    const usi_situation *situation = list->section->situation;
    size_t stretch = 0;
    for (size_t t = 0; situation != NULL && t < situation->terminal_count; t++) {
        const usi_terminal *terminal = &situation->terminals[t];
        if (terminal->kind == USI_TERMINAL_DRAIN) {
            add_drain(list, terminal);
        } else if (terminal->kind == USI_TERMINAL_PERMEABLE) {
            add_stretch(list, terminal, list->result->stretches[stretch++].flow_m2_s);
        } else if (terminal->kind == USI_TERMINAL_VOID) {
            stretch++;
        }
    }
}
