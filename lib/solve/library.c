#include "solve/library.h"

#include <cholmod.h>
#include <stdio.h>
#include <string.h>

#include "base/library.h"

extern char *openblas_get_config(void) __attribute__((weak));
extern char *openblas_get_corename(void) __attribute__((weak));

void usi_solve_library_cholmod(us_library *library)
{
    int part[3] = {0, 0, 0};
    (void)cholmod_version(part);
    char version[64];
    (void)snprintf(version, sizeof version, "%d.%d.%d", part[0], part[1], part[2]);
    usi_library_set(library, "CHOLMOD", version);
}

void usi_solve_library_blas(us_library *library)
{
    if (openblas_get_config == NULL || openblas_get_corename == NULL) {
        usi_library_set(library, "BLAS", NULL);
        return;
    }
    /* "OpenBLAS 0.3.21 ...": OpenBLAS writes the same text into one place at
     * every call, so only the part that is the same from the first call on is
     * read here. The core says which kernels it picked. */
    const char *config = openblas_get_config();
    const char *number = strchr(config, ' ');
    number = number != NULL ? number + 1 : "";
    char version[64];
    (void)snprintf(version, sizeof version, "%.*s (%s)", (int)strcspn(number, " "), number,
                   openblas_get_corename());
    usi_library_set(library, "OpenBLAS", version);
}
