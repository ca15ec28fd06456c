/* Numbers for people: as many digits as the error leaves. */
#ifndef USI_OUTPUT_FIGURE_H
#define USI_OUTPUT_FIGURE_H

#include "base/number.h"
#include "undersill/solution.h"

/* A value and its error as text of one precision. */
typedef struct usi_figure {
    char value[USI_NUMBER_ROOM];
    char error[USI_NUMBER_ROOM]; /* rounded up; "" where there is none */
} usi_figure;

/* Rounds `value` at the first digit of its error (the second where the first
 * is 1), but no finer than `finest` (0: no limit), with at least 3 and at most
 * 7 significant digits. Below 0.001 and from a million on both take an
 * exponent. Absent gives `absent`. */
usi_figure usi_figure_of(us_value value, double finest, const char *absent);

/* `value` with `decimals` digits behind the point (negative: rounded at tens,
 * hundreds, ...). `buffer` has USI_NUMBER_ROOM bytes. Returns `buffer`. */
char *usi_figure_fixed(char *buffer, double value, int decimals);

#endif
