#include "input/library.h"

#include <yaml.h>

#include "base/library.h"

void usi_input_library_yaml(us_library *library)
{
    usi_library_set(library, "libyaml", yaml_get_version_string());
}
