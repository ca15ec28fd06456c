/* Naming a foreign library and its version: each folder speaks for its own. */
#ifndef USI_BASE_LIBRARY_H
#define USI_BASE_LIBRARY_H

#include "undersill/version.h"

/* Fills in a library; what is too long is cut, a version of NULL is unknown. */
void usi_library_set(us_library *library, const char *name, const char *version);

#endif
