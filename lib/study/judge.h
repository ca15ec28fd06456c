/* Judges: each looks at the results of a water case, and adds what it finds to the checks
 * there. A judge adds a check also where nothing is required, and where something it needs is
 * not known: then the check says what. */
#ifndef USI_STUDY_JUDGE_H
#define USI_STUDY_JUDGE_H

#include "study/solution.h"

typedef struct usi_judge {
    us_context *context;
    const us_section *section;   /* as this case has it, its own beds included */
    const us_solution *solution; /* of all cases: results are there, checks not yet */
    size_t water;                /* which case */
    us_water_result *result;     /* of this case, or of a variant of it */
} usi_judge;

/* For what a check says in `where` and `basis`. */
enum { USI_JUDGE_ROOM = 1024 };

/* Appends a check; its texts are copied. Works the margin out, and the verdict where the caller
 * leaves US_NOT_REQUIRED though there are a value and a limit. */
us_status usi_judge_add(const usi_judge *of, const us_check_result *check);

/* A limit of the section as a check has it. */
us_value usi_judge_limit(usi_requirement limit);

/* One a kind of check. */
us_status usi_judge_piping(const usi_judge *of);
us_status usi_judge_heave(const usi_judge *of);
us_status usi_judge_hyd(const usi_judge *of);
us_status usi_judge_blow_up(const usi_judge *of);
us_status usi_judge_uplift(const usi_judge *of);
us_status usi_judge_upl(const usi_judge *of);

/* The first of these works out what the others look at (study/results_works.h). */
us_status usi_judge_creep(const usi_judge *of);
us_status usi_judge_retention(const usi_judge *of);
us_status usi_judge_banks(const usi_judge *of);
us_status usi_judge_embedment(const usi_judge *of);
us_status usi_judge_corrosion(const usi_judge *of);
us_status usi_judge_load(const usi_judge *of);

#endif
