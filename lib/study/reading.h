/* Every quantity of a section, read off one grid. */
#ifndef USI_STUDY_READING_H
#define USI_STUDY_READING_H

#include "model/tights.h"
#include "quantity/bed_peak.h"
#include "quantity/bed_worst.h"
#include "quantity/piezometer.h"
#include "quantity/prism.h"
#include "quantity/uplift.h"
#include "quantity/wall_heads.h"

/* Where a reading looks beside what the section itself names. */
typedef struct usi_places {
    size_t exit_count;
    usi_exit *exits;
    size_t prism_count;
    usi_prism *prisms;
    size_t tight_count;
    usi_tight *tights;
} usi_places;

typedef struct usi_reading {
    double flow_m_s; /* per unit head difference */
    double spread;   /* by what share of it the two problems differ */
    double lower_m_s;
    double upper_m_s;
    bool leaky;      /* some point is beyond grading and exact links */
    bool sealed;     /* no water can pass */
    bool bed_closed; /* a situation acts, and no water passes the bed downstream */
    bool stands_in;  /* openings are solved as strips of equal effect: no bound is true */
    bool bracketed;  /* the true flow lies between lower and upper: there is a base */
    size_t exit_count;
    usi_exit_reading *exits;
    usi_bed_peak peak;
    usi_bed_worst worst[USI_BED_WORST_COUNT];
    usi_uplift_reading *uplift; /* one a water case; NULL without a structure */
    usi_uplift_reading *panels; /* one a panel, panels of the first water case first; likewise */
    double *floor_heads;        /* reduced, one a place of usi_underside_points(); likewise */
    usi_wall_reading *walls;    /* one a wall */
    usi_reduced *piezometers;   /* one a piezometer */
    usi_prism_reading *prisms;  /* one a prism */
    usi_reduced *tights;        /* one a point of a tight layer */
    size_t outflow_count;       /* where a situation acts, as in usi_field */
    usi_outflow *outflows;
    double open_m;
    double closed_m;
    double doubt_m;
    int rounds;
    size_t unknowns;
    size_t columns;
    size_t rows;
    double imbalance;
    double truncation;
} usi_reading;

/* Builds the grid, solves it, reads it and lets it go. `reading` is filled on
 * US_OK; free it with usi_reading_free(). US_NOT_CONVERGED when the grid would
 * be too large; else as usi_field_solve(). */
us_status usi_reading_take(us_context *context, const us_section *section,
                           const usi_grid_options *options, const usi_places *places,
                           usi_reading *reading);

/* The same off a field that is there already. */
us_status usi_reading_fill(us_context *context, usi_field *field, const usi_places *places,
                           usi_reading *reading);

/* Says that no grid within the limits of size and rounding would do. */
void usi_reading_report_limit(us_context *context);

void usi_reading_free(usi_reading *reading);

#endif
