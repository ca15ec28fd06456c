/* The library behind the solver. */
#ifndef USI_SOLVE_LIBRARY_H
#define USI_SOLVE_LIBRARY_H

#include "undersill/version.h"

void usi_solve_library_cholmod(us_library *library);

#endif
