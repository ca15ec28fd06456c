/* Numbers as text, the same under every locale. */
#ifndef USI_BASE_NUMBER_H
#define USI_BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

enum { USI_NUMBER_ROOM = 40 };

/* Reads a plain decimal number (`-12`, `3.5`, `.5`, `2e-5`) that starts at
 * `text` and must end before `end`. Returns the first byte not read, or NULL
 * when no number starts there. Hex, octal, `1_000`, `inf` and `nan` are no
 * numbers. Overflow gives an infinite `*value`: the caller refuses it. */
const char *usi_number_read(const char *text, const char *end, double *value);

/* Writes `value` with `digits` significant digits (1 to 17), shortest of fixed
 * and exponent form as printf's %g does, always with a point. `buffer` has
 * USI_NUMBER_ROOM bytes. Returns `buffer`. */
char *usi_number_write(char *buffer, double value, int digits);

#endif
