#include "output/library.h"

#include <jansson.h>

#include "base/library.h"

void usi_output_library_jansson(us_library *library)
{
    usi_library_set(library, "jansson", jansson_version_str());
}
