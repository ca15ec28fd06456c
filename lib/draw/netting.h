/* The flow net: how many drops and channels, and their lines. */
#ifndef USI_DRAW_NETTING_H
#define USI_DRAW_NETTING_H

#include "draw/sheet.h"
#include "solve/field.h"

typedef struct usi_mesh {
    int drops;
    int channels;
} usi_mesh;

/* Numbers of drops and channels whose meshes are nearest to squares at a
 * readable density, for a flow of `shape` times conductivity times head
 * difference (shape > 0). `*cost` tells how far from ideal the best is. */
usi_mesh usi_mesh_choose(double shape, double *cost);

typedef struct usi_netting {
    bool heads;         /* lines of equal head are drawn */
    bool flows;         /* flow lines too */
    bool counted;       /* the channels have a number: the flow is bounded */
    bool sealed;        /* no water can pass */
    double lowest_m;    /* heads in the picture */
    double highest_m;   /* likewise */
    double low, high;   /* reduced heads, which the drops part evenly */
    double least, most; /* values of the stream function, which the channels part evenly */
    usi_mesh mesh;
    const usi_soil *reference; /* where meshes are squares */
    double channel_m2_s;       /* flow between two flow lines */
    double shape;              /* flow over (conductivity of the reference x head difference) */
} usi_netting;

/* Chooses what to draw of a field. */
void usi_netting_choose(const usi_sheet *sheet, const usi_field *field, usi_netting *netting);

/* Solves for the net and draws its lines. US_OK, US_ERROR_NUMERICAL,
 * US_ERROR_MEMORY or US_ERROR_INPUT. */
us_status usi_netting_draw(usi_sheet *sheet, usi_netting *netting);

/* Marks the place of the largest exit gradient; then writes its value beside. */
void usi_netting_mark_exit(usi_sheet *sheet);
void usi_netting_name_exit(usi_sheet *sheet);

/* How the two kinds of line look, for the net and its key. */
usi_look usi_netting_drop_look(void);
usi_look usi_netting_flow_look(void);

#endif
