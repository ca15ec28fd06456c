/* The sheet: one picture while it is being put together. */
#ifndef USI_DRAW_SHEET_H
#define USI_DRAW_SHEET_H

#include "draw/phrase.h"
#include "draw/scene.h"
#include "draw/window.h"

/* Thin layers that a caption names. */
enum { USI_THIN_MOST = 3 };

typedef struct usi_sheet {
    us_context *context;
    const us_section *section;
    const usi_water *water;
    const us_water_result *result; /* NULL without a solution */
    bool net;
    usi_scene scene;
    usi_window window;
    bool overflow;              /* a water surface over the structure is hinted at */
    int decimals;               /* of levels */
    size_t unnamed_soils;       /* layers too thin for their name */
    size_t thin[USI_THIN_MOST]; /* the first of them */
    size_t unnamed_walls;       /* walls without room for a label */
} usi_sheet;

/* Inks of the picture: all are told apart in greyscale. */
extern const usi_ink usi_ink_none;
extern const usi_ink usi_ink_dark;  /* lines of soil, structure and scales */
extern const usi_ink usi_ink_quiet; /* helping lines */
extern const usi_ink usi_ink_water;
extern const usi_ink usi_ink_shore; /* water levels */
extern const usi_ink usi_ink_rock;  /* base and closed sides */
extern const usi_ink usi_ink_body;  /* structure */
usi_ink usi_ink_soil(size_t index);

/* Looks made of them. */
usi_look usi_look_area(usi_ink fill);
usi_look usi_look_line(usi_ink line, double width);

/* A text of plain size. */
usi_type usi_type_plain(double size, usi_anchor anchor);

/* Two points as a line. */
void usi_sheet_line(usi_sheet *sheet, usi_space space, usi_point from, usi_point to, usi_look look);

/* Each draws one kind of thing; what the scene cannot hold ends in its status. */
void usi_sheet_ground(usi_sheet *sheet); /* soils, base, closed sides, beds */
void usi_sheet_water(usi_sheet *sheet);
void usi_sheet_beds(usi_sheet *sheet);
void usi_sheet_works(usi_sheet *sheet); /* structure and walls */
void usi_sheet_scales(usi_sheet *sheet);
void usi_sheet_heading(usi_sheet *sheet);

/* Labels, after everything that they must keep clear of. */
void usi_sheet_name_water(usi_sheet *sheet);
void usi_sheet_name_works(usi_sheet *sheet);
void usi_sheet_name_ground(usi_sheet *sheet);

/* Leftmost and rightmost soil of the picture: its edges, or the ends of the
 * soil where sides are given. */
double usi_sheet_soil_left(const usi_sheet *sheet);
double usi_sheet_soil_right(const usi_sheet *sheet);

/* Places a label at one of `count` places inside `area`, as usi_scene_place(), on
 * a plate of the ground it comes to lie on. NULL when there is no room. */
const usi_text *usi_sheet_label(usi_sheet *sheet, const char *words, usi_type type,
                                const usi_point *places, size_t count, usi_box area);

/* Level down to which soil is filled at x. */
double usi_sheet_floor(const usi_sheet *sheet, double x_m);

#endif
