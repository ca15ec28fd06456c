/* A section as it was typed: SI values, each with the place it came from, none
 * of them compared with another yet. Filled by the reader, judged by
 * model/build.h. All memory belongs to whoever filled it. */
#ifndef USI_MODEL_RAW_H
#define USI_MODEL_RAW_H

#include "base/source.h"
#include "model/section.h"

/* A value that is absent or could not be read has `given` false. */
typedef struct usi_raw_number {
    bool given;
    bool word; /* the key's word stands in place of a number: `at_bed` */
    double si;
    usi_mark at;
} usi_raw_number;

typedef struct usi_raw_text {
    const char *text; /* NULL when absent */
    usi_mark at;
} usi_raw_text;

typedef struct usi_raw_flag {
    bool given;
    bool value;
    usi_mark at;
} usi_raw_flag;

typedef struct usi_raw_choice {
    bool given;
    int index; /* into the words of the key */
    usi_mark at;
} usi_raw_choice;

typedef struct usi_raw_point {
    bool given;
    usi_point at;
    usi_mark mark;
} usi_raw_point;

typedef struct usi_raw_line {
    bool given;
    bool word;  /* `none` */
    bool level; /* one level instead of points */
    size_t count;
    usi_raw_point *points;
    usi_mark at;
} usi_raw_line;

typedef struct usi_raw_list {
    bool given;
    size_t count;
    void *items;
    usi_mark at;
} usi_raw_list;

/* A stretch [x1, x2]. */
typedef struct usi_raw_stretch {
    bool given;
    usi_stretch at;
    usi_mark mark;
} usi_raw_stretch;

typedef struct usi_raw_stretches {
    bool given;
    size_t count;
    usi_raw_stretch *items;
    usi_mark at;
} usi_raw_stretches;

typedef struct usi_raw_names {
    bool given;
    size_t count;
    usi_raw_text *items;
    usi_mark at;
} usi_raw_names;

typedef struct usi_raw_numbers {
    bool given;
    size_t count;
    usi_raw_number *items;
    usi_mark at;
} usi_raw_numbers;

typedef struct usi_raw_units {
    bool given;
    usi_file_units units;
    usi_mark at;
} usi_raw_units;

typedef struct usi_raw_bed {
    usi_mark at;
    usi_raw_line upstream;
    usi_raw_line downstream;
} usi_raw_bed;

typedef struct usi_raw_base {
    usi_mark at;
    usi_raw_line level;
    usi_raw_number head;
    usi_raw_number thickness;
    usi_raw_number kv;
} usi_raw_base;

/* Each of these has line 0 where it is not there. */
typedef struct usi_raw_retained {
    usi_mark at;
    usi_raw_text by;
    usi_raw_number opening;
} usi_raw_retained;

typedef struct usi_raw_sheet {
    usi_mark at;
    usi_raw_number thickness;
    usi_raw_number width;
    usi_raw_number perimeter;
    usi_raw_number mass;
    usi_raw_number hole_below_top;
    usi_raw_number hole_diameter;
    usi_raw_choice hole_treatment; /* usi_treatment */
} usi_raw_sheet;

typedef struct usi_raw_corrosion {
    usi_mark at;
    usi_raw_choice environment; /* index into usi_environments */
    usi_raw_number life;
    usi_raw_number loss_per_side;
} usi_raw_corrosion;

typedef struct usi_raw_shaft {
    usi_mark at;
    usi_raw_number beta;
    usi_raw_number undrained_strength;
} usi_raw_shaft;

typedef struct usi_raw_bank {
    usi_mark at;
    usi_raw_number key_in;
} usi_raw_bank;

typedef struct usi_raw_banks {
    usi_mark at;
    usi_raw_bank left;
    usi_raw_bank right;
} usi_raw_banks;

typedef struct usi_raw_next_drop {
    usi_mark at;
    usi_raw_number upstream;
    usi_raw_number downstream;
} usi_raw_next_drop;

typedef struct usi_raw_require_creep {
    usi_mark at;
    usi_raw_choice rule; /* usi_creep_rule */
    usi_raw_number ratio;
} usi_raw_require_creep;

typedef struct usi_raw_structure {
    usi_mark at; /* line 0: no structure */
    usi_raw_line underside;
    usi_raw_line top;
    usi_raw_number unit_weight;
    usi_raw_numbers joints;
    usi_raw_stretches permeable;
    usi_raw_number permeable_opening;
    usi_raw_retained permeable_retained;
    usi_raw_stretches contact_lost;
} usi_raw_structure;

typedef struct usi_raw_interlock {
    usi_mark at; /* line 0: tight */
    usi_raw_number inverse_resistance;
    usi_raw_number spacing;
    usi_raw_number joint_width;
} usi_raw_interlock;

/* A slot between two levels, or a row of round holes. */
typedef struct usi_raw_opening {
    usi_mark at;
    usi_raw_number slot_from;
    usi_raw_number slot_to;
    usi_raw_number hole;
    usi_raw_number level;
    usi_raw_number spacing;
} usi_raw_opening;

typedef struct usi_raw_wall {
    usi_mark at;
    usi_raw_text name;
    usi_raw_number x;
    usi_raw_number top;
    usi_raw_number tip;
    usi_raw_flag keyed;
    usi_raw_sheet sheet;
    usi_raw_corrosion corrosion;
    usi_raw_number load;
    usi_raw_interlock interlock;
    usi_raw_list openings; /* of usi_raw_opening */
    usi_raw_number cap_gap;
    usi_raw_choice cap_fill; /* usi_cap_fill */
} usi_raw_wall;

typedef struct usi_raw_k_from {
    usi_mark at;
    usi_raw_number d10;
    usi_raw_number uniformity;
    usi_raw_number porosity;
    usi_raw_number temperature;
} usi_raw_k_from;

typedef struct usi_raw_soil {
    usi_mark at;
    usi_raw_text name;
    usi_raw_line top;
    usi_raw_number kh;
    usi_raw_k_from k_from;
    usi_raw_choice class; /* index into usi_conductivity_classes */
    usi_raw_number kv;
    usi_raw_number anisotropy;
    usi_raw_number unit_weight;
    usi_raw_number friction_angle;
    usi_raw_number d85;
    usi_raw_choice creep_class; /* index into usi_creep_classes */
    usi_raw_shaft shaft;
    usi_raw_number specific_storage;
} usi_raw_soil;

typedef struct usi_raw_zone {
    usi_mark at;
    usi_raw_text soil;
    usi_raw_line outline;
} usi_raw_zone;

typedef struct usi_raw_piezometer {
    usi_mark at;
    usi_raw_text name;
    usi_raw_point point;
    usi_raw_choice side; /* 0 left, 1 right */
} usi_raw_piezometer;

typedef struct usi_raw_side {
    usi_mark at; /* line 0: absent */
    usi_raw_number x;
    usi_raw_choice kind; /* 0 closed, 1 fixed_head */
    usi_raw_number head;
} usi_raw_side;

typedef struct usi_raw_sides {
    usi_mark at;
    usi_raw_side left;
    usi_raw_side right;
} usi_raw_sides;

typedef struct usi_raw_clogging {
    usi_mark at; /* line 0: clean */
    usi_raw_number thickness;
    usi_raw_number conductivity;
} usi_raw_clogging;

typedef struct usi_raw_drain {
    usi_mark at;
    usi_raw_text name;
    usi_raw_point point; /* of a row of weeps */
    usi_raw_point from;
    usi_raw_point to;
    usi_raw_number diameter;
    usi_raw_number spacing;
    usi_raw_number outlet; /* or `tailwater` */
    usi_raw_clogging clogging;
    usi_raw_choice state; /* 0 open, 1 shut */
    usi_raw_retained retained;
} usi_raw_drain;

typedef struct usi_raw_water {
    usi_mark at;
    usi_raw_text name;
    usi_raw_number upstream;
    usi_raw_number downstream;
    usi_raw_bed beds; /* line 0: as drawn */
    usi_raw_stretches seal;
    usi_raw_names shut;
    usi_raw_choice drains; /* `off` is all there is */
    usi_raw_number discharge;
    usi_raw_number return_period;
    usi_raw_line surface;
    usi_raw_text pressures_from;
} usi_raw_water;

typedef struct usi_raw_require {
    usi_mark at;
    usi_raw_number piping;
    usi_raw_number heave;
    usi_raw_number blow_up;
    usi_raw_require_creep creep;
    usi_raw_number retention;
    usi_raw_number banks;
    usi_raw_number wall_embedment;
    usi_raw_number corrosion;
    usi_raw_number wall_load;
    usi_raw_number uplift;
} usi_raw_require;

typedef struct usi_raw_partial {
    usi_mark at; /* line 0: absent */
    usi_raw_number dst;
    usi_raw_number stb;
} usi_raw_partial;

typedef struct usi_raw_limit_states {
    usi_mark at;
    usi_raw_partial hyd;
    usi_raw_partial upl;
} usi_raw_limit_states;

typedef struct usi_raw_leaking {
    usi_mark at; /* line 0: absent */
    usi_raw_number inverse_resistance;
} usi_raw_leaking;

typedef struct usi_raw_split {
    usi_mark at; /* line 0: absent */
    usi_raw_number width;
} usi_raw_split;

typedef struct usi_raw_as_built {
    usi_mark at;
    usi_raw_leaking leaking;
    usi_raw_split split;
} usi_raw_as_built;

typedef struct usi_raw_section {
    usi_source source;
    size_t errors_before; /* errors in the context before this section was read */
    char sha256[65];
    usi_mark at; /* of the whole section */
    usi_raw_text title;
    usi_raw_units units;
    usi_raw_choice flow_toward; /* 0 right, 1 left */
    usi_raw_number width;
    usi_raw_number water_unit_weight;
    usi_raw_bed bed;
    usi_raw_base base;
    usi_raw_structure structure;
    usi_raw_list walls; /* of usi_raw_wall */
    usi_raw_list soils; /* of usi_raw_soil */
    usi_raw_list zones; /* of usi_raw_zone */
    usi_raw_list piezometers;
    usi_raw_sides sides;
    usi_raw_list drains; /* of usi_raw_drain */
    usi_raw_list waters; /* of usi_raw_water */
    usi_raw_require require;
    usi_raw_limit_states limit_states;
    usi_raw_banks banks;
    usi_raw_next_drop next_drop;
    usi_raw_numbers lengths;
    usi_raw_as_built as_built;
} usi_raw_section;

#endif
