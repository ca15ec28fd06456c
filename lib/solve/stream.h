/* The stream-function problem: its energy bounds the flow from below. */
#ifndef USI_SOLVE_STREAM_H
#define USI_SOLVE_STREAM_H

#include "solve/field.h"
#include "solve/links.h"

/* Fills `stream` and `lower_m_s` of a field; `stream` stays NULL where the
 * structure is sealed into the base, so that no water passes. */
us_status usi_stream_solve(us_context *context, usi_field *field);

/* Numbers the places of soil, one number for those tied together: those tied to `zero`
 * are USI_PLACE_ZERO, to `one` (-1 for none) USI_PLACE_ONE, places without soil
 * USI_PLACE_NONE. Returns how many are free. */
size_t usi_stream_number(const usi_grid *grid, int32_t *ties, int32_t zero, int32_t one,
                         int32_t *places);

/* The same in steps. `places` tells of each place of the grid which place of the problem it
 * is; nothing is there to solve where the structure is sealed into the base. */
typedef struct usi_stream {
    const usi_grid *grid;
    double scale_m_s; /* conductance 1 resists as much as a conductivity of this */
    bool sealed;
    size_t free_count;
    int32_t *places;
    size_t soil_links; /* links beyond are those through walls and the caller's */
    usi_problem problem;
} usi_stream;

/* Room for `extra` more links. Free with usi_stream_free(), also after an error. */
us_status usi_stream_lay(us_context *context, const usi_grid *grid, size_t extra,
                         usi_stream *stream);
void usi_stream_free(usi_stream *stream);

/* Lays it and finds its free values, none where it is sealed; free both, also after an error. */
us_status usi_stream_find(us_context *context, const usi_grid *grid, usi_stream *stream,
                          double **values);

/* Adds to a field that has its heads already, from free values. */
us_status usi_stream_take(us_context *context, const usi_stream *stream, const double *values,
                          usi_field *field);

/* The energy of linear elements, where links were scaled too. */
double usi_stream_energy(const usi_stream *stream, const double *values);

/* The same where the energy is known, which is that of linear elements too. */
us_status usi_stream_take_known(us_context *context, const usi_stream *stream, const double *values,
                                double energy, usi_field *field);

#endif
