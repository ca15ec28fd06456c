/* From a nest of unit readings to the results of one water case. */
#ifndef USI_STUDY_RESULTS_H
#define USI_STUDY_RESULTS_H

#include "model/situation.h"
#include "study/nest.h"
#include "study/solution.h"
#include "undersill/solution.h"

/* Fills `result` for water case `index`, checks apart. Arrays are the
 * solution's. */
us_status usi_results_fill(us_context *context, const us_section *section, const usi_nest *nest,
                           size_t index, us_water_result *result);

/* Fills in what the section says of a water case, without solving it. */
void usi_results_name(const us_section *section, size_t index, us_water_result *result);

/* Fills in what happens at drains, stretches of the underside, dry bed and the base. Part
 * of usi_results_fill(). */
us_status usi_results_water(us_context *context, const us_section *section, const usi_nest *nest,
                            us_water_result *result);

/* Fills in prisms of soil and tight layers that water might lift. Part of usi_results_fill(). */
void usi_results_heave(const us_section *section, const usi_nest *nest, size_t index,
                       us_water_result *result);
void usi_results_blow_up(const us_section *section, const usi_nest *nest, size_t index,
                         us_water_result *result);
/* Fills in what lifts and what holds the structure, with its own pore pressure. Part of
 * usi_results_fill(). */
us_status usi_results_uplift(us_context *context, const us_section *section, const usi_nest *nest,
                             size_t index, us_water_result *result);

/* Takes the pore pressure of cases that name another one from there: when all are solved. */
void usi_results_share_pressures(us_solution *solution);

/* Fills in the places where water leaves the soil, and the piping factor; drains and stretches are
 * there. Part of usi_results_fill(). */
us_status usi_results_exits(us_context *context, const us_section *section, const usi_nest *nest,
                            usi_datum datum, us_water_result *result);

/* Frees what belongs to `result`, checks included. */
void usi_results_release(us_water_result *result);

/* The exit that governs. */
usi_point usi_results_exit(const usi_nest *nest);

#endif
