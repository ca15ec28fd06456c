/* One random section on trial, and the tally of many. */
#ifndef TESTS_RANDOM_TRIAL_H
#define TESTS_RANDOM_TRIAL_H

#include "support/support.h"

typedef struct tally {
    double accuracy; /* asked for */
    size_t tried;
    size_t solved;
    size_t unconverged;
    size_t failed;
    size_t finer; /* looked at on a second grid */
    double seconds;
    double slowest_s;
    uint64_t slowest;
    size_t unknowns; /* most */
    int steps;       /* most, to tell open dry bed from closed */
    double balance;  /* worst */
    double outside;  /* of its range is a head, on a coarse grid */
} tally;

typedef struct trial {
    uint64_t index;
    us_context *context;
    us_section *section;
    size_t faults;
} trial;

/* Says on stderr what is wrong and counts it. */
void trial_fault(trial *of, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* True of a present value; a fault where it is not finite or its error is none. */
bool trial_sane(trial *of, const char *what, us_value value);

/* The heads of all walls lie between two. */
void trial_check_walls(trial *of, const us_water_result *water, double low_m, double high_m);

/* Mass balance and size of the grid. */
void trial_check_balance(trial *of, const us_solution *solution, tally *sum);

/* Looks at one solution. */
typedef void trial_check(trial *of, const us_solution *solution, tally *sum);

/* Reads and solves a section and has it checked. */
void trial_run(uint64_t index, const char *text, trial_check *check, tally *sum);

/* The same for sections from standard input, each behind a line `--- INDEX`: of each it
 * says `INDEX ...` before, and what became of it after. */
void trial_run_input(trial_check *check, tally *sum);

/* Prints the tally; what a program is to exit with. */
int trial_end(const tally *sum);

#endif
