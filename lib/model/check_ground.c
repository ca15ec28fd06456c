/* The sides, and soil between the base and the surface everywhere. */
#include <math.h>

#include "base/context.h"
#include "model/check.h"

/* A side that breaks a rule is set aside, so that it troubles nothing else. */
static void check_side(usi_check *check, const usi_raw_side *raw, usi_side *side, bool left)
{
    const us_section *section = check->section;
    if (!usi_check_has_side(raw)) {
        return;
    }
    size_t errors = usi_context_error_count(check->context);
    double end_m = left ? section->left_end_m : section->right_end_m;
    bool inside = left ? side->x_m > end_m : side->x_m < end_m;
    if (inside) {
        usi_check_error(check, &raw->x.at, "move the side outward",
                        "the %s side stands at %s, inside the works, which end at x = %s",
                        left ? "left" : "right", usi_words_length(section, side->x_m).text,
                        usi_words_length(section, end_m).text);
    } else if (side->x_m == end_m && side->kind == USI_SIDE_CLOSED) {
        usi_check_error(check, &raw->kind.at, "move the side outward, or make it `fixed_head`",
                        "a closed side at the end of the works leaves no bed there: no water "
                        "could pass");
    } else if (side->x_m == end_m && section->left_end_m == section->right_end_m) {
        usi_check_error(check, &raw->x.at, "move the side outward",
                        "the side stands at the bare wall and leaves no soil on its side");
    }
    if (usi_context_error_count(check->context) > errors) {
        side->kind = USI_SIDE_ENDLESS;
    }
}

/* True when the base lies at or above the surface there. */
static bool no_soil(const us_section *section, double x_m, bool right)
{
    return usi_section_base(section, x_m, right) >= usi_section_surface(section, x_m, right);
}

/* Under the works that is a finding; elsewhere the bed is at fault. */
static void report_own(usi_check *check, double x_m, double base_m, double surface_m)
{
    const us_section *section = check->section;
    if (x_m >= section->left_end_m && x_m <= section->right_end_m) {
        usi_check_undermine(check, "the bed, %s, reaches the base, %s, at x = %s.",
                            usi_words_length(section, surface_m).text,
                            usi_words_length(section, base_m).text,
                            usi_words_length(section, x_m).text);
        return;
    }
    usi_check_error(check, &check->raw->bed.at, "leave some soil on the base",
                    "the bed of this case, %s, does not lie above the base, %s, at x = %s",
                    usi_words_length(section, surface_m).text,
                    usi_words_length(section, base_m).text, usi_words_length(section, x_m).text);
}

/* True after reporting that there is no soil at x. */
static bool report_no_soil(usi_check *check, double x_m)
{
    const us_section *section = check->section;
    for (int face = 0; face < 2; face++) {
        bool right = face == 1;
        if (usi_section_spans(section, x_m, right) && no_soil(section, x_m, right)) {
            double base_m = usi_section_base(section, x_m, right);
            double surface_m = usi_section_surface(section, x_m, right);
            if (check->own != NULL) {
                report_own(check, x_m, base_m, surface_m);
                return true;
            }
            usi_check_error(check, &check->raw->base.level.at,
                            "give a base below the soil everywhere, or `base: none`",
                            "the base, %s, does not lie below the soil surface, %s, at x = %s",
                            usi_words_length(section, base_m).text,
                            usi_words_length(section, surface_m).text,
                            usi_words_length(section, x_m).text);
            return true;
        }
    }
    return false;
}

void usi_check_ground(usi_check *check)
{
    us_section *section = check->section;
    if (!check->ended) {
        return;
    }
    check_side(check, &check->raw->sides.left, &section->left, true);
    check_side(check, &check->raw->sides.right, &section->right, false);
    check->based = true;
    if (!section->has_base) {
        return;
    }
    /* The levels change at these x only, so looking on both sides of each is enough. */
    const usi_line *lines[] = {&section->left_bed, &section->underside, &section->right_bed,
                               &section->base};
    for (size_t k = 0; k < sizeof lines / sizeof lines[0]; k++) {
        for (size_t i = 0; i < lines[k]->count; i++) {
            if (report_no_soil(check, lines[k]->points[i].x_m)) {
                check->based = false;
                return;
            }
        }
    }
}
