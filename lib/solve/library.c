#include "solve/library.h"

#include <cholmod.h>
#include <stdio.h>

#include "base/library.h"

void usi_solve_library_cholmod(us_library *library)
{
    int part[3] = {0, 0, 0};
    (void)cholmod_version(part);
    char version[64];
    (void)snprintf(version, sizeof version, "%d.%d.%d", part[0], part[1], part[2]);
    usi_library_set(library, "CHOLMOD", version);
}
