/* Nested readings, refined until the stated error is small enough. */
#ifndef USI_STUDY_NEST_H
#define USI_STUDY_NEST_H

#include "study/estimate.h"
#include "study/governing.h"
#include "study/pick.h"
#include "undersill/solution.h"

enum { USI_NEST_MOST = 3 };

typedef struct usi_nest {
    size_t exit_count;
    usi_exit *exits;
    size_t prism_count; /* none where open contacts are sealed for comparison */
    usi_prism *prisms;
    size_t tight_count;
    usi_tight *tights;
    size_t count;                        /* of readings: 2, or 3 to extrapolate from */
    usi_reading readings[USI_NEST_MOST]; /* coarse to fine, every cell halved both ways */
    double cells;                        /* of the coarsest grid */
    int halvings;
    double accuracy;   /* asked for */
    double truncation; /* relative effect that cutting endless soil may have */
    usi_governing governing;
    bool converged;
    bool blended;      /* between grids that are drawn together towards no tip: see study/tips.h */
    size_t wall_count; /* of the section */
    size_t piezometer_count;
    double largest_head_error; /* what the grids give the worst head that is read */
    bool gradient_alone;       /* nothing else is wanted, or has to reach the accuracy */
} usi_nest;

/* Cells of the grid that refinement starts from. */
double usi_nest_first_cells(double accuracy);

/* Fills `nest` on US_OK; free it with usi_nest_free(). When the size limit stops
 * refinement, `converged` is false and the best nest is kept. */
us_status usi_nest_refine(us_context *context, const us_section *section, double accuracy,
                          usi_nest *nest);

/* Two grids half as fine as those that refinement starts from, whatever their errors. */
us_status usi_nest_pair(us_context *context, const us_section *section, double accuracy,
                        usi_nest *nest);

/* As usi_nest_refine(), for the gradient at the governing exit, whatever else the grids have: all
 * that it may then be asked for. */
us_status usi_nest_refine_gradient(us_context *context, const us_section *section, double accuracy,
                                   usi_nest *nest);

/* Two coarse grids, half as fine as those that refinement starts from: values within a few per
 * cent, at a quarter of the work. */
us_status usi_nest_rough(us_context *context, const us_section *section, usi_nest *nest);

/* The same nest with every open contact at the base sealed. */
us_status usi_nest_sealed(us_context *context, const us_section *section, const usi_nest *nest,
                          usi_nest *sealed);

void usi_nest_free(usi_nest *nest);

/* For readings that come from elsewhere: a nest with its places and no reading, and what
 * follows once they are there. */
us_status usi_nest_begin(us_context *context, const us_section *section, double accuracy,
                         usi_nest *nest);
void usi_nest_settle(usi_nest *nest);

/* The finest reading. */
const usi_reading *usi_nest_finest(const usi_nest *nest);

/* What the nested grids alone say about a value. */
usi_estimate usi_nest_estimate(const usi_nest *nest, usi_pick pick, size_t index);

/* A value with its error: what the nested grids say (usi_estimate_nested()) plus
 * the effect of cutting endless soil. */
us_value usi_nest_value(const usi_nest *nest, usi_pick pick, size_t index);

/* A flow, likewise: that of the section, or one of its outflows where a situation acts.
 * There two grids may agree by chance, and the error is at least a small share of the
 * distance between its bounds. */
us_value usi_nest_flow(const usi_nest *nest);
us_value usi_nest_outflow(const usi_nest *nest, size_t index);

/* What passes through a wall, likewise; its error is at least a small share of the distance
 * between the bounds of the section's flow. */
us_value usi_nest_through(const usi_nest *nest, size_t wall);

/* A reduced head between 0 and 1, likewise; its error is at least
 * usi_nest_head_least(). */
us_value usi_nest_head(const usi_nest *nest, usi_pick pick, size_t index);

/* The least error of a reduced head: a small share of what the two problems differ
 * by in flow, which shows how coarse the grid is even where nested differences
 * pass through zero. */
double usi_nest_head_least(const usi_nest *nest);

/* Exit gradient per unit head difference, the governing one or that at an exit; absent when
 * unbounded. */
us_value usi_nest_gradient(const usi_nest *nest);
us_value usi_nest_exit_gradient(const usi_nest *nest, size_t exit);

/* The gradient at a worst place on the bed, likewise; absent where some grid has none. */
us_value usi_nest_worst(const usi_nest *nest, usi_bed_worst_kind kind);

/* Points of the governing exit's profile that every grid has, and the gradient at
 * one of them, likewise. */
size_t usi_nest_profile_count(const usi_nest *nest);
us_value usi_nest_profile(const usi_nest *nest, size_t point);

/* Mean gradient at the governing exit, or at another, likewise. */
us_value usi_nest_mean(const usi_nest *nest);
us_value usi_nest_exit_mean(const usi_nest *nest, size_t exit);

/* The depth of that mean; there is an exit. Below a peak it is the toe's. */
double usi_nest_mean_depth(const usi_nest *nest);

#endif
