/* The libraries behind the solver. */
#ifndef USI_SOLVE_LIBRARY_H
#define USI_SOLVE_LIBRARY_H

#include "undersill/version.h"

void usi_solve_library_cholmod(us_library *library);

/* The dense kernels under CHOLMOD: any BLAS may be there, and only OpenBLAS
 * can be asked. */
void usi_solve_library_blas(us_library *library);

#endif
