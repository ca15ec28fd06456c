#include "model/ground.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "model/build.h"
#include "model/check.h"

/* The raw section of one case: its beds, and itself as the only water. */
static usi_raw_section raw_of_case(us_context *context, const usi_raw_section *raw,
                                   usi_raw_water *water)
{
    usi_raw_section own = *raw;
    own.errors_before = usi_context_error_count(context);
    own.bed.at = water->beds.at;
    if (water->beds.upstream.given) {
        own.bed.upstream = water->beds.upstream;
    }
    if (water->beds.downstream.given) {
        own.bed.downstream = water->beds.downstream;
    }
    water->beds = (usi_raw_bed){0};
    own.waters = (usi_raw_list){true, 1, water, raw->waters.at};
    return own;
}

static bool has_note(const us_section *section, const char *note)
{
    for (size_t i = 0; i < section->note_count; i++) {
        if (strcmp(section->notes[i], note) == 0) {
            return true;
        }
    }
    return false;
}

/* Notes that the case alone gives rise to join those of the whole. */
static void pass_notes(usi_check *whole, us_section *ground)
{
    for (size_t i = 0; i < ground->note_count; i++) {
        const char *note = ground->notes[i];
        if (!whole->failed && !has_note(whole->section, note)) {
            bool named = strncmp(note, "Water case", strlen("Water case")) == 0;
            usi_check_note(whole, named ? "%s%s%s" : "Water case %s, with beds of its own: %s%s",
                           named ? "" : ground->waters[0].name, note, "");
        }
        free(ground->notes[i]);
        ground->notes[i] = NULL;
    }
    ground->note_count = 0;
}

static us_status lay(us_context *context, const usi_raw_section *raw, us_section *whole,
                     size_t index)
{
    usi_water *water = &whole->waters[index];
    usi_raw_water one = ((const usi_raw_water *)raw->waters.items)[index];
    bool up = one.beds.upstream.given;
    bool down = one.beds.downstream.given;
    one.name.text = water->name;
    usi_raw_section own_raw = raw_of_case(context, raw, &one);
    usi_own own = {.whole = whole,
                   .water = water,
                   .left = whole->flows_left ? down : up,
                   .right = whole->flows_left ? up : down};
    us_section *ground = NULL;
    us_status status = usi_section_build_own(context, &own_raw, &own, &ground);
    if (status != US_OK) {
        free(own.undermined);
        return status;
    }
    usi_check check = {.context = context, .raw = raw, .section = whole};
    water->upstream_m = ground->waters[0].upstream_m;
    water->downstream_m = ground->waters[0].downstream_m;
    water->at_bed = ground->waters[0].at_bed;
    water->undermined = own.undermined;
    if (own.undermined == NULL) {
        pass_notes(&check, ground);
        water->ground = ground;
    } else {
        water->lost = ground;
    }
    return check.failed ? US_ERROR_MEMORY : US_OK;
}

us_status usi_ground_lay(us_context *context, const usi_raw_section *raw, us_section *whole)
{
    const usi_raw_water *waters = raw->waters.items;
    us_status status = US_OK;
    us_status worst = US_OK;
    for (size_t i = 0; i < whole->water_count && worst != US_ERROR_MEMORY; i++) {
        if (waters[i].beds.at.line > 0) {
            status = lay(context, raw, whole, i);
            worst = status != US_OK ? status : worst;
        }
    }
    return worst;
}
