/* The library behind JSON. */
#ifndef USI_OUTPUT_LIBRARY_H
#define USI_OUTPUT_LIBRARY_H

#include "undersill/version.h"

void usi_output_library_jansson(us_library *library);

#endif
