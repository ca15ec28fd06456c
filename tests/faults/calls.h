/* The public calls that test_memory has fail, as functions of one form. */
#ifndef TESTS_FAULTS_CALLS_H
#define TESTS_FAULTS_CALLS_H

#include "support/support.h"

typedef struct fixture {
    us_context *context;
    us_section *section;
    us_section *aside;
    us_solution *solution;
    us_buffer *table;
    char folder[64];
    char path[96];
    char spare[96];
} fixture;

/* What a call may give; one of them. */
typedef struct outcome {
    us_section *section;
    us_solution *solution;
    us_buffer *bytes;
} outcome;

/* The section that most of them work on. */
extern const char calls_good_text[];

/* One more, with what calls_solve_aside() needs. */
extern const char calls_aside_text[];

us_status calls_read_good(fixture *with, outcome *out);
us_status calls_read_bad(fixture *with, outcome *out);
us_status calls_read_misplaced(fixture *with, outcome *out);
us_status calls_read_broken(fixture *with, outcome *out);
us_status calls_read_edges(fixture *with, outcome *out);
us_status calls_read_file(fixture *with, outcome *out);
us_status calls_explain(fixture *with, outcome *out);
us_status calls_solve(fixture *with, outcome *out);
us_status calls_solve_aside(fixture *with, outcome *out);
us_status calls_tabulate_text(fixture *with, outcome *out);
us_status calls_tabulate_csv(fixture *with, outcome *out);
us_status calls_tabulate_json(fixture *with, outcome *out);
us_status calls_verify(fixture *with, outcome *out);
us_status calls_draw_net(fixture *with, outcome *out);
us_status calls_draw_section(fixture *with, outcome *out);
us_status calls_draw_uplift(fixture *with, outcome *out);
us_status calls_draw_exit(fixture *with, outcome *out);
us_status calls_draw_svg(fixture *with, outcome *out);
us_status calls_draw_pdf(fixture *with, outcome *out);
us_status calls_study_table(fixture *with, outcome *out);
us_status calls_study_chart(fixture *with, outcome *out);
us_status calls_write_file(fixture *with, outcome *out);
us_status calls_replace_file(fixture *with, outcome *out);

#endif
