/* Tables that the trade judges works by: creep ratios, and steel lost to rust.
 *
 * Creep: Lane (1935, Trans. ASCE 100, 1235; his list also in Design of Small Dams, US Bureau of
 * Reclamation) and Bligh (Practical Design of Irrigation Works, 1910). Lane's list, Bligh's 18 and
 * his 4 to 6 are from memory. Where a list gives a range, the larger end stands here.
 *
 * Rust: EN 1993-5:2007, tables 4-1 (soils) and 4-2 (water), recommended losses of thickness on a
 * side that is exposed. From memory; a national annex may set others. */
#ifndef USI_MODEL_WORKS_H
#define USI_MODEL_WORKS_H

#include <stdbool.h>
#include <stddef.h>

#include "model/section.h"

/* Kinds of ground as the lists of creep ratios have them, NULL at the end. */
extern const char *const usi_creep_classes[];

/* Length over head difference that a list asks for; 0 where the list lacks that ground. */
double usi_creep_ratio(size_t creep_class, usi_creep_rule rule);

/* Surroundings of steel as the tables have them, NULL at the end. */
extern const char *const usi_environments[];

/* True for the surroundings of table 4-1, false for those of 4-2. */
bool usi_environment_is_soil(size_t environment);

/* Thickness lost on one side in 0 to 100 years: straight between the years of the table. */
double usi_environment_loss(size_t environment, double years);

#endif
