/* What a section through the middle of the channel cannot show. */
#include <math.h>

#include "model/scale.h"
#include "study/notes.h"
#include "study/text.h"

/* Of the soil, where the beds meet the works. */
static double soil_depth(const us_section *section)
{
    double left_m = section->left_end_m;
    double right_m = section->right_end_m;
    return fmax(
        usi_section_surface(section, left_m, false) - usi_section_base(section, left_m, false),
        usi_section_surface(section, right_m, true) - usi_section_base(section, right_m, true));
}

static us_status note_drop(us_context *context, us_solution *solution, const usi_length *distance,
                           const char *side)
{
    const us_section *section = solution->section;
    char away[USI_TEXT_ROOM];
    char reach[USI_TEXT_ROOM];
    char ratio[USI_TEXT_ROOM];
    if (!distance->given) {
        return US_OK;
    }
    if (!section->has_base) {
        return usi_note_add(
            context, solution,
            "The next drop %s is %s away. The soil has no base, so nothing says how "
            "far the two works feel each other.",
            side, usi_text_length(section, distance->m, away));
    }
    double most = 1.0;
    for (size_t i = 0; i < section->soil_count; i++) {
        most = fmax(most, section->soils[i].kh_m_s / section->soils[i].kv_m_s);
    }
    usi_scale scale = usi_scale_of(section);
    double reach_m = 2.0 * soil_depth(section) * sqrt(most);
    if (distance->m >= reach_m) {
        return US_OK;
    }
    return usi_note_add(
        context, solution,
        "The next drop %s is %s away, nearer than %s %s, twice the depth of the soil "
        "times the root of kh/kv, %s: the two works feel each other, and a section "
        "of one alone is not enough.",
        side, usi_text_length(section, distance->m, away),
        usi_text_plain(reach_m / scale.length_m, reach), scale.length, usi_text_plain(most, ratio));
}

us_status usi_notes_works(us_context *context, us_solution *solution)
{
    const us_section *section = solution->section;
    us_status status = US_OK;
    if (!section->banks.given) {
        status = usi_note_add(context, solution,
                              "Flow round the ends of the works, at the banks, is not checked: "
                              "`banks` was not given.");
    }
    if (status == US_OK && section->width_m > 0.0 && section->has_base &&
        section->width_m < 2.0 * soil_depth(section)) {
        char width[USI_TEXT_ROOM];
        char depth[USI_TEXT_ROOM];
        status = usi_note_add(context, solution,
                              "The channel, %s wide, is narrower than twice the depth of the soil, "
                              "%s: water also passes round the works, and two dimensions are "
                              "doubtful.",
                              usi_text_length(section, section->width_m, width),
                              usi_text_length(section, soil_depth(section), depth));
    }
    if (status == US_OK) {
        status = note_drop(context, solution, &section->next_drop.upstream, "upstream");
    }
    return status == US_OK
               ? note_drop(context, solution, &section->next_drop.downstream, "downstream")
               : status;
}
