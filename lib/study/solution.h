/* The solution as it is kept. */
#ifndef USI_STUDY_SOLUTION_H
#define USI_STUDY_SOLUTION_H

#include "model/section.h"
#include "undersill/solution.h"

struct us_solution {
    const us_section *section;
    size_t water_count;
    us_water_result *water; /* arrays inside belong to the solution */
    size_t register_count;
    us_register_entry *entries; /* of the register of checks; they point into `water` */
    us_grid_result grid;
    size_t note_count;
    char **notes;
    double accuracy;
    bool without_apron; /* asked for beside each case */
    bool other_ratios;  /* of kh and kv asked for, in a note */
    double cells;       /* along the shortest length at a hard point of the finest grid */
};

#endif
