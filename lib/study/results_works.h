/* Creep, openings and walls of one water case. */
#ifndef USI_STUDY_RESULTS_WORKS_H
#define USI_STUDY_RESULTS_WORKS_H

#include "study/judge.h"
#include "undersill/works.h"

/* Fills of->result->works; US_ERROR_MEMORY. */
us_status usi_works_fill(const usi_judge *of);

/* Frees what us_water_result.works points at; NULL is allowed. */
void usi_works_free(us_works_result *works);

#endif
