/* The library behind the reader. */
#ifndef USI_INPUT_LIBRARY_H
#define USI_INPUT_LIBRARY_H

#include "undersill/version.h"

void usi_input_library_yaml(us_library *library);

#endif
