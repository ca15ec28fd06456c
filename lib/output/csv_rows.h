/* Rows of the table: shared by the files that write them. */
#ifndef USI_OUTPUT_CSV_ROWS_H
#define USI_OUTPUT_CSV_ROWS_H

#include "output/forms.h"

typedef struct usi_csv {
    us_buffer *out;
    const us_solution *solution;
    const usi_scale *scale;
    const char *water;  /* name of the case whose rows are being written */
    const char *prefix; /* of quantities; "" for none */
    const char *lead;   /* a cell that each row begins with, comma included; NULL: none */
} usi_csv;

/* What a row says besides its number. */
typedef struct usi_csv_row {
    const char *quantity;
    const char *place;
    const char *unit;
    const char *note;
} usi_csv_row;

/* Adds a row; `value` is in SI, `unit` what one of the row's units is in it. */
void usi_csv_add(const usi_csv *to, usi_csv_row about, us_value value, double unit);

/* A number without an error. */
us_value usi_csv_exact(double value);

/* Rows of everything about a case but its levels (output/csv.c); those of uplift
 * (output/csv_uplift.c), of drains and other edges (output/csv_edges.c) and of the works
 * (output/csv_works.c) among them. */
void usi_csv_results(const usi_csv *to, const us_water_result *water);
void usi_csv_uplift(const usi_csv *to, const us_uplift_result *uplift);
void usi_csv_flood(const usi_csv *to, const us_water_result *water);
void usi_csv_heave(const usi_csv *to, const us_water_result *water);
void usi_csv_edges(const usi_csv *to, const us_water_result *water);
void usi_csv_works(const usi_csv *to, const us_water_result *water);

/* Rows of places where water leaves the soil (output/csv_exits.c). */
void usi_csv_exits(const usi_csv *to, const us_water_result *water);

#endif
