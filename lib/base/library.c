#include "base/library.h"

#include <stdio.h>

void usi_library_set(us_library *library, const char *name, const char *version)
{
    (void)snprintf(library->name, sizeof library->name, "%s", name);
    (void)snprintf(library->version, sizeof library->version, "%s",
                   version != NULL ? version : "unknown");
}
