/* Heads at the two faces and the tip of a wall. */
#ifndef USI_QUANTITY_WALL_HEADS_H
#define USI_QUANTITY_WALL_HEADS_H

#include "solve/field.h"

/* A reduced head, or none where that part of the wall touches no soil. */
typedef struct usi_reduced {
    bool present;
    double value;
} usi_reduced;

typedef struct usi_wall_reading {
    usi_reduced left_face_top; /* highest soil contact of the left face */
    usi_reduced tip;           /* none where the wall is sealed in or goes on below */
    usi_reduced right_face_top;
    usi_reduced through_m_s; /* flow through it per unit of reduced head: usi_wall_flow() */
} usi_wall_reading;

usi_wall_reading usi_wall_read(const usi_field *field, const usi_wall *wall);

#endif
