/* What the rules of model/check_*.c share. Each rule reads the raw section for
 * what was typed and where, and the section for the tidied values. */
#ifndef USI_MODEL_CHECK_H
#define USI_MODEL_CHECK_H

#include "base/number.h"
#include "model/raw.h"

/* A water case with beds of its own, judged as a section by itself. */
typedef struct usi_own {
    const us_section *whole; /* the section as drawn, sound */
    const usi_water *water;  /* the case there */
    bool left;               /* whose left bed is the case's own: the soil surface itself,
                                with nothing lying on it */
    bool right;
    char *undermined; /* the first thing found without ground, or NULL */
} usi_own;

typedef struct usi_check {
    us_context *context;
    const usi_raw_section *raw;
    us_section *section;
    usi_own *own; /* NULL: the section as drawn */
    double tolerance_m;
    bool shaped;  /* beds, base and structure could be read and are sound lines */
    bool ended;   /* where the beds end is known */
    bool walled;  /* every wall could be read and breaks no rule */
    bool layered; /* tops of soils are sound lines */
    bool zoned;   /* every zone could be read and breaks no rule */
    bool based;   /* the base, if any, lies below the surface everywhere */
    bool leaking; /* leaks and voids of the underside could be read and are sound */
    bool drained; /* every drain could be read and breaks no rule */
    bool failed;  /* memory ran short */
} usi_check;

/* Reports an error at `mark`; `hint` may be NULL. */
void usi_check_error(usi_check *check, const usi_mark *mark, const char *hint, const char *format,
                     ...) __attribute__((format(printf, 4, 5)));

/* Keeps what is undermined in a case with beds of its own: no error, but nothing can
 * be solved. The first sentence stays. */
void usi_check_undermine(usi_check *check, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Keeps a note with the section. */
void usi_check_note(usi_check *check, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* A value in the file's unit, with its name: "97.3 m". */
typedef struct usi_words {
    char text[USI_NUMBER_ROOM + 16];
} usi_words;

usi_words usi_words_length(const us_section *section, double value_m);
usi_words usi_words_conductivity(const us_section *section, double value_m_s);
usi_words usi_words_roughly(const us_section *section, double value_m_s); /* as above, 3 digits */
usi_words usi_words_grain(double size_m); /* in mm, whatever the file's unit */
usi_words usi_words_force(const us_section *section, double value_n_m);
usi_words usi_words_strength(const us_section *section, double value_pa);
usi_words usi_words_unit_weight(const us_section *section, double value_n_m3);

/* True when x, top and tip of a wall could be read. */
bool usi_check_has_wall(const usi_check *check, size_t index);

/* True when a side is given and could be read. */
bool usi_check_has_side(const usi_raw_side *side);

/* Where a coordinate differs by less than the tolerance it becomes the same. */
void usi_check_snap(usi_check *check);

/* Reports the first fault of a line; true when there is none. */
bool usi_check_line(usi_check *check, const usi_raw_line *raw, const usi_line *line);

/* Outlines of zones, and the soils they name. */
void usi_check_zones(usi_check *check);

/* What of soils and zones shows in the section. */
void usi_check_shares(usi_check *check);

/* Beds, base, underside and top, before anything is known of their ends. */
void usi_check_lines(usi_check *check);

/* Ends of the beds, then each line cut to the part that counts. */
void usi_check_ends(usi_check *check);

/* Where the surface steps at an end, walls must close the soil. */
void usi_check_steps(usi_check *check);

/* Sides, and soil left between base and surface everywhere. */
void usi_check_ground(usi_check *check);

void usi_check_names(usi_check *check);
void usi_check_walls(usi_check *check);
void usi_check_soils(usi_check *check);

/* Where kh and kv of one soil come from, and that they are sane. */
void usi_check_conductivity(usi_check *check, size_t index);

/* What conductivities known by class alone do to the results. */
void usi_check_classes(usi_check *check);

/* True when a stretch has length; else after an error. */
bool usi_check_stretch(usi_check *check, const usi_raw_stretch *raw, const usi_stretch *stretch);

/* By growing x. */
void usi_stretches_sort(usi_stretch *stretches, size_t count);

/* True when a wall at x parts the soil at and below a level there. */
bool usi_check_parts(const us_section *section, double x_m, double level_m);

/* Water below the base and behind the sides, leaks and voids of the underside. */
void usi_check_edges(usi_check *check);

void usi_check_drains(usi_check *check);

/* Partial factors: that they add to safety. */
void usi_check_limit_states(usi_check *check);

/* What lies along the underside may not overlap, nor touch where heads differ. */
void usi_check_meetings(usi_check *check);

void usi_check_waters(usi_check *check);

/* Sheets, rust, friction, holes, what retains the soil. */
void usi_check_works(usi_check *check);

/* Joints, water over the structure, and what checks of uplift need. */
void usi_check_uplift(usi_check *check);

/* Gaps under the cap lower the tops of walls. */
void usi_check_cap_gaps(usi_check *check);

/* Interlocks and openings, and the panes that they make of walls. */
void usi_check_openings(usi_check *check);

/* Beds of water cases: that they are sound lines. */
void usi_check_own_beds(usi_check *check);
void usi_check_piezometers(usi_check *check);

#endif
