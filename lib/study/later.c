#include "study/later.h"

#include <math.h>
#include <stdio.h>

#include "base/context.h"

enum { KEY_ROOM = 64 };

/* True where water stands on part of a bed only, or comes out on a bed of several levels. */
static bool is_part_dry(const usi_line *bed, double level_m, bool at_bed)
{
    return bed->count > 1 && (at_bed || usi_line_highest(bed, -HUGE_VAL, HUGE_VAL) > level_m);
}

static const char *find_in_case(const us_section *section, const usi_water *water)
{
    if (water->ground != NULL || water->undermined != NULL) {
        return "beds";
    }
    if (water->seal_count > 0) {
        return "seal";
    }
    if (is_part_dry(usi_section_upstream_bed(section), water->upstream_m, false)) {
        return "upstream";
    }
    if (is_part_dry(usi_section_downstream_bed(section), water->downstream_m, water->at_bed)) {
        return "downstream";
    }
    return NULL;
}

/* The dotted key, or "" where there is nothing to refuse. */
static void find_key(const us_section *section, char *key)
{
    const char *found = "";
    if (section->drain_count > 0) {
        found = "drains";
    } else if (section->permeable_count > 0) {
        found = "structure.permeable";
    } else if (section->void_count > 0) {
        found = "structure.contact_lost";
    } else if (section->artesian.acts) {
        found = "base.head";
    } else if (section->left.has_head) {
        found = "sides.left.head";
    } else if (section->right.has_head) {
        found = "sides.right.head";
    }
    (void)snprintf(key, KEY_ROOM, "%s", found);
    for (size_t i = 0; i < section->water_count && key[0] == '\0'; i++) {
        const char *part = find_in_case(section, &section->waters[i]);
        if (part != NULL) {
            (void)snprintf(key, KEY_ROOM, "water[%zu].%s", i, part);
        }
    }
}

us_status usi_later_refuse(us_context *context, const us_section *section)
{
    char key[KEY_ROOM];
    find_key(section, key);
    if (key[0] == '\0') {
        return US_OK;
    }
    usi_place place = {section->origin.name, 0, 0, key, NULL};
    usi_context_report(context, US_ERROR, &place, "`undersill check` reads it",
                       "not yet: this release does not solve a section with this");
    return US_ERROR_INPUT;
}
