/* The list of libraries in use, asked of the folders that know them. */
#include "draw/library.h"
#include "input/library.h"
#include "output/library.h"
#include "solve/library.h"

bool us_version_library(size_t index, us_library *library)
{
    static void (*const readers[])(us_library *) = {
        usi_solve_library_cholmod, usi_input_library_yaml, usi_output_library_jansson,
        usi_draw_library_cairo,    usi_draw_library_pango, usi_draw_library_png,
    };
    if (library == NULL || index >= sizeof readers / sizeof readers[0]) {
        return false;
    }
    readers[index](library);
    return true;
}
