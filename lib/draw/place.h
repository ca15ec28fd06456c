/* Labels: where each goes, with a leader where it cannot stand beside its thing. */
#ifndef USI_DRAW_PLACE_H
#define USI_DRAW_PLACE_H

#include "draw/scene.h"

/* One place for a label. */
typedef struct usi_spot {
    usi_point at;   /* middle of the label, on the page */
    bool led;       /* a line joins it to its thing */
    usi_point from; /* where that line starts */
    double cost;    /* the lower, the sooner taken */
} usi_spot;

enum { USI_SPOTS_MOST = 720 };

/* Places to choose from; starts as {0}. What is too many is left out. */
typedef struct usi_spots {
    size_t count;
    usi_spot list[USI_SPOTS_MOST];
} usi_spots;

/* What is to be labelled, and how. */
typedef struct usi_wish {
    usi_thing thing;
    size_t index; /* of the thing among its kind */
    const char *words;
    bool cut; /* the words are not all there is to say */
    usi_type type;
    usi_box area; /* the label stays inside */
    double most;  /* dearest place that will do; 0: any */
    double gap;   /* between the start of a leader and what it points at */
    bool aslant;  /* an upright leader would look like more of the thing, or of its end */
    bool dot;     /* the leader ends in a dot: it points at an area */
} usi_wish;

/* Half of the label's width and height. */
usi_point usi_wish_half(usi_scene *scene, const usi_wish *wish);

void usi_spots_add(usi_spots *spots, double x, double y, double cost);

/* A place joined to `from` by a leader. */
void usi_spots_lead(usi_spots *spots, usi_point at, usi_point from, double cost);

/* Places at the height of `from`, from there towards another x. */
void usi_spots_along(usi_spots *spots, usi_point half, usi_point from, double to_x, double cost);

/* Places around `from`, near ones first, joined to it by a leader. */
void usi_spots_ring(usi_spots *spots, usi_point from, usi_point half, double cost);

/* Adds the label at the cheapest of its places: inside its area, over no text,
 * guard or barring line, its leader crossing no guard, text or leader. What its
 * box covers and its leader crosses adds to the cost. Returns the label, valid
 * until the next is placed, or NULL when no place will do. */
const usi_label *usi_scene_place(usi_scene *scene, const usi_wish *wish, const usi_spots *spots);

/* Whether a line and a box have a point in common. */
bool usi_segment_meets(usi_point a, usi_point b, usi_box box);

#endif
