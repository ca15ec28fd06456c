/* Where water leaves the soil, and how near it is to boiling there. */
#ifndef USI_STUDY_EXIT_PLACES_H
#define USI_STUDY_EXIT_PLACES_H

#include "model/critical.h"
#include "model/situation.h"
#include "study/nest.h"

/* A list in the making. */
typedef struct usi_exit_list {
    const us_section *section;
    const usi_nest *nest;
    usi_datum datum;
    const us_water_result *result; /* drains and stretches are there */
    size_t count;
    us_exit_place *places;
    size_t main; /* the place of the exit gradient; beyond the list where there is none */
} usi_exit_list;

/* How many places there may be. */
size_t usi_exit_places_most(const us_section *section, const usi_nest *nest);

/* Places on the bed, then drains and stretches of the underside that let water up. `places` has
 * room for them. */
void usi_exit_places_bed(usi_exit_list *list);
void usi_exit_places_faces(usi_exit_list *list);

/* What a place goes by: the gradient, or the mean where there is none. */
us_value usi_exit_place_steep(const us_exit_place *place);

/* Fills in critical gradient and factor of a place whose gradient or mean is there. */
void usi_exit_place_judge(us_exit_place *place, const usi_critical *critical);

/* The factor at any point of the downstream bed with this gradient. */
us_value usi_exit_factor(const us_section *section, usi_point at, bool right, us_value gradient);

/* The lowest that the factor may be, errors counted, where the error hides it; HUGE_VAL where
 * no water leaves, or no factor has a meaning. */
double usi_exit_place_least(const us_exit_place *place);

#endif
