/* Two solutions of one water case that came about differently, held against both their errors. */
#ifndef TESTS_SUPPORT_BOTH_H
#define TESTS_SUPPORT_BOTH_H

#include "support/support.h"

typedef struct support_tally {
    size_t all;
    size_t missed; /* further apart than both errors */
} support_tally;

/* Counts every quantity and check. Flow, exit gradient, its mean and uplift may not miss. */
void support_compare_cases(const us_water_result *one, const us_water_result *other,
                           support_tally *count);

#endif
