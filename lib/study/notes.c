#include "study/notes.h"

#include <stdio.h>

#include "base/context.h"
#include "study/results.h"
#include "study/text.h"

static us_status note_suction(us_context *context, us_solution *solution)
{
    us_status status = US_OK;
    for (size_t w = 0; status == US_OK && w < solution->water_count; w++) {
        if (solution->water[w].uplift.suction) {
            status = usi_note_add(context, solution,
                                  "%s: part of the underside lies above the head there. Such "
                                  "suction counts as no pressure in the uplift; the soil may not "
                                  "be saturated there, which this calculation assumes.",
                                  solution->water[w].name);
        }
    }
    return status;
}

us_status usi_notes_fill(us_context *context, const usi_nest *nest, us_solution *solution)
{
    const us_section *section = solution->section;
    us_status status = US_OK;
    for (size_t n = 0; status == US_OK && n < section->note_count; n++) {
        status = usi_note_add(context, solution, "%s", section->notes[n]);
    }
    if (status == US_OK && !section->has_base && !usi_nest_finest(nest)->sealed) {
        status = usi_note_add(context, solution,
                              "The soil has no base: flow is without bound in theory, so none is "
                              "given. Heads, uplift and exit gradient are finite and given.");
    }
    if (status == US_OK && usi_nest_finest(nest)->sealed) {
        status = usi_note_add(context, solution,
                              "The structure is sealed down to the base: no water passes. Any "
                              "leak through interlocks or below the tip changes that.");
    }
    if (status == US_OK) {
        status = usi_notes_edges(context, nest, solution);
    }
    if (status == US_OK) {
        status = usi_notes_exits(context, nest, solution);
    }
    if (status == US_OK) {
        status = note_suction(context, solution);
    }
    return status == US_OK ? usi_notes_accuracy(context, nest, solution) : status;
}

static us_status note_sealed_case(us_context *context, us_solution *solution, size_t index,
                                  const us_water_result *sealed, const char *walls)
{
    const us_section *section = solution->section;
    char flow[USI_TEXT_ROOM];
    char gradient[USI_TEXT_ROOM];
    char uplift[USI_TEXT_ROOM + 32] = "";
    if (sealed->uplift.present) {
        char force[USI_TEXT_ROOM];
        (void)snprintf(uplift, sizeof uplift, ", uplift %s",
                       usi_text_force(section, sealed->uplift.force_n_m.value, force));
    }
    if (sealed->exit.present && sealed->exit.gradient.present) {
        (void)usi_text_plain(sealed->exit.gradient.value, gradient);
    } else {
        (void)snprintf(gradient, sizeof gradient, "not defined");
    }
    return usi_note_add(
        context, solution, "%s: with %s sealed into the base: flow %s, exit gradient %s%s.",
        solution->water[index].name, walls,
        usi_text_flow(section, sealed->flow.rate_m2_s.value, flow), gradient, uplift);
}

/* Names the walls with an open contact, which the reader has noted. */
static void name_contacts(const us_section *section, char *walls, size_t room)
{
    size_t used = 0;
    walls[0] = '\0';
    for (size_t w = 0; w < section->wall_count && used < room; w++) {
        if (section->walls[w].open_contact) {
            int more = snprintf(walls + used, room - used, "%s`%s`", used > 0 ? ", " : "",
                                section->walls[w].name);
            used += more > 0 ? (size_t)more : 0;
        }
    }
}

static us_status note_sealed_results(us_context *context, const us_section *section,
                                     usi_nest *sealed, us_solution *solution, const char *walls)
{
    us_status status = US_OK;
    for (size_t w = 0; status == US_OK && w < section->water_count; w++) {
        us_water_result result = {0};
        status = usi_results_fill(context, section, sealed, w, &result);
        if (status == US_OK) {
            status = note_sealed_case(context, solution, w, &result, walls);
        }
        usi_results_release(&result);
    }
    return status;
}

static bool has_open_contact(const us_section *section)
{
    for (size_t w = 0; w < section->wall_count; w++) {
        if (section->walls[w].open_contact) {
            return true;
        }
    }
    return false;
}

us_status usi_notes_sealed(us_context *context, const usi_nest *nest, us_solution *solution)
{
    const us_section *section = solution->section;
    if (!has_open_contact(section)) {
        return US_OK;
    }
    char walls[512];
    name_contacts(section, walls, sizeof walls);
    /* Soil between two sealed walls has no head: that is an answer here, not a
     * mistake of the file, so its message stays in a context of its own. */
    us_context *quiet = usi_context_create_aside(context);
    usi_nest sealed;
    us_status status =
        quiet != NULL ? usi_nest_sealed(quiet, section, nest, &sealed) : US_ERROR_MEMORY;
    usi_context_close_aside(quiet, context, status);
    if (status == US_OK) {
        status = note_sealed_results(context, section, &sealed, solution, walls);
        usi_nest_free(&sealed);
    } else if (status == US_ERROR_INPUT) {
        status = usi_note_add(context, solution,
                              "With %s sealed into the base no water passes, and the head in the "
                              "soil shut in between is not determined.",
                              walls);
    }
    return status;
}
