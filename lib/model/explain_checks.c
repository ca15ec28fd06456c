/* What is required of the section. */
#include "base/number.h"
#include "model/explain.h"

enum { DIGITS = 7 };

static void tell_least(us_buffer *text, const char *name, usi_requirement limit)
{
    char factor[USI_NUMBER_ROOM];
    if (limit.given) {
        usi_buffer_print(text, "  %s: a factor of at least %s\n", name,
                         usi_number_write(factor, limit.value, DIGITS));
    }
}

static void tell_limit_state(us_buffer *text, const char *name, const usi_partial_factors *factors)
{
    char dst[USI_NUMBER_ROOM];
    char stb[USI_NUMBER_ROOM];
    if (factors->asked) {
        usi_buffer_print(text, "  limit state %s of EN 1997-1: partial factors %s and %s%s\n", name,
                         usi_number_write(dst, factors->dst, DIGITS),
                         usi_number_write(stb, factors->stb, DIGITS),
                         factors->own ? ""
                                      : " (what the file leaves open is the standard's recommended "
                                        "value; your country may have chosen another)");
    }
}

void usi_tell_requirements(us_buffer *text, const us_section *section)
{
    const usi_requirements *require = &section->require;
    const usi_partial_factors *hyd = &section->limit_states.hyd;
    const usi_partial_factors *upl = &section->limit_states.upl;
    usi_buffer_add_text(text, "\nRequirements\n");
    tell_least(text, "piping", require->piping);
    tell_least(text, "heave", require->heave);
    tell_least(text, "blow-up", require->blow_up);
    tell_least(text, "uplift", require->uplift);
    tell_limit_state(text, "HYD", hyd);
    tell_limit_state(text, "UPL", upl);
    bool any = usi_tell_work_limits(text, section);
    if (!any && !require->piping.given && !require->heave.given && !require->blow_up.given &&
        !require->uplift.given && !hyd->asked && !upl->asked) {
        usi_buffer_add_text(text, "  none\n");
    }
}
