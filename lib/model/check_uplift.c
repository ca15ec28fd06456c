/* Joints, water over the structure, pore pressure of other cases, and what checks of uplift
 * need. */
#include <string.h>

#include "model/check.h"

static void check_joints(usi_check *check)
{
    const us_section *section = check->section;
    const usi_raw_numbers *raw = &check->raw->structure.joints;
    for (size_t i = 0; i < section->joint_count; i++) {
        double x_m = section->joints_m[i];
        if (i > 0 && x_m <= section->joints_m[i - 1]) {
            usi_check_error(check, &raw->items[i].at, "give the joints by growing x, each once",
                            "the joint at x = %s does not lie to the right of the one before it",
                            usi_words_length(section, x_m).text);
            return;
        }
        if (check->ended && (x_m <= section->left_end_m || x_m >= section->right_end_m)) {
            usi_check_error(check, &raw->items[i].at, "joints part the structure: none at its ends",
                            "the joint at x = %s does not lie inside the structure, which goes "
                            "from x = %s to x = %s",
                            usi_words_length(section, x_m).text,
                            usi_words_length(section, section->left_end_m).text,
                            usi_words_length(section, section->right_end_m).text);
        }
    }
}

static void check_surface(usi_check *check, const usi_water *water, const usi_raw_water *raw)
{
    const usi_raw_section *whole = check->raw;
    if (raw->surface.at.line == 0) {
        return;
    }
    if (whole->structure.at.line == 0) {
        usi_check_error(check, &raw->surface.at, "leave `surface` out",
                        "there is no structure for water to stand on");
    } else if (whole->structure.top.at.line == 0) {
        usi_check_error(check, &raw->surface.at, "give the structure its `top`",
                        "the water that stands on the structure needs to know where its top is");
    } else {
        (void)usi_check_line(check, &raw->surface, &water->surface);
    }
}

/* Which case is called so; the number of cases when none is. */
static size_t find_case(const us_section *section, const char *name)
{
    size_t index = 0;
    while (index < section->water_count && strcmp(section->waters[index].name, name) != 0) {
        index++;
    }
    return index;
}

static void check_pressures(usi_check *check, size_t index, const usi_raw_water *raw)
{
    const us_section *section = check->section;
    const char *name = section->waters[index].pressures_from;
    const usi_mark *mark = &raw->pressures_from.at;
    /* A case with beds of its own is a section of one case; the whole has judged it. */
    if (name == NULL || check->own != NULL) {
        return;
    }
    size_t from = find_case(section, name);
    if (!section->has_structure) {
        usi_check_error(check, mark, "leave `pressures_from` out",
                        "there is no structure for pore pressure to lift");
    } else if (from == section->water_count) {
        usi_check_error(check, mark, "give the `name` of another entry of `water`",
                        "there is no water case called %s", name);
    } else if (from == index) {
        usi_check_error(check, mark, "leave it out, or name another case",
                        "water case %s has its own pore pressure anyway", name);
    } else if (section->waters[from].pressures_from != NULL) {
        usi_check_error(check, mark, "name the case whose water levels the pore pressure is from",
                        "water case %s takes its pore pressure from another one too", name);
    }
}

/* What is judged by the weight of the structure needs to know it. */
static void check_weight(usi_check *check, const usi_mark *mark, const char *what)
{
    const usi_raw_structure *raw = &check->raw->structure;
    if (mark->line == 0) {
        return;
    }
    if (raw->at.line == 0) {
        usi_check_error(check, mark, "leave it out of a section without a structure",
                        "there is no structure to be lifted, so %s cannot be judged", what);
    } else if (raw->top.at.line == 0 || raw->unit_weight.at.line == 0) {
        bool top = raw->top.at.line > 0;
        bool weight = raw->unit_weight.at.line > 0;
        usi_check_error(check, mark,
                        top      ? "give the structure its `unit_weight`"
                        : weight ? "give the structure its `top`"
                                 : "give the structure its `top` and `unit_weight`",
                        "%s needs the weight of the structure", what);
    }
}

void usi_check_uplift(usi_check *check)
{
    const us_section *section = check->section;
    const usi_raw_water *raw = check->raw->waters.items;
    check_joints(check);
    for (size_t i = 0; i < section->water_count; i++) {
        check_surface(check, &section->waters[i], &raw[i]);
        check_pressures(check, i, &raw[i]);
    }
    check_weight(check, &check->raw->require.uplift.at, "the uplift factor");
    check_weight(check, &check->raw->limit_states.upl.at, "the limit state UPL");
}
