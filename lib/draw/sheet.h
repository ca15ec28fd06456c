/* The sheet: one picture while it is being put together. */
#ifndef USI_DRAW_SHEET_H
#define USI_DRAW_SHEET_H

#include "draw/phrase.h"
#include "draw/place.h"
#include "draw/scene.h"
#include "draw/window.h"
#include "study/view.h"
#include "undersill/draw.h"

/* What the key below the picture has to say, since the picture could not. */
typedef struct usi_entry {
    usi_thing thing;
    size_t index;
} usi_entry;

/* Entries of one kind that a key takes. */
enum { USI_ENTRIES_MOST = 256 };

/* Piezometers up to this number are named before walls, and take longer leaders. */
enum { USI_PIEZOMETERS_FEW = 12 };

/* What acts along a stretch of bed or underside. */
typedef enum usi_fringe_kind {
    USI_FRINGE_OUT,   /* dry bed that lets water out */
    USI_FRINGE_STILL, /* dry bed that lets none out */
    USI_FRINGE_DRY,   /* dry bed, where nothing was solved */
    USI_FRINGE_SEALED,
    USI_FRINGE_PERMEABLE,
    USI_FRINGE_VOID,
    USI_FRINGE_DRAWN, /* bed of the section, where the water case has its own */
    USI_FRINGE_KINDS
} usi_fringe_kind;

typedef struct usi_fringe {
    usi_fringe_kind kind;
    const usi_line *line; /* that it lies on */
    double from_m;        /* x */
    double to_m;
} usi_fringe;

enum { USI_FRINGES_MOST = 256 };

typedef struct usi_sheet {
    us_context *context;
    usi_view view;             /* of the water case: its beds, what acts on the edges */
    const us_section *section; /* that view */
    const us_section *drawn;   /* the section as read, with its own beds */
    const usi_water *water;
    const us_solution *solution;   /* NULL for the section alone */
    const us_water_result *result; /* NULL without a solution */
    us_picture what;
    usi_scene scene;
    usi_window window;
    double foot;     /* where the distance scale stands on the page */
    bool overflow;   /* a water surface over the structure is hinted at */
    double left_out; /* page length of equal heads not drawn where they would touch */
    int decimals;    /* of levels */
    size_t fringe_count;
    usi_fringe fringes[USI_FRINGES_MOST];
    bool fringed[USI_FRINGE_KINDS]; /* kinds in the picture, which the key explains */
    bool drained;                   /* a drain is in the picture */
    bool fed;                       /* and one that feeds water in */
    size_t entry_count;
    usi_entry entries[3 * USI_ENTRIES_MOST + 2];
    size_t unlisted; /* things that neither picture nor key has room for */
} usi_sheet;

/* Takes up a section as its water case `water` sees it: US_OK, or as usi_view_make(). End
 * with usi_sheet_leave(). The sheet stays where it is meanwhile. */
us_status usi_sheet_take(usi_sheet *sheet, const us_section *section, size_t water);
void usi_sheet_leave(usi_sheet *sheet);

/* Marks a drain; names it; says what it is and does. */
void usi_sheet_mark_drain(usi_sheet *sheet, size_t index);
void usi_sheet_name_drain(usi_sheet *sheet, size_t index);
usi_look usi_sheet_drain_look(bool feeds);
void usi_sheet_lozenge(usi_sheet *sheet, usi_point at, bool open, bool feeds);
usi_phrase usi_sheet_say_drain(const usi_sheet *sheet, size_t index, size_t most);

/* Inks of the picture: all are told apart in greyscale. */
extern const usi_ink usi_ink_none;
extern const usi_ink usi_ink_dark;  /* lines of soil, structure and scales */
extern const usi_ink usi_ink_quiet; /* helping lines */
extern const usi_ink usi_ink_water;
extern const usi_ink usi_ink_shore;                 /* water levels */
extern const usi_ink usi_ink_rock;                  /* base and closed sides */
extern const usi_ink usi_ink_body;                  /* structure */
usi_ink usi_sheet_base_ink(const usi_sheet *sheet); /* what lies below the soil: rock or water */
enum { USI_TINTS = 4 };                             /* of soils; further ones have marks as well */
usi_ink usi_ink_soil(size_t index);

/* Index of the tint of a soil: layers from the top down, then those of zones only. */
size_t usi_sheet_tint(const usi_sheet *sheet, size_t soil);

/* Marks in soils beyond the first USI_TINTS: the same tints again, told apart by dots,
 * then by level strokes, crosses and so on. */
void usi_sheet_hatch(usi_sheet *sheet);

/* A small field of the page that shows what a soil looks like. */
void usi_sheet_swatch(usi_sheet *sheet, size_t soil, usi_box box);

/* Index of the soil at a place, -1 outside the soil. */
int usi_sheet_soil(const usi_sheet *sheet, usi_point at);

/* Whether the ground is other than level layers: sloping lines or zones. */
bool usi_line_slopes(const usi_line *line);
bool usi_sheet_uneven(const usi_sheet *sheet);

/* Places for the name of a soil of uneven ground: in it, or joined to it. */
void usi_soil_spots_inside(const usi_sheet *sheet, size_t index, usi_point half, usi_spots *spots);
void usi_soil_spots_beside(const usi_sheet *sheet, size_t index, usi_point half, usi_spots *spots);

/* Looks made of them. */
usi_look usi_look_area(usi_ink fill);
usi_look usi_look_line(usi_ink line, double width);

/* A text of plain size. */
usi_type usi_type_plain(double size, usi_anchor anchor);

/* Two points as a line. */
void usi_sheet_line(usi_sheet *sheet, usi_space space, usi_point from, usi_point to, usi_look look);

/* Heading, and the plot for the window that was chosen, with room for a panel above
 * or below it. */
void usi_sheet_lay_out(usi_sheet *sheet, double above, double below);

/* Water, beds, works and scales, once the ground is drawn; then all their names. */
void usi_sheet_picture(usi_sheet *sheet);
void usi_sheet_names(usi_sheet *sheet);

/* The stretches of a part of a bed that lie below a level, by growing x: their number,
 * into `wet`, which has room for USI_WET_MOST. */
enum { USI_WET_MOST = 64 };
size_t usi_sheet_wet(const usi_line *bed, double level_m, usi_stretch part, usi_stretch *wet);

/* Each draws one kind of thing; what the scene cannot hold ends in its status. */
void usi_sheet_ground(usi_sheet *sheet); /* soils, base, closed sides, beds */
void usi_sheet_water(usi_sheet *sheet);
void usi_sheet_beds(usi_sheet *sheet);
void usi_sheet_works(usi_sheet *sheet);                      /* structure, walls, piezometers */
void usi_sheet_wall(usi_sheet *sheet, const usi_wall *wall); /* and what is open in it */
void usi_sheet_scales(usi_sheet *sheet);

/* The smallest step of 1, 2 or 5 times a power of ten that divides `range` into at
 * most `most` parts, and the decimals it is written with. */
double usi_scale_step(double range, double most);
int usi_scale_decimals(double step);

/* A ring that marks the largest exit gradient, and whether there is one to mark. */
void usi_sheet_ring(usi_sheet *sheet, usi_point at);
bool usi_sheet_exit(const usi_sheet *sheet, usi_point *at);

/* Whether the picture is a diagram of one thing: then what lies outside it is not
 * told of, and piezometers are left out. */
bool usi_sheet_is_diagram(const usi_sheet *sheet);

/* Title, water case and arrow; returns how far down they reach. */
double usi_sheet_heading(usi_sheet *sheet);

/* Writes a text on as many lines as it needs, the first at height y; returns the
 * height of the line that would follow. */
double usi_sheet_write(usi_sheet *sheet, const char *words, usi_type type, double x, double y);

/* Labels, after everything that they must keep clear of. */
void usi_sheet_name_water(usi_sheet *sheet);
void usi_sheet_name_walls(usi_sheet *sheet);
void usi_sheet_name_piezometers(usi_sheet *sheet);
void usi_sheet_name_ground(usi_sheet *sheet); /* base, and layers that hold their name */
void usi_sheet_name_seams(usi_sheet *sheet);  /* the other layers */

/* The key: what the picture had no room for. Returns how far down it reaches. */
double usi_sheet_key(usi_sheet *sheet, double y);

/* Leftmost and rightmost soil of the picture: its edges, or the ends of the
 * soil where sides are given. */
double usi_sheet_soil_left(const usi_sheet *sheet);
double usi_sheet_soil_right(const usi_sheet *sheet);

/* Places a label as usi_scene_place() does, on a plate of the ground it comes to
 * lie on. False when there is no room. */
bool usi_sheet_label(usi_sheet *sheet, const usi_wish *wish, const usi_spots *spots);

/* Leaves a thing to the key. */
void usi_sheet_list(usi_sheet *sheet, usi_thing thing, size_t index);

/* The plot, a little within its frame: where labels go. */
usi_box usi_sheet_area(const usi_sheet *sheet);

/* Where a piezometer is marked: at a wall, on its face. False outside the plot. */
bool usi_sheet_mark(const usi_sheet *sheet, size_t index, usi_point *at);

/* What is said of a wall, a soil, a piezometer; names cut to `most` characters. */
usi_phrase usi_sheet_say_wall(const usi_sheet *sheet, size_t index, size_t most);
/* The base by its lowest and highest level, and the water below it. */
usi_phrase usi_sheet_say_base(const usi_sheet *sheet, double low_m, double high_m);

usi_phrase usi_sheet_say_soil(const usi_sheet *sheet, size_t index, size_t most);

/* Upper and lower level of a layer within the picture; false where it does not
 * reach into it. */
bool usi_sheet_layer(const usi_sheet *sheet, size_t index, double *top_m, double *low_m);

/* Level down to which soil is filled at x. */
double usi_sheet_floor(const usi_sheet *sheet, double x_m);

#endif
