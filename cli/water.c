/* The water case that is asked for by name. */
#include <string.h>

#include "command.h"

bool cli_find_water(const cli_options *options, const us_section *section, size_t *index)
{
    enum { OFFERED = 16 };
    const char *known[OFFERED + 1] = {NULL};
    for (size_t i = 0; options->water != NULL; i++) {
        const char *name = us_section_water_name(section, i);
        if (name == NULL) {
            const char *near = cli_nearest(options->water, known);
            if (near != NULL) {
                cli_complain("no water case is called '%s'; did you mean '%s'?", options->water,
                             near);
            } else {
                cli_complain("no water case is called '%s'; the first is '%s'", options->water,
                             known[0]);
            }
            return false;
        }
        if (strcmp(name, options->water) == 0) {
            *index = i;
            break;
        }
        if (i < OFFERED) {
            known[i] = name;
        }
    }
    return true;
}
