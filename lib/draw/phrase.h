/* Numbers and names as a picture writes them: in the file's own units, with a
 * point under every locale. */
#ifndef USI_DRAW_PHRASE_H
#define USI_DRAW_PHRASE_H

#include "model/section.h"
#include "undersill/solution.h"

/* A short text by value, so that phrases can be put together freely. */
typedef struct usi_phrase {
    char text[240];
} usi_phrase;

/* Texts and whole numbers put together; what does not fit is cut. */
usi_phrase usi_phrase_print(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* `value` with a fixed number of decimals, 0 to 6. */
usi_phrase usi_phrase_fixed(double value, int decimals);

/* `value` with `digits` significant ones: 0.31, or 1.2 x 10^-5 typeset. */
usi_phrase usi_phrase_number(double value, int digits);

/* " x 10^-5", typeset. */
usi_phrase usi_phrase_power(int power);

/* A value and its error, to the last decimal that the error leaves. */
usi_phrase usi_phrase_value(us_value value);

/* A force per width (N/m) in the file's units, with its error when it has one. */
usi_phrase usi_phrase_force(const us_section *section, us_value force_n_m);

/* Pa in one unit of pressure of the file, and that unit's name. */
double usi_phrase_pressure_unit(const us_section *section, const char **name);

/* A place with its error, to one decimal more than lengths have beside it. */
usi_phrase usi_phrase_place(const us_section *section, us_value x_m, int decimals);

/* A length in the file's unit, without and with its name. */
usi_phrase usi_phrase_length(const us_section *section, double length_m, int decimals);
usi_phrase usi_phrase_measure(const us_section *section, double length_m, int decimals);

/* Decimals that suit levels in a window so high. */
int usi_phrase_decimals(const us_section *section, double height_m);

/* A flow per width (m^2/s) or a flow (m^3/s) in the file's units, with error
 * when it is above 0. */
usi_phrase usi_phrase_flow(const us_section *section, us_value flow);
usi_phrase usi_phrase_total(const us_section *section, us_value flow);

/* Conductivity of a soil with its unit. */
usi_phrase usi_phrase_conductivity(const us_section *section, const usi_soil *soil);

/* A name cut to `most` characters, and whether that leaves something out. */
usi_phrase usi_phrase_name(const char *name, size_t most);
bool usi_phrase_is_cut(const char *name, size_t most);

#endif
