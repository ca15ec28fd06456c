/* A study of tip levels as it is kept. */
#ifndef USI_STUDY_DEPTH_H
#define USI_STUDY_DEPTH_H

#include "study/solution.h"
#include "study/tips.h"
#include "study/view.h"
#include "undersill/depth.h"

/* Water cases that share a field. */
typedef struct usi_depth_part {
    usi_view view;      /* of one case; for several its section alone counts */
    us_section section; /* with those cases */
    usi_water *waters;
    size_t count;
    size_t *cases; /* their indices in the whole */
    usi_tips *tips;
    usi_tip_pairs *pairs; /* in place of it: see usi_depth_solver_make_pairs() */
} usi_depth_part;

/* All that solves the section for any tip. */
typedef struct usi_depth_solver {
    const us_section *section;
    double accuracy;
    usi_tip_levels levels;
    size_t part_count;
    usi_depth_part *parts;
    double high_m; /* what can be solved for */
    double low_m;
    bool coarse; /* for which levels pass, and no more: two coarse grids for what is solved alone */
} usi_depth_solver;

/* A solution with the section that it is of. */
typedef struct usi_depth_point {
    double tip_m;
    bool passes;
    bool afresh;
    bool wanted; /* not for the sake of verdict and chart alone */
    usi_tipped *tipped;
    us_solution *solution;
} usi_depth_point;

typedef struct usi_depth_samples {
    size_t count;
    usi_depth_point *points; /* from the highest down */
} usi_depth_samples;

typedef struct usi_depth_list {
    size_t count;
    us_depth_interval *list;
} usi_depth_list;

struct us_depth {
    const us_section *section;
    usi_depth_solver solver;
    bool requires_any;
    size_t row_count;
    us_depth_row *rows;
    usi_depth_samples samples; /* of which the rows are some */
    usi_depth_list passing;
    usi_depth_list ratio;
    size_t with; /* index of the second wall; meaningless without pairs */
    size_t pair_count;
    us_depth_pair *pairs;
    usi_depth_list *pair_lists; /* one a pair */
    size_t order_count;
    us_depth_order *orders;
    size_t note_count;
    char **notes;
    size_t kept_count; /* sections of solutions that the caller has */
    usi_tipped **kept;
};

/* `section` outlives the solver; free it with usi_depth_solver_free(), also after an error. */
us_status usi_depth_solver_make(us_context *context, const us_section *section,
                                const usi_tip_levels *levels, double accuracy,
                                usi_depth_solver *solver);
void usi_depth_solver_free(usi_depth_solver *solver);

/* What usi_depth_solver_at() makes solvers of, for tips of a second wall, whose levels it can do
 * become levels[1]. Free it likewise. */
us_status usi_depth_solver_make_pairs(us_context *context, const us_section *section,
                                      usi_tip_levels levels[2], double accuracy,
                                      usi_depth_solver *pairs);

/* A solver with the second wall's tip at a level, where `section` has it; `*afresh` says that it
 * was factorised for it alone. */
us_status usi_depth_solver_at(us_context *context, const usi_depth_solver *pairs,
                              const us_section *section, usi_depth_solver *solver, bool *afresh);

/* Free with usi_depth_point_free(), also after an error. */
us_status usi_depth_point_solve(us_context *context, const usi_depth_solver *solver, double tip_m,
                                usi_depth_point *point);
/* The same, by itself where the states are not as accurate as asked for. */
us_status usi_depth_point_refine(us_context *context, const usi_depth_solver *solver, double tip_m,
                                 usi_depth_point *point);
void usi_depth_point_free(usi_depth_point *point);

/* From states of walls alone: where these will not do, `*point` has no solution. */
us_status usi_depth_point_look(us_context *context, const usi_depth_solver *solver, double tip_m,
                               usi_depth_point *point);

/* The intervals of tip level that pass. Free the list with free(), also after an error. */
us_status usi_depth_intervals_find(us_context *context, const usi_depth_solver *solver,
                                   const usi_depth_samples *samples, usi_depth_list *found);

#endif
