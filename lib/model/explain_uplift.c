/* Panels, water on the structure and limit states told back in words. */
#include "model/check.h"
#include "model/explain.h"

#define LENGTH(value_m) (usi_words_length(section, (value_m)).text)

enum { MOST_JOINTS = 12 }; /* told one by one */

void usi_tell_joints(us_buffer *text, const us_section *section)
{
    if (section->joint_count == 0) {
        return;
    }
    usi_buffer_print(text, "  %zu panels, parted at ", section->joint_count + 1);
    for (size_t i = 0; i < section->joint_count && i < MOST_JOINTS; i++) {
        usi_buffer_print(text, "%sx = %s", i > 0 ? ", " : "", LENGTH(section->joints_m[i]));
    }
    if (section->joint_count > MOST_JOINTS) {
        usi_buffer_print(text, " and %zu more", section->joint_count - MOST_JOINTS);
    }
    usi_buffer_add_text(text, "\n");
}

void usi_tell_storage(us_buffer *text, const us_section *section, const usi_soil *soil)
{
    const usi_unit *unit = usi_unit_of_inverse(section->units.length);
    char number[USI_NUMBER_ROOM];
    if (soil->stores && unit != NULL) {
        usi_buffer_print(text, ", specific storage %s %s",
                         usi_number_write(number, soil->specific_storage_1_m / unit->factor, 7),
                         unit->name);
    }
}

void usi_tell_lift(us_buffer *text, const us_section *section, const usi_water *water)
{
    if (water->surface.count > 0) {
        usi_buffer_add_text(text, "    water surface over the structure: ");
        usi_tell_levels(text, section, &water->surface);
        usi_buffer_add_text(text, "\n");
    }
    if (water->pressures_from != NULL) {
        usi_buffer_print(text, "    the structure is lifted by the pore pressure of %s\n",
                         water->pressures_from);
    }
}
