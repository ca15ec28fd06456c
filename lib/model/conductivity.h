/* Conductivity from what engineers have: grain sizes, or the kind of soil.
 *
 * Hazen (1892, 1911): k = C d10^2 with k in cm/s, d10 in cm and C about 100,
 * that is k (m/s) = 0.01 d10^2 with d10 in mm. For clean sand in a loose state,
 * d10 from 0.1 to 3 mm, uniformity coefficient d60/d10 below 5. Limits from
 * memory. Authors put C from 40 to 150, so k is known to a factor of two or so.
 *
 * Kozeny (1927) and Carman (1937), in the form with d10: k = (g / nu) 8.3e-3
 * n^3 / (1 - n)^2 d10^2. For sand and silt without clay, d10 up to 3 mm; that it
 * lies mostly within a third and three times what is measured is from memory.
 *
 * Classes: ranges as on the chart of Casagrande and Fadum (1940), which Terzaghi
 * and Peck (1948) print; silty sand as textbooks have it. All from memory. */
#ifndef USI_MODEL_CONDUCTIVITY_H
#define USI_MODEL_CONDUCTIVITY_H

#include "model/raw.h"

/* Limits of the formulas, from memory but for porosity and the lower limit of
 * Kozeny-Carman, which are ours: what sands and silts have, and where clay begins. */
#define USI_HAZEN_LEAST_M 1e-4
#define USI_HAZEN_MOST_M 3e-3
#define USI_HAZEN_UNIFORMITY 5.0
#define USI_KOZENY_LEAST_M 2e-6
#define USI_KOZENY_MOST_M 3e-3
#define USI_KOZENY_LEAST_POROSITY 0.2
#define USI_KOZENY_MOST_POROSITY 0.6
#define USI_KOZENY_USUAL_C 20.0 /* when no temperature is given */

/* Names of the classes, NULL at the end. */
extern const char *const usi_conductivity_classes[];

typedef struct usi_conductivity_range {
    double least_m_s;
    double most_m_s;
} usi_conductivity_range;

/* The range of a class, and the value taken for it: its geometric mean. */
usi_conductivity_range usi_conductivity_class_range(size_t index);
double usi_conductivity_class_mean(size_t index);

double usi_conductivity_hazen(double d10_m);
double usi_conductivity_kozeny(double d10_m, double porosity, double temperature_c);

/* Kinematic viscosity of water in m^2/s at 0 to 40 degrees Celsius. */
double usi_conductivity_viscosity(double temperature_c);

/* Fills kh, kv and where they come from; judges nothing. What is missing or
 * could not be read leaves zeros. */
void usi_conductivity_fill(const usi_raw_soil *raw, usi_soil *soil);

#endif
