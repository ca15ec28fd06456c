/* Notes on all cases together: what a careful colleague would ask. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "model/oddities.h"
#include "study/notes.h"
#include "study/text.h"

enum { NAMES_ROOM = 512, NAME_SHOWN = 120 };

/* The level that water has to pass to flow over the works. */
static double crest_level(const us_section *section)
{
    bool upstream_right = section->flows_left;
    double heel_m = usi_section_heel_x(section);
    double crest_m = usi_line_level(usi_section_upstream_bed(section), heel_m, upstream_right);
    if (section->has_structure) {
        const usi_line *top =
            section->structure_top.count > 0 ? &section->structure_top : &section->underside;
        return fmax(crest_m, usi_line_highest(top, -HUGE_VAL, HUGE_VAL));
    }
    for (size_t w = 0; w < section->wall_count; w++) {
        bool here = fabs(section->walls[w].x_m - heel_m) <= usi_section_tolerance(section);
        crest_m = here ? fmax(crest_m, section->walls[w].top_m) : crest_m;
    }
    return crest_m;
}

static double difference(const usi_water *water)
{
    return water->upstream_m - water->downstream_m;
}

static us_status note_low_flow(us_context *context, us_solution *solution)
{
    const us_section *section = solution->section;
    const usi_water *steepest = &section->waters[0];
    double highest_m = steepest->upstream_m;
    double tolerance_m = usi_section_tolerance(section);
    for (size_t w = 1; w < section->water_count; w++) {
        const usi_water *water = &section->waters[w];
        highest_m = fmax(highest_m, water->upstream_m);
        steepest = difference(water) > difference(steepest) ? water : steepest;
    }
    double crest_m = crest_level(section);
    char crest[USI_TEXT_ROOM];
    bool high = steepest->upstream_m >= highest_m - tolerance_m &&
                steepest->upstream_m > crest_m + tolerance_m;
    if (!high || steepest->at_bed || difference(steepest) <= 0.0) {
        return US_OK;
    }
    return usi_note_add(context, solution,
                        "No case of low flow is given: `%.*s` has both the highest water and the "
                        "largest head difference. Over a drop that difference is often largest "
                        "when little water flows: upstream little above %s, downstream next to "
                        "none.",
                        NAME_SHOWN, steepest->name, usi_text_length(section, crest_m, crest));
}

static bool lacks_tailwater(const us_section *section, const usi_water *water, double crest_m)
{
    const us_section *ground = water->ground != NULL ? water->ground : section;
    double toe_m = usi_line_level(usi_section_downstream_bed(ground), usi_section_toe_x(ground),
                                  !ground->flows_left);
    double tolerance_m = usi_section_tolerance(section);
    return water->upstream_m > crest_m + tolerance_m &&
           (water->at_bed || water->downstream_m <= toe_m + tolerance_m);
}

static us_status note_tailwater(us_context *context, us_solution *solution)
{
    const us_section *section = solution->section;
    double crest_m = crest_level(section);
    const usi_water *first = NULL;
    size_t count = 0;
    for (size_t w = 0; w < section->water_count; w++) {
        if (lacks_tailwater(section, &section->waters[w], crest_m)) {
            first = first == NULL ? &section->waters[w] : first;
            count++;
        }
    }
    if (first == NULL) {
        return US_OK;
    }
    char over[USI_TEXT_ROOM];
    char more[USI_TEXT_ROOM] = "";
    if (count > 1) {
        (void)snprintf(more, sizeof more, " (and %zu more)", count - 1);
    }
    return usi_note_add(context, solution,
                        "%.*s%s: water stands %s over the top of the works and so flows over them, "
                        "but none stands on the bed at the toe. That is on the safe side for the "
                        "exit gradient, not for the uplift: give the tailwater that goes with the "
                        "flow, or add a case that has it.",
                        NAME_SHOWN, first->name, more,
                        usi_text_length(section, first->upstream_m - crest_m, over));
}

/* Each line that `check` would tell. */
static us_status note_datum(us_context *context, us_solution *solution)
{
    us_buffer *told = usi_buffer_create(context);
    usi_odd to = {told, solution->section, true};
    usi_odd_tell_datum(&to);
    us_buffer *text = NULL;
    us_status status = usi_buffer_finish(told, &text);
    const char *at = status == US_OK ? us_buffer_data(text) : NULL;
    const char *end = at != NULL ? at + us_buffer_length(text) : NULL;
    while (status == US_OK && at < end) {
        const char *stop = memchr(at, '\n', (size_t)(end - at));
        const char *until = stop != NULL ? stop : end;
        at += strspn(at, " ");
        status =
            usi_note_add(context, solution, "Worth a second look: %.*s", (int)(until - at), at);
        at = until + 1;
    }
    us_buffer_free(text);
    return status;
}

static us_status note_upstream_exit(us_context *context, us_solution *solution)
{
    us_status status = US_OK;
    for (size_t w = 0; status == US_OK && w < solution->water_count; w++) {
        const us_water_result *water = &solution->water[w];
        us_value flow = water->flow.rate_m2_s;
        if (flow.present && flow.value < -flow.error) {
            status = usi_note_add(context, solution,
                                  "%.*s: more water leaves the soil on the upstream side than "
                                  "enters it. The gradient there is not judged.",
                                  NAME_SHOWN, water->name);
        }
    }
    return status;
}

/* Appends `name` to a list of names, once. */
static void list_name(char *list, const char *name)
{
    size_t used = strlen(list);
    size_t length = strlen(name);
    for (const char *at = strstr(list, name); at != NULL; at = strstr(at + 1, name)) {
        bool begins = at == list || at[-1] == ' ';
        if (begins && (at[length] == '\0' || at[length] == ',')) {
            return;
        }
    }
    (void)snprintf(list + used, NAMES_ROOM - used, "%s%s", used > 0 ? ", " : "", name);
}

static us_status note_unchecked(us_context *context, us_solution *solution)
{
    char unchecked[NAMES_ROOM] = "";
    char unlimited[NAMES_ROOM] = "";
    for (size_t w = 0; w < solution->water_count; w++) {
        const us_water_result *water = &solution->water[w];
        for (size_t c = 0; c < water->check_count; c++) {
            const us_check_result *check = &water->checks[c];
            if (check->verdict == US_NOT_CHECKED) {
                list_name(unchecked, check->name);
            } else if (check->verdict == US_NOT_REQUIRED) {
                list_name(unlimited, check->name);
            }
        }
    }
    us_status status = US_OK;
    if (unchecked[0] != '\0') {
        status = usi_note_add(context, solution,
                              "Not checked in every case, as something is not known that is "
                              "needed: %s. The checks say what.",
                              unchecked);
    }
    if (status == US_OK && unlimited[0] != '\0') {
        status =
            usi_note_add(context, solution,
                         "Without a limit of yours, so neither passed nor failed: %s.", unlimited);
    }
    return status;
}

us_status usi_notes_cases(us_context *context, us_solution *solution)
{
    static us_status (*const notes[])(us_context * context, us_solution * solution) = {
        note_low_flow, note_tailwater, note_datum, note_upstream_exit, note_unchecked};
    us_status status = US_OK;
    for (size_t k = 0; status == US_OK && k < sizeof notes / sizeof notes[0]; k++) {
        status = notes[k](context, solution);
    }
    return status;
}
