/* Release number. */
#ifndef UNDERSILL_VERSION_H
#define UNDERSILL_VERSION_H

#include "undersill/status.h"

#define US_VERSION "0.1.0"

#ifdef __cplusplus
extern "C" {
#endif

/** Release of the library in use, such as "0.1.0". Static. */
US_API const char *us_version(void);

#ifdef __cplusplus
}
#endif
#endif
