/* The checked section. Lengths in metres, conductivities in m/s, unit weights
 * in N/m^3; x grows to the right, z is elevation. Built by model/build.c only,
 * read by everyone, changed by no one. */
#ifndef USI_MODEL_SECTION_H
#define USI_MODEL_SECTION_H

#include <stdbool.h>
#include <stddef.h>

#include "base/units.h"
#include "undersill/section.h"

typedef struct usi_point {
    double x_m;
    double z_m;
} usi_point;

/* A line by growing x, straight between its points (upright steps among them),
 * level beyond its ends. One point means one level everywhere. */
typedef struct usi_line {
    size_t count;
    usi_point *points;
} usi_line;

typedef enum usi_kh_source {
    USI_KH_GIVEN,
    USI_KH_HAZEN,
    USI_KH_KOZENY_CARMAN,
    USI_KH_CLASS
} usi_kh_source;

typedef enum usi_kv_source { USI_KV_GIVEN, USI_KV_EQUAL, USI_KV_RATIO } usi_kv_source;

/* Where the conductivities of a soil come from; model/conductivity.h has the
 * formulas. Only the fields of that source mean something. */
typedef struct usi_conductivity {
    usi_kh_source kh_from;
    double d10_m;
    double porosity;
    double temperature_c;
    size_t class_index;
    usi_kv_source kv_from;
    double anisotropy; /* kh / kv */
} usi_conductivity;

/* A length that may be missing. */
typedef struct usi_length {
    bool given;
    double m;
} usi_length;

/* What is said to hold the soil back at an opening. */
typedef struct usi_retained {
    char *by;           /* NULL: nothing */
    usi_length opening; /* of a sheet or fabric: the size that it lets through */
} usi_retained;

/* Friction on the face of a wall: neither, or one of both. */
typedef struct usi_shaft {
    bool by_beta; /* friction = beta times the effective overburden */
    double beta;
    bool by_strength;
    double strength_pa; /* undrained */
} usi_shaft;

typedef enum usi_treatment {
    USI_TREATMENT_OPEN,
    USI_TREATMENT_GROUTED,
    USI_TREATMENT_PLATED
} usi_treatment;

typedef struct usi_sheeting {
    bool given;
    double thickness_m;
    double width_m;     /* of one sheet; 0 when absent */
    double perimeter_m; /* outline of one sheet, both faces; 0 when absent: a flat wall */
    double mass_kg_m2;  /* per area of wall; 0 when absent */
    double hole_below_top_m;
    double hole_m; /* diameter of a lifting hole; 0: none */
    usi_treatment treatment;
} usi_sheeting;

/* Steel lost to rust. */
typedef struct usi_corrosion {
    bool given;
    bool by_table;      /* environment and life; else the loss itself */
    size_t environment; /* index into usi_environments */
    double life_years;
    double loss_m; /* on each side */
} usi_corrosion;

typedef struct usi_soil {
    char *name;
    bool layer;   /* false: no `top`, so only zones use it */
    usi_line top; /* of a layer after the first; the first begins at the bed. Above its
                     own top a soil is absent, and a later layer overrides one before it */
    double kh_m_s;
    double kv_m_s;
    usi_conductivity conductivity; /* where kh and kv come from */
    bool weighs;                   /* a unit weight was given */
    double unit_weight_n_m3;       /* saturated */
    double friction_rad;           /* angle of internal friction; 0: not given */
    usi_length d85;
    bool has_creep_class;
    size_t creep_class; /* index into usi_creep_classes */
    usi_shaft shaft;
    bool stores; /* a specific storage was given */
    double specific_storage_1_m;
} usi_soil;

/* A polygon that overrides the layers; among zones the later one wins. What lies
 * outside the soil does not count. */
typedef struct usi_zone {
    size_t soil;  /* index of its soil */
    size_t count; /* at least 3; the last point joins the first */
    usi_point *outline;
    usi_point low; /* corners of the box around it */
    usi_point high;
} usi_zone;

/* Joints between sheets that let water through. A joint passes, per unit of its length,
 * the inverse resistance times the drop of head across it (EN 12063). */
typedef struct usi_interlock {
    bool given; /* false: tight */
    double inverse_resistance_m_s;
    double spacing_m;     /* of joints, along the wall */
    double joint_width_m; /* what flow converges to on both sides */
} usi_interlock;

/* An opening in a wall: a slot all along it, or a row of round holes. */
typedef struct usi_opening {
    bool holes;
    double low_m; /* levels between which something is open */
    double high_m;
    double diameter_m; /* of holes */
    double spacing_m;
} usi_opening;

typedef enum usi_cap_fill { USI_CAP_OPEN, USI_CAP_SOIL } usi_cap_fill;

/* What a part of a wall's line does (model/panes.h). */
typedef enum usi_pane_kind {
    USI_PANE_TIGHT,
    USI_PANE_LEAKY, /* by the wall's interlock */
    USI_PANE_STRIP  /* one head along each face, and a resistance between the two */
} usi_pane_kind;

typedef struct usi_pane {
    usi_pane_kind kind;
    double low_m;
    double high_m;
    double series_s_m; /* of a strip: head lost between its faces, per flow and unit width; 0 where
                          both faces have one head */
    bool stands_in;    /* a strip of equal effect in place of an opening */
} usi_pane;

typedef struct usi_wall {
    char *name;
    double x_m;
    double top_m;        /* as given, or lower by a gap under the cap */
    double tip_m;        /* as given */
    bool keyed;          /* sealed into the base */
    bool open_contact;   /* reaches the base without being keyed */
    double solved_tip_m; /* tip_m; the base level when keyed; above the base by
                            the open contact when open_contact */
    double base_m;       /* base level at the wall (higher side); meaningless without base */
    usi_sheeting sheet;
    usi_corrosion corrosion;
    bool loaded;
    double load_n_m;
    usi_interlock interlock;
    size_t opening_count;
    usi_opening *openings; /* from the top down */
    usi_length cap_gap;    /* between the wall and the structure over it */
    double cap_level_m;    /* with a gap: the lowest level of the structure there */
    bool cap_void;         /* the gap is water, not soil */
    size_t pane_count;     /* parts of the wall's line from the top down; what no pane covers is
                              soil. 0: all of the wall is tight */
    usi_pane *panes;
} usi_wall;

typedef enum usi_side_kind { USI_SIDE_ENDLESS, USI_SIDE_CLOSED, USI_SIDE_FIXED_HEAD } usi_side_kind;

typedef struct usi_side {
    usi_side_kind kind;
    double x_m;    /* meaningless when endless */
    bool has_head; /* of fixed head: a head of its own, in place of the water on that side */
    double head_m;
} usi_side;

/* A stretch of bed or of underside, by growing x. */
typedef struct usi_stretch {
    double from_m;
    double to_m;
} usi_stretch;

/* Water below the base: it holds a head there, at once or through a leaky layer. */
typedef struct usi_artesian {
    bool acts; /* false: the base is impervious */
    double head_m;
    double resistance_s; /* thickness / kv of the layer between; 0 for none */
} usi_artesian;

/* Relief: a row of weeps, or a drain without gaps. */
typedef struct usi_drain {
    char *name;
    bool weeps;        /* a row of round holes across the flow; else it is continuous */
    bool inside;       /* lies in the soil; else along the underside or an end face */
    usi_point from;    /* the row of weeps lies at `from`, which is `to` too */
    usi_point to;      /* by growing x, then z */
    double diameter_m; /* of weeps */
    double spacing_m;
    bool tailwater; /* lets out at the downstream water; else at outlet_m or, where that
                       is higher, there */
    double outlet_m;
    double clogging_s; /* thickness / conductivity of what clogs it; 0 when clean */
    bool shut;         /* in every water case */
    usi_retained retained;
} usi_drain;

/* A row of a table of water cases: for the record. */
typedef struct usi_flood {
    bool has_discharge;
    double discharge_m3_s;
    bool has_return_period;
    double return_period_years;
} usi_flood;

typedef struct usi_water {
    char *name;
    double upstream_m;   /* may stand on part of the bed only: the rest of it is dry */
    double downstream_m; /* may as well; bed level at the toe when at_bed */
    bool at_bed;         /* no water on the bed: asked for, or the level given lies below all
                            of it, or on a bed of one level */
    /* The section with the beds of this case (scour); NULL: as drawn. Its water cases
     * are this one alone; soils, walls, drains, piezometers count as in the whole. */
    struct us_section *ground;
    char *undermined; /* what the beds of this case leave without ground, as a sentence; NULL:
                         nothing. Nothing can be solved then */
    struct us_section *lost; /* its beds then, for pictures alone; NULL otherwise */
    size_t seal_count;
    usi_stretch *seals; /* bed that lets no water through */
    bool *shut;         /* one a drain; NULL: as the drains say */
    usi_flood flood;
    usi_line surface;     /* of the water over the structure; count 0: none counts there */
    char *pressures_from; /* name of the case whose pore pressure lifts the structure in this
                             one; NULL: its own */
} usi_water;

/* A limit that the user sets. */
typedef struct usi_requirement {
    bool given;
    double value;
} usi_requirement;

typedef enum usi_creep_rule { USI_CREEP_BLIGH, USI_CREEP_LANE } usi_creep_rule;

typedef struct usi_require_creep {
    bool given;
    usi_creep_rule rule;
    usi_requirement ratio; /* not given: from the classes of the soils */
} usi_require_creep;

typedef struct usi_requirements {
    usi_requirement piping;  /* least factor */
    usi_requirement heave;   /* least factor, of effective stress */
    usi_requirement blow_up; /* least factor */
    usi_require_creep creep;
    usi_requirement retention;      /* most opening over d85 */
    usi_requirement banks;          /* least key-in over the depth of the walls */
    usi_requirement wall_embedment; /* least share of the cap */
    usi_requirement corrosion;      /* least share of the sheet that is left */
    usi_requirement wall_load;      /* least factor */
    usi_requirement uplift;         /* least factor */
} usi_requirements;

/* Partial factors of a limit state of EN 1997-1. */
typedef struct usi_partial_factors {
    bool asked; /* the limit state has to be kept */
    bool own;   /* both factors are the user's; else at least one is the recommended value */
    double dst; /* on what destabilises, 1 or more */
    double stb; /* on what stabilises, at most 1 */
} usi_partial_factors;

typedef struct usi_limit_states {
    usi_partial_factors hyd; /* hydraulic heave */
    usi_partial_factors upl; /* uplift */
} usi_limit_states;

/* How far the walls go into the banks, seen by someone who looks downstream. */
typedef struct usi_banks {
    bool given;
    usi_length left;
    usi_length right;
} usi_banks;

/* From the end of the works to the next drop. */
typedef struct usi_next_drop {
    usi_length upstream;
    usi_length downstream;
} usi_next_drop;

/* What words of a driving log stand for. */
typedef struct usi_as_built {
    usi_length split; /* width that a split interlock stands open */
    bool leaks;       /* an inverse resistance of leaking interlocks was given */
    double leak_m_s;
} usi_as_built;

typedef enum usi_face { USI_FACE_NONE, USI_FACE_LEFT, USI_FACE_RIGHT } usi_face;

typedef struct usi_piezometer {
    char *name;
    usi_point at;
    usi_face side; /* only where the point lies on a wall */
} usi_piezometer;

/* Units of the file, for output: what one file unit is in SI. */
typedef struct usi_file_units {
    const usi_unit *length;
    const usi_unit *conductivity;
    const usi_unit *unit_weight;
    bool pounds; /* forces in lb/ft instead of kN/m */
} usi_file_units;

typedef struct usi_origin_change {
    char *key;
    char *text;
} usi_origin_change;

/* What a section was read from: kept so that variants can be read from it. */
typedef struct usi_origin {
    char *name;
    char *text; /* `length` bytes */
    size_t length;
    char *cases_name; /* of a table of water cases; NULL: none */
    char *cases;
    size_t cases_length;
    size_t change_count;
    usi_origin_change *changes;
} usi_origin;

void usi_origin_free(usi_origin *origin);

struct us_section {
    usi_origin origin;
    char *title;     /* "" when absent */
    char sha256[65]; /* of the bytes read and the changes, lower-case hex */
    usi_file_units units;
    bool flows_left; /* upstream is on the right */
    double width_m;  /* 0 when absent */
    double water_unit_weight_n_m3;

    usi_line left_bed;  /* soil surface for x up to left_end_m, zones on the bed included */
    usi_line right_bed; /* for x from right_end_m on */
    double left_end_m;  /* ends of the structure, or both the bare wall's x */
    double right_end_m;
    bool has_base;
    usi_line base;
    usi_artesian artesian; /* with a base */
    bool has_structure;
    usi_line underside;     /* with a structure */
    usi_line structure_top; /* count 0 when absent */
    bool structure_weighs;
    double structure_unit_weight_n_m3;
    size_t joint_count;
    double *joints_m; /* by growing x, within the structure: they part it into panels */
    size_t permeable_count;
    usi_stretch *permeable;       /* of the underside: water passes up through the structure */
    usi_length permeable_opening; /* width of its joints */
    usi_retained permeable_retained;
    size_t void_count;
    usi_stretch *voids; /* of the underside: contact lost, one head along each */

    size_t wall_count;
    usi_wall *walls;
    size_t soil_count;
    usi_soil *soils; /* file order: layers from the top down */
    size_t zone_count;
    usi_zone *zones;
    usi_side left;
    usi_side right;
    size_t water_count;
    usi_water *waters;
    size_t piezometer_count;
    usi_piezometer *piezometers;
    size_t drain_count;
    usi_drain *drains;

    usi_requirements require;
    usi_limit_states limit_states;
    usi_banks banks;
    usi_next_drop next_drop;
    size_t length_count;
    double *lengths_m; /* of walls that can be ordered, growing */
    usi_as_built as_built;

    /* Of a view of one water case (study/view.h): what acts on the edges there. NULL: the
     * beds lie under water of one level each and nothing else lets water in or out, so that
     * one reduced head serves all cases. */
    const struct usi_situation *situation;

    size_t note_count; /* defaults taken, parts without effect */
    char **notes;
};

/* --- queries (model/query.c) --- */

/* Level of a line at x; at a vertical step the level on the `right` or left
 * side of it. */
double usi_line_level(const usi_line *line, double x_m, bool right);

/* Lowest and highest level of a line within (from, to). */
double usi_line_lowest(const usi_line *line, double from_m, double to_m);
double usi_line_highest(const usi_line *line, double from_m, double to_m);

/* Level of the top of a layer after the first, of its first point where it slopes; 0
 * of a soil without. */
double usi_soil_top(const usi_soil *soil);

/* Level of the soil surface (bed, underside, bed) at x, on the `right` or left
 * side of a step. */
double usi_section_surface(const us_section *section, double x_m, bool right);

/* Level of the base at x; call only with has_base. */
double usi_section_base(const us_section *section, double x_m, bool right);

/* Height of the open contact that a wall at x leaves on the base where it is not keyed. */
double usi_section_open_contact(const us_section *section, double x_m);

/* Index of the soil that a small step from a point leads into: first to the `right`
 * or left, by nothing to speak of, then up (`above`) or down. Zones count; whether
 * the place is soil at all is not asked. */
size_t usi_section_soil_at(const us_section *section, usi_point at, bool right, bool above);

/* Area within the outline of a zone. */
double usi_zone_area(const usi_zone *zone);

/* True when x lies between the sides, seen from its right or left. */
bool usi_section_spans(const us_section *section, double x_m, bool right);

/* The bed on the downstream side, its inner end, and the upstream one. */
const usi_line *usi_section_downstream_bed(const us_section *section);
const usi_line *usi_section_upstream_bed(const us_section *section);
double usi_section_toe_x(const us_section *section);
double usi_section_heel_x(const us_section *section);

/* The largest extent of what was drawn: vertices, walls, piezometers apart. */
double usi_section_size(const us_section *section);

/* Levels that coincide: 1e-9 of the size. */
double usi_section_tolerance(const us_section *section);

#endif
