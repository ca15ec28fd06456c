/* Outlines: points gathered for one shape. */
#ifndef USI_DRAW_OUTLINE_H
#define USI_DRAW_OUTLINE_H

#include "draw/scene.h"

/* Starts as {0}. Running out of memory is kept in the scene. */
typedef struct usi_outline {
    size_t count;
    size_t room;
    usi_point *points;
} usi_outline;

void usi_outline_add(usi_scene *scene, usi_outline *outline, double x_m, double z_m);

/* Follows a line from one x to another, left to right. */
void usi_outline_follow(usi_scene *scene, usi_outline *outline, const usi_line *line, double from_m,
                        double to_m);

/* Turns the points from `first` on round. */
void usi_outline_reverse(usi_outline *outline, size_t first);

/* Keeps the part of a closed outline that lies below a level. */
void usi_outline_clip(usi_scene *scene, usi_outline *outline, double level_m);

void usi_outline_clear(usi_outline *outline);

#endif
