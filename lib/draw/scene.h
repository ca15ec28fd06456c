/* The scene: what a picture consists of, before any pixel is set. Shapes lie in
 * the section (metres) or on the page; texts lie on the page. The page is
 * USI_PAGE_WIDTH units wide whatever the size in pixels, so one scene serves
 * every width, and the boxes of its texts can be tested. */
#ifndef USI_DRAW_SCENE_H
#define USI_DRAW_SCENE_H

#include <stdbool.h>
#include <stddef.h>

#include "draw/clutter.h"
#include "draw/font.h"
#include "model/section.h"

/* How labels treat a line: they mind to cover it, they mind it much, or they never do. */
typedef enum usi_shun { USI_SHUN_LINE, USI_SHUN_SEAM, USI_SHUN_EDGE } usi_shun;

/* What labels belong to. */
typedef enum usi_thing {
    USI_THING_WATER, /* index 0: upstream, 1: downstream */
    USI_THING_EXIT,
    USI_THING_WALL,
    USI_THING_SOIL,
    USI_THING_BASE,
    USI_THING_PIEZOMETER,
    USI_THING_DRAIN,
    USI_THING_SIDE,  /* index 0: left, 1: right */
    USI_THING_FORCE, /* index 0: uplift, 1: weight */
    USI_THING_SUCTION,
    USI_THING_CRITICAL,  /* gradient; index: of the soil */
    USI_THING_UNBOUNDED, /* index: of the exit */
    USI_THING_LOST,      /* that the works are undermined */
    USI_THING_STILL      /* that nothing flows */
} usi_thing;

/* One unit of the page is a hundredth of an inch: ten inches fit on A4 and on
 * letter paper laid crosswise. */
enum { USI_PAGE_WIDTH = 1000 };
#define USI_PAGE_WIDTH_M 0.254
#define USI_PAGE_UNIT_PT 0.72

/* The window in metres, and the rectangle of the page that shows it. */
typedef struct usi_scene_view {
    usi_point low;
    usi_point high;
    usi_box plot;
    double page_height;
} usi_scene_view;

typedef enum usi_space { USI_SPACE_PAGE, USI_SPACE_SECTION } usi_space;

typedef struct usi_ink {
    double red;
    double green;
    double blue;
    double alpha; /* 0: nothing is painted */
} usi_ink;

/* How a shape is painted; widths and dashes in page units. */
typedef struct usi_look {
    usi_ink fill;
    usi_ink line;
    double width;
    double dash; /* 0: solid */
    double gap;
    bool closed;
    bool curved; /* a smooth line through the points */
} usi_look;

typedef struct usi_shape {
    usi_space space; /* shapes of the section are clipped to the plot */
    usi_look look;
    size_t first; /* of its points in the scene */
    size_t count;
} usi_shape;

typedef enum usi_anchor { USI_ANCHOR_LEFT, USI_ANCHOR_MIDDLE, USI_ANCHOR_RIGHT } usi_anchor;

/* How a text is set. */
typedef struct usi_type {
    double size; /* of the letters, page units */
    bool bold;
    bool slanted;
    usi_ink plate; /* painted behind it, to part it from lines */
    double limit;  /* longest width, page units; 0 for none; the rest becomes dots */
    usi_anchor anchor;
} usi_type;

typedef struct usi_text {
    char *words;
    usi_type type;
    usi_box box;
} usi_text;

/* A text that was placed by choice, and what it belongs to. */
typedef struct usi_label {
    usi_thing thing;
    size_t index; /* of the thing among its kind */
    bool cut;     /* the words are not all there is to say */
    bool led;
    usi_point leader[2]; /* on the page: from the thing to the text */
    size_t text;         /* index of the text */
} usi_label;

/* A place that labels stay off, and leaders too where it is solid. */
typedef struct usi_guard {
    usi_box box;
    bool solid;
} usi_guard;

typedef struct usi_scene {
    us_context *context;
    usi_font *font;
    usi_scene_view view;
    size_t point_count, point_room;
    usi_point *points;
    size_t shape_count, shape_room;
    usi_shape *shapes;
    size_t text_count, text_room;
    usi_text *texts;
    size_t guard_count, guard_room;
    usi_guard *guards;
    size_t label_count, label_room;
    usi_label *labels;
    usi_clutter clutter; /* lines and places that labels avoid */
    us_status status;    /* the first failure; later additions do nothing */
} usi_scene;

/* Starts a scene: US_OK, or US_ERROR_MEMORY. End it with usi_scene_clear(). */
us_status usi_scene_start(us_context *context, usi_scene *scene);
void usi_scene_clear(usi_scene *scene);

/* Adds a line or area through `count` points. */
void usi_scene_shape(usi_scene *scene, usi_space space, const usi_point *points, size_t count,
                     usi_look look);

/* Adds a text whose anchor is at (x, y) on the page, y its vertical middle. */
void usi_scene_text(usi_scene *scene, const char *words, usi_type type, double x, double y);

/* The box the text would take. */
usi_box usi_scene_measure(usi_scene *scene, const char *words, usi_type type, double x, double y);

/* Keeps labels off `box`, and leaders too when it is solid. */
void usi_scene_guard(usi_scene *scene, usi_box box, bool solid);

/* Tells labels of a line of the section, or of the page. */
void usi_scene_shun(usi_scene *scene, const usi_point *points, size_t count, usi_shun how);
void usi_scene_shun_page(usi_scene *scene, const usi_point *points, size_t count, usi_shun how);

/* Forgets what lines of the section had to say about a place outside the plot. */
void usi_scene_open(usi_scene *scene, usi_box box);

/* True when no text and no guard meets the box. */
bool usi_scene_is_free(const usi_scene *scene, usi_box box);

/* Adds a text with its record; place.h finds the box. NULL when memory is short. */
const usi_label *usi_scene_label(usi_scene *scene, const char *words, usi_type type, usi_box box,
                                 usi_label label);

/* A point of the section on the page. */
usi_point usi_view_page(const usi_scene_view *view, double x_m, double z_m);

/* Metres that one page unit spans. */
double usi_view_unit_x(const usi_scene_view *view);
double usi_view_unit_z(const usi_scene_view *view);

bool usi_box_meets(usi_box a, usi_box b);
bool usi_box_holds(usi_box outer, usi_box inner);

#endif
