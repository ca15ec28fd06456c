/* Every piece of line of a section in a window, with the soil on its two sides. */
#ifndef USI_MODEL_SURVEY_H
#define USI_MODEL_SURVEY_H

#include "model/plan.h"
#include "model/strand.h"

/* What a piece is part of: bits. */
enum {
    USI_ROLE_LEFT_BED = 1U << 0U,
    USI_ROLE_RIGHT_BED = 1U << 1U,
    USI_ROLE_STRUCTURE = 1U << 2U,
    USI_ROLE_BASE = 1U << 3U,
    USI_ROLE_LEFT_SIDE = 1U << 4U,
    USI_ROLE_RIGHT_SIDE = 1U << 5U,
    USI_ROLE_WALL = 1U << 6U,
    USI_ROLE_GROUND = 1U << 7U, /* layer tops and outlines of zones */
    USI_ROLE_DRAIN = 1U << 8U   /* a drain inside the soil */
};

/* A piece from a to b, which goes to the right or straight up. */
typedef struct usi_piece {
    usi_point a;
    usi_point b;
    unsigned roles;
    int left; /* index of the soil on the left hand, -1 where there is none */
    int right;
} usi_piece;

/* Free with usi_survey_clear(). */
typedef struct usi_survey {
    size_t piece_count;
    usi_piece *pieces;     /* by growing a, then b */
    double *soil_areas_m2; /* of each soil in the window */
    double *zone_areas_m2; /* of each zone, as far as it lies in the soil of the window;
                              a later zone on it does not count */
} usi_survey;

/* US_ERROR_INPUT, reported without a place, when the lines cross too often. */
us_status usi_survey_make(us_context *context, const us_section *section,
                          const usi_plan_window *window, usi_survey *survey);

void usi_survey_clear(usi_survey *survey);

/* A window around all that the section draws, within its sides. */
usi_plan_window usi_survey_around(const us_section *section);

/* Bits that strands of the section toggle: layer i of the soils has bit i, zone k
 * has bit soil_count + k, then come these two. */
int usi_survey_surface_bit(const us_section *section);
int usi_survey_base_bit(const us_section *section);

/* Lays the lines of the section out (model/survey_lines.c). */
void usi_survey_gather(const us_section *section, const usi_plan_window *window,
                       usi_strands *strands);

#endif
