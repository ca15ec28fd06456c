/* An engine from within: for the files of this folder. */
#ifndef USI_WALL_ENGINE_PARTS_H
#define USI_WALL_ENGINE_PARTS_H

#include "solve/head.h"
#include "solve/stream.h"
#include "solve/supplied.h"
#include "wall/engine.h"
#include "wall/gates.h"
#include "wall/strips.h"

struct usi_engine {
    const usi_grid *grid;
    usi_walled open; /* no wall in the spans */
    usi_segments segments;
    size_t pair_count;
    usi_face_pair *pairs;
    usi_strip_seams strips;
    usi_gate_seams gates; /* behind all other stitches */
    double *tie;          /* room for the conductances of one seam */
    usi_head head;        /* without a situation; its seam has one stitch a pair, then strips */
    usi_stream stream;    /* one a segment, then strips */
    usi_problem edges;    /* links of the head problem that end at a water */
    double head_energy;   /* without stitches */
    double stream_energy; /* likewise */
    usi_seam *head_seam;
    usi_seam *stream_seam; /* NULL where the structure is sealed whatever the walls do */
    bool supplied;         /* with a situation */
    usi_supply closed_supply;
    usi_supply open_supply;
    usi_heads heads;
    usi_streams streams;
};

/* The seams, whichever problems they belong to, and what a conductance of 1 stands for. */
usi_seam *usi_engine_heads(const usi_engine *engine);
usi_seam *usi_engine_streams(const usi_engine *engine);
double usi_engine_head_scale(const usi_engine *engine);
double usi_engine_stream_scale(const usi_engine *engine);

/* Sets both seams, with gates as the closed supply has them. US_NOT_CONVERGED as
 * usi_seam_set(). */
us_status usi_engine_set_heads(usi_engine *engine, const double *pass_m_s);
us_status usi_engine_set_streams(usi_engine *engine, const double *pass_m_s);

#endif
