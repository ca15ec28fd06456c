/* What acts on the edges of a section in one water case, where that is more than two
 * beds under water: drains, dry bed, sealed bed, water below the base, ... */
#ifndef USI_MODEL_SITUATION_H
#define USI_MODEL_SITUATION_H

#include "model/plan.h"
#include "model/section.h"
#include "undersill/context.h"

typedef enum usi_terminal_kind {
    USI_TERMINAL_LEFT_WATER,  /* always the first of the list */
    USI_TERMINAL_RIGHT_WATER, /* always the second */
    USI_TERMINAL_DRAIN,
    USI_TERMINAL_PERMEABLE, /* a stretch of underside that lets water up */
    USI_TERMINAL_VOID,      /* a stretch of underside without contact */
    USI_TERMINAL_BASE,      /* water below the base */
    USI_TERMINAL_SIDE       /* a side with a head of its own */
} usi_terminal_kind;

/* Water that soil touches along some edges: one head, held or free. */
typedef struct usi_terminal {
    usi_terminal_kind kind;
    size_t index;  /* of the drain; 0 left, 1 right of a side */
    double from_m; /* x of a stretch of underside */
    double to_m;
    double head_m;
    bool floating;       /* the head is free and no net flow passes */
    bool one_way;        /* the soil's head may lie below it: then no water passes */
    bool inside;         /* lies in the soil: water passes on both sides */
    double resistance_s; /* spread over its face: head lost per flow through a unit area */
    double series_s_m;   /* between it and its face: head lost per flow, per unit width */
} usi_terminal;

typedef enum usi_mark_kind {
    USI_MARK_SEALED,  /* lets no water through */
    USI_MARK_DRY,     /* bed above the water: head is the level where water comes out, else no
                         water passes */
    USI_MARK_TERMINAL /* touches a terminal */
} usi_mark_kind;

/* What edges of one kind are, as far as they lie in a box. Of two marks the later
 * holds. */
typedef struct usi_mark {
    usi_mark_kind kind;
    usi_edge_kind on;
    usi_point low;
    usi_point high;
    size_t terminal;
} usi_mark;

/* A place on dry bed and whether water comes out there. */
typedef struct usi_seed {
    usi_point at;
    bool open;
} usi_seed;

typedef struct usi_situation {
    double datum_m; /* head = datum + scale * reduced */
    double scale_m; /* above 0 */
    size_t terminal_count;
    usi_terminal *terminals;
    size_t mark_count;
    usi_mark *marks;
    size_t split_count; /* points of dry bed that the grid is to resolve: see study/view.h */
    usi_point *splits;
    size_t seed_count; /* what was found on an earlier grid, to begin with on others */
    usi_seed *seeds;
    bool dry;   /* some edge is one-way: heads and flows are not linear in the water levels */
    bool inner; /* a drain lies inside the soil: there is no stream function */
    bool endless_base; /* water below the base of endless soil: no total flow */
    bool endless_foot; /* it meets the upstream side in its foot, where heads differ: likewise */
} usi_situation;

/* How heads of a water case follow from reduced ones: zero + unit * reduced. */
typedef struct usi_datum {
    double zero_m;
    double unit_m;
} usi_datum;
usi_datum usi_datum_of(const us_section *section, size_t water);

/* A water case as it is, or as it would be. */
typedef enum usi_variant {
    USI_VARIANT_NONE,
    USI_VARIANT_DRAINS_SHUT,
    USI_VARIANT_NO_APRON /* all of the underside is permeable, each part of it up to the top of
                            the structure over it; drains along it are gone with it */
} usi_variant;

/* Lays down what acts in a water case, or in a variant of it.
 * `*situation` is NULL where two beds under water are all; else the caller's, freed
 * with usi_situation_free(). US_ERROR_MEMORY. */
us_status usi_situation_make(us_context *context, const us_section *section, size_t water,
                             usi_variant variant, usi_situation **situation);
/* True where a variant without the apron means something: there is a structure, and soil at
 * its upstream end is closed by a wall or a face, so that flow has a limit. */
bool usi_situation_can_open(const us_section *section);

/* True where water stands behind the side downstream at another head than on the end of the
 * bed there, or than dry bed lets water out at: flow is endless in that corner. */
bool usi_situation_side_differs(const us_section *section);

void usi_situation_free(usi_situation *situation);

#endif
