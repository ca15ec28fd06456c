/* Gradients all along the downstream bed. */
#ifndef USI_QUANTITY_BED_H
#define USI_QUANTITY_BED_H

#include "quantity/edge.h"
#include "quantity/exit_gradient.h"

/* Sides of bed that go on without a wall, a step, another soil or a turn of 20 degrees
 * and more: along them the gradient changes smoothly. */
typedef struct usi_bed_run {
    size_t first; /* sides [first, last) */
    size_t last;
    double power[2]; /* of the gradient towards its left and right end: it goes as r^power */
    bool skips[2];   /* it has no number there */
} usi_bed_run;

typedef struct usi_bed {
    const usi_field *field;
    usi_edge_sides sides;
    double *along_m; /* from the left end of a side's run to that of the side */
    double *passed;  /* flow that leaves the run up to a side, on average over it, from
                         the heads; NULL where no side needs it */
    size_t run_count;
    usi_bed_run *runs;
} usi_bed;

/* `exits` are those of the section, `readings` tell where the gradient is unbounded.
 * `*bed` is the caller's, freed with usi_bed_close(). US_ERROR_MEMORY. */
us_status usi_bed_open(us_context *context, const usi_field *field, const usi_exit *exits,
                       const usi_exit_reading *readings, size_t exit_count, usi_bed *bed);
void usi_bed_close(usi_bed *bed);

/* Gradient square to the bed per unit head difference, outwards positive. */
typedef struct usi_bed_gradient {
    bool present;
    double value_1_m;
    double doubt_1_m; /* how far the heads below and the stream function along it lie apart */
} usi_bed_gradient;

/* At x, on the given side where two runs meet there; absent where there is no bed, or
 * too little of it for a number. */
usi_bed_gradient usi_bed_gradient_at(const usi_bed *bed, double x_m, usi_face side);

typedef struct usi_bed_sample {
    usi_point at;
    double gradient_1_m;
} usi_bed_sample;

/* The gradient on a side of a run where it is best read: at both ends of a whole cell's
 * side, else at its middle. Returns how many there are. */
size_t usi_bed_samples(const usi_bed *bed, size_t run, size_t side, usi_bed_sample samples[2]);

/* The gradient along the whole bed, at the ends of its sides. Close to an unbounded exit
 * the values say more of the grid than of the soil. `*course` is the caller's.
 * US_ERROR_MEMORY. */
us_status usi_bed_course(us_context *context, const usi_bed *bed, usi_edge_course *course);

#endif
